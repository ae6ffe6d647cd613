"""A part that was replaced: what was within before speaks of one that is gone."""

from collections.abc import Mapping
from typing import Final

from checks.check import Check, Situation
from checks.path import Station
from checks.record import Chosen, Visit
from checks.stations import symptoms
from checks.stations.repair import CHECK

_PARTS: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": ("breaker",),
    "bus": ("breaker", "bus"),
    "receptacle": ("receptacle",),
    "both": ("breaker", "receptacle"),
    "charger": ("charger",),
}
_STATIONS: Final[Mapping[str, tuple[Station, ...]]] = {
    "breaker": (Station.BREAKER,),
    "bus": (),
    "receptacle": (Station.OUTLET,),
    "charger": (Station.CHARGER, Station.CONNECTOR),
}
# Elsewhere on the path, and of the same part or joined to it.
_BESIDE: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": (
        "panel.breaker_listed",
        "panel.interrupting",
        "outlet.ground_fault",
        "outlet.ground_fault_trip",
    ),
    "bus": (
        "panel.rating",
        "panel.breaker_listed",
        "panel.interrupting",
        "panel.condition",
        "panel.terminals",
        "panel.neutral_bond",
    ),
    "receptacle": ("run.polarity", "run.protective_conductor"),
    "charger": (),
}
_SAID: Final[Mapping[str, str]] = {
    "breaker": "The breaker was replaced since this was checked: check it again",
    "bus": "The panel's bus was replaced since this was checked: check it again",
    "receptacle": "The receptacle was replaced since this was checked: check it again",
    "charger": "The charger was replaced since this was checked: check it again",
}


def replaced_since(check: Check, s: Situation) -> str:
    """Say that what was checked is gone, by the repair; empty where it is still there.

    A symptom is about the fault, and what proves a circuit dead is made anew by each state.

    Parameters
    ----------
    check : Check
        What was checked.
    s : Situation
        Where.
    """
    parts = [p for p in _SAID if check.station in _STATIONS[p] or check.id in _BESIDE[p]]
    made = s.entry(check.id)
    if not parts or made is None or check.proves or check.id in symptoms.IDS:
        return ""
    for here in s.points:
        here.entry(CHECK)  # what is judged rests on it from now on
        new = _replaced_after(s.visit, here.subject, made.number)
        for part in parts:
            if part in new:
                return _SAID[part]
    return ""


def _replaced_after(visit: Visit, subject: str, number: int) -> frozenset[str]:
    """Return what every repair of a charging point replaced after an entry."""
    new: set[str] = set()
    for entry in visit.entries:
        if (entry.check, entry.subject) == (CHECK, subject) and entry.number > number:
            said = entry.answer("replaced")
            new |= set(_PARTS.get(said.option, ())) if isinstance(said, Chosen) else set()
    return frozenset(new)
