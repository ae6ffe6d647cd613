"""The next best test: most expected information a minute, the safest state first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log2
from typing import Final

from checks.causes.bayes import Column, Found, Table, factors, normalized
from checks.causes.clue import Clue, View
from checks.causes.clues.symptoms import SURROUNDINGS, is_ground_fault
from checks.causes.safety import (
    INSULATION,
    SAFEST_FIRST,
    UNTESTED,
    Way,
    bars,
    has_instruments,
    way_to,
)
from checks.check import LIVE_STATES, Check, CircuitState, left_out
from checks.record import SITE, StateEntry, VisitKind
from checks.stations.all import BY_ID
from checks.verdict import Verdict

LEAST_BITS: Final = 0.03  # below this a test is not worth its minutes: own judgement
NEAR_RATIO: Final = 0.5  # a test this near to the best rate is preferred when its state is safer
ASKED_FIRST: Final = (SURROUNDINGS, "outlet.damage")  # of a ground fault: water is asked and seen
ASK_MIN: Final = 2
LOOK_MIN: Final = 3

# How long a check takes, where it is not looking or asking; own judgement. [min]
MINUTES: Final[Mapping[str, int]] = {
    "run.dedicated": 8,
    "run.length": 5,
    "run.insulation": 10,
    "run.insulation_alone": 8,
    "run.protective_conductor": 6,
    "run.polarity": 6,
    "breaker.lock_and_tag": 3,
    "breaker.absence_of_voltage": 4,
    "breaker.joints": 8,
    "breaker.terminal_torque": 8,
    "breaker.temperature": 35,
    "panel.neutral_bond": 8,
    "panel.terminals": 6,
    "panel.terminal_torque": 8,
    "outlet.terminal_torque": 8,
    "outlet.termination": 6,
    "outlet.retention": 4,
    "outlet.no_load_voltage": 4,
    "outlet.loaded_voltage": 10,
    "outlet.temperature": 35,
    "outlet.ground_fault_trip": 5,
    "charger.pilot_voltage": 5,
    "charger.offered_current": 3,
    "charger.contactor_open": 3,
    "charger.ground_monitor": 4,
    "connector.seating": 4,
    "connector.temperature": 35,
    "adapter.seating": 4,
    "adapter.temperature": 35,
    "vehicle.power": 4,
    "service.supply_voltage": 6,
}


def minutes_of(check: Check) -> int:
    """Return how long a check takes. [min]."""
    told = check.kinds == (VisitKind.SERVICE_CALL,)
    return MINUTES.get(check.id, ASK_MIN if told else LOOK_MIN)


@dataclass(frozen=True)
class Candidate:
    """A test that may be made now.

    Parameters
    ----------
    check : Check
        What is made.
    clue : Clue
        What it tells most by.
    bits : float
        Expected information; of a test that opens the way to another, of that one. [bit]
    way : Way
        What comes first.
    minutes : int
        With what comes first. [min]
    """

    check: Check
    clue: Clue
    bits: float
    way: Way
    minutes: int

    @property
    def rate(self) -> float:
        """Expected information a minute. [bit/min]."""
        return self.bits / self.minutes


def candidates(
    chart: Table,
    found: Found,
    masses: Column,
    view: View,
    waiting: Mapping[CircuitState, Sequence[str]],
) -> tuple[Candidate, ...]:
    """Return the tests that may be made now and tell something, in the library's order.

    Parameters
    ----------
    chart : Table
        The causes.
    found : Mapping
        Outcome of each clue so far.
    masses : tuple of float
        Shares of none and of each cause now, from `one_or_none`. [-]
    view : View
        Entries and judgements so far.
    waiting : Mapping
        By circuit state, what keeps it shut or comes first in it.

    Returns
    -------
    tuple of Candidate
        One a check: by the clue that tells most.

    References
    ----------
    Expected information: C. E. Shannon, 1948; D. V. Lindley, 1956 (from memory).
    """
    why_shut = tuple(bars(view))
    best: dict[str, Candidate] = {}
    for clue in chart.clues.values():
        if not clue.ahead(found.get(clue.id)):
            continue
        check = aim = _asked_for(clue, view, bool(why_shut))
        if aim is None and why_shut == (UNTESTED,) and _may_be_made(BY_ID[INSULATION], view, True):
            check, aim = BY_ID[INSULATION], _asked_for(clue, view, False)
        if check is None or aim is None:
            continue
        way, told_by = way_to(aim, view, waiting), clue
        if way.is_blocked or _is_given_up(way, view):
            continue
        bits = expected_bits(chart, found, clue, masses)
        minutes = minutes_of(aim) + sum(minutes_of(BY_ID[c]) for c in way.first)
        if check is not aim:
            way = way_to(check, view, waiting)
            told_by = next(c for c in chart.clues.values() if c.check == INSULATION)
        if check.id not in best or bits > best[check.id].bits:
            best[check.id] = Candidate(check, told_by, bits, way, minutes)
    return tuple(c for c in best.values() if c.bits >= LEAST_BITS)


def _is_given_up(way: Way, view: View) -> bool:
    """Return whether what comes first was left out, since it was made dead where that counts."""
    s = view.situation
    if not any(view.verdict(c) is Verdict.NOT_MEASURED and s.entry(c) for c in way.first):
        return False
    left = {e.check: e.number for e in left_out(s.visit).values() if _is_here(e.subject, view)}
    dead = max((e.number for e in s.visit.states if _is_dead(e, s.subject)), default=0)
    switched = {
        c: dead if BY_ID[c].proves or BY_ID[c].state in LIVE_STATES else 0 for c in way.first
    }
    return any(left.get(c, 0) > switched[c] for c in way.first)


def _is_here(subject: str, view: View) -> bool:
    return subject in (view.situation.subject, view.situation.panel.id, SITE)


def _is_dead(made: StateEntry, point: str) -> bool:
    return made.point == point and made.state == CircuitState.DEAD.value


def asked_first(chart: Table, found: Found, masses: Column, view: View) -> Candidate | None:
    """Return what is asked or looked at before a tool is taken out, once a ground fault is told.

    Parameters
    ----------
    chart, found, masses, view
        As of `candidates`.

    Returns
    -------
    Candidate or None
        None where no ground fault is told, or all of it is asked.

    References
    ----------
    Common practice, no source: water is what opens most devices outdoors, and it is seen.
    """
    if not is_ground_fault(view):
        return None
    for check in (BY_ID[c] for c in ASKED_FIRST if _may_be_made(BY_ID[c], view, False)):
        clues = [c for c in chart.clues.values() if c.check == check.id]
        ahead = [c for c in clues if c.ahead(found.get(c.id))]
        if not ahead:  # what it tells was found on a part that was replaced since
            continue
        bits = {c.id: expected_bits(chart, found, c, masses) for c in ahead}
        clue = max(ahead, key=lambda c: bits[c.id])
        return Candidate(check, clue, bits[clue.id], Way((), False), minutes_of(check))
    return None


def _asked_for(clue: Clue, view: View, is_live_shut: bool) -> Check | None:
    """Return the check that a clue waits for: its own, then what its reading rests on."""
    made = view.situation.entry(clue.check)
    if made is not None and made.not_done is not None:
        return None
    waits_for = (clue.check,) if made is None else clue.rests_on
    checks = (BY_ID[name] for name in waits_for)
    return next((c for c in checks if _may_be_made(c, view, is_live_shut)), None)


def _may_be_made(check: Check, view: View, is_live_shut: bool) -> bool:
    """Return whether a check belongs here, is still to be made, and may be made now."""
    if is_live_shut and check.state in LIVE_STATES:
        return False
    if view.verdict(check.id) is not Verdict.NOT_MEASURED:
        return False
    if view.situation.entry(check.id) is not None:
        return False  # left out, or made and waiting for another entry
    return has_instruments(check, view.situation.visit.instruments)


def choose(offered: Sequence[Candidate]) -> Candidate | None:
    """Return the best: of those near the best rate the one in the safest state.

    Parameters
    ----------
    offered : sequence of Candidate
        From `candidates`.

    Returns
    -------
    Candidate or None
        None where nothing is offered.
    """
    if not offered:
        return None
    top = max(c.rate for c in offered)
    near = [c for c in offered if c.rate >= min(top, NEAR_RATIO * top)]
    return min(near, key=lambda c: (SAFEST_FIRST.index(c.check.state), -c.rate))


def one_or_none(chart: Table, masses: Column) -> Column:
    """Return what matters for the next test: the shares of none and of each cause alone."""
    return normalized(masses[: chart.alone])


def after(
    chart: Table, found: Found, clue: Clue, masses: Column
) -> dict[str, tuple[float, Column]]:
    """Return how likely each outcome of a clue is, and every share then.

    Parameters
    ----------
    chart : Table
        The causes.
    found : Mapping
        Outcome of each clue so far.
    clue : Clue
        What is looked at next.
    masses : tuple of float
        Shares of none and of each cause now, from `one_or_none`. [-]

    Returns
    -------
    dict
        By outcome that it may still be read as: its chance, and the shares after it. [-]

    References
    ----------
    Bayes' rule.
    """
    own = {c: o for c, o in found.items() if chart.clues[c].kind == clue.kind}
    ahead = clue.ahead(found.get(clue.id))
    chances = [
        [
            outcome.usual * ratio
            for ratio in factors(chart, own | {clue.id: outcome.value})[clue.kind][: len(masses)]
        ]
        for outcome in ahead
    ]
    whole = [sum(of) for of in zip(*chances, strict=True)]
    found_after = {}
    for outcome, of in zip(ahead, chances, strict=True):
        mixed = tuple(m * c / w for m, c, w in zip(masses, of, whole, strict=True))
        found_after[outcome.value] = (sum(mixed), normalized(mixed))
    return found_after


def expected_bits(chart: Table, found: Found, clue: Clue, masses: Column) -> float:
    """Return how much a clue is expected to tell about the causes.

    Parameters
    ----------
    chart : Table
        The causes.
    found : Mapping
        Outcome of each clue so far.
    clue : Clue
        What is looked at next.
    masses : tuple of float
        Shares of none and of each cause now. [-]

    Returns
    -------
    float
        Expected fall of the uncertainty about which cause is at work. [bit]

    References
    ----------
    C. E. Shannon, A Mathematical Theory of Communication, 1948, section 6 (from memory).
    """
    ahead = after(chart, found, clue, masses).values()
    return entropy_bits(masses) - sum(chance * entropy_bits(shares) for chance, shares in ahead)


def entropy_bits(masses: Column) -> float:
    """Return the uncertainty about which of several is true.

    Examples
    --------
    >>> entropy_bits((0.0, 0.5, 0.5))
    1.0
    """
    return -sum(p * log2(p) for p in masses if p > 0)
