"""A place whose surface is watched under load, and what it is held against."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from checks.check import Judge, Situation
from checks.codes.ampacity import termination_column_c
from checks.electrical.thermography import AMBIENT_PROBABLE_K, LEVELS, LIKE_POSSIBLE_K
from checks.errors import OutOfTableError
from checks.source import judgement
from checks.stations.circuit_facts import breaker_a
from checks.verdict import Force, Limit, at_most

SURFACE: Final = judgement("the contact behind a surface is hotter than the surface")
ALONE: Final = "a cool surface does not show that the contact behind it is sound"


@dataclass(frozen=True)
class Place:
    """A place whose surface is watched.

    Parameters
    ----------
    check : str
        The check's id.
    part : str
        What is measured, in words.
    is_backed : callable
        Whether other entries show the contact sound, so that a cool surface may be believed.
    settles : str
        What those entries are.
    damage : callable
        The judge of what is seen there: a danger there ends every test.
    is_grasped : bool
        Whether a hand takes hold of it.
    has_terminals : bool
        Whether terminals of the branch circuit lie behind it, with a temperature rating.
    has_like_part : bool
        Whether a like part, as warm as this one should be, is read beside it.
    """

    check: str
    part: str
    is_backed: Callable[[Situation], bool]
    settles: str
    damage: Judge
    is_grasped: bool = False
    has_terminals: bool = False
    has_like_part: bool = False


def place_limits(s: Situation, place: Place) -> tuple[Limit, ...]:
    """Return what the surface of a place is held against, the rise first."""
    found = [
        at_most(AMBIENT_PROBABLE_K, "K", Force.RECOMMENDATION, LEVELS, of="rise at full current"),
        *termination_limits(s, place),
    ]
    if place.has_like_part:
        found.append(like_limit())
    return tuple(found)


def like_limit() -> Limit:
    """Return how much hotter than a like part a surface may be."""
    return at_most(
        LIKE_POSSIBLE_K, "K", Force.RECOMMENDATION, LEVELS, of="over a like part, same load"
    )


def termination_limits(s: Situation, place: Place) -> tuple[Limit, ...]:
    """Return the rating of the terminals behind the surface, once breaker and marking are known."""
    rated_a, marked = breaker_a(s), s.choice("run.conductor.terminals")
    if not place.has_terminals or rated_a is None:
        return ()
    marked_c = int(marked) if marked is not None and marked.isdigit() else None
    try:
        rule = termination_column_c(s.code, rated_a, marked_c)
    except OutOfTableError:
        return ()
    of = "terminals, in the end at full current"
    return (at_most(float(rule.value), "°C", Force.CODE_RULE, rule.source, of=of),)
