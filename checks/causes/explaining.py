"""Which of the symptoms that were told are made by causes that are known."""

from collections.abc import Collection
from typing import Final

from checks.causes.cause import Cause, Evidence
from checks.causes.clue import Clue, View
from checks.causes.clues import CLUES
from checks.causes.clues.symptoms import BEHAVIOR, OPENED, TRIPS, is_left_dark
from checks.causes.library import CAUSES

SAID_RATIO: Final = 1.1  # less than this is not worth a word
SYMPTOMS: Final = (
    "breaker.trip_history",
    "outlet.ground_fault_history",
    "outlet.burn_pattern",
    "charger.behavior",
    "connector.release",
)
# What only says more of a symptom: when it happens, and to whom.
TOLD_BESIDE: Final = ("surroundings.circumstances", "vehicle.trial")


def explained(view: View, causes: Collection[str]) -> tuple[str, ...]:
    """Return the checks of which all that was told is explained.

    Parameters
    ----------
    view : View
        A charging point as it was found.
    causes : collection of str
        The causes that are known to be at work.

    Returns
    -------
    tuple of str
        Each symptom of which every sign is made by one of the causes; and what was told beside
        them, once no symptom is left over, where it speaks against none of the causes.
    """
    known = [c for c in CAUSES if c.id in causes]
    signs: dict[str, list[bool]] = {}
    for clue in CLUES:
        is_told = clue.check in (*SYMPTOMS, *TOLD_BESIDE)
        outcome = clue.read(view) if is_told else None
        if outcome is not None and outcome != clue.normal:
            fits = any(_fits(cause, clue, outcome) for cause in known)
            signs.setdefault(clue.check, []).append(fits)
    if is_left_dark(view):  # what explains that the device opened explains that it is dark
        opened = [fits for c in (OPENED, TRIPS) for fits in signs.get(c, [])]
        signs.setdefault(BEHAVIOR, []).append(all(opened))
    is_whole = all(all(signs[c]) for c in SYMPTOMS if c in signs)
    return tuple(c for c, fits in signs.items() if all(fits) and (is_whole or c in SYMPTOMS))


def shown_by(cause: str) -> frozenset[str]:
    """Return the checks that a cause shows in, beside the symptoms: where a bad sign speaks for it.

    Parameters
    ----------
    cause : str
        Its identity.
    """
    known = next(c for c in CAUSES if c.id == cause)
    telling = (*SYMPTOMS, *TOLD_BESIDE)
    said = {e.clue for e in known.evidence if e.ratio > SAID_RATIO and not _is_normal(e)}
    return frozenset(c.check for c in CLUES if c.id in said and c.check not in telling)


def _is_normal(one: Evidence) -> bool:
    return any(c.id == one.clue and c.normal == one.outcome for c in CLUES)


def _fits(cause: Cause, clue: Clue, outcome: str) -> bool:
    """Return whether a cause makes a sign of a fault, or leaves room for what only describes it."""
    told = cause.says(clue.id).get(outcome)
    if clue.check in SYMPTOMS and clue.normal:
        return told is not None and told.ratio > SAID_RATIO
    return told is None or told.ratio > 1 / SAID_RATIO
