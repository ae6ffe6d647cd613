"""A part that was fitted today: what is checked of it before it is used, made before or not."""

from collections.abc import Mapping
from typing import Final

from checks.check import Situation
from checks.record import Attachment, Chosen
from checks.stations.repair import CHECK

TRIP_TEST: Final = "outlet.ground_fault_trip"
# Common practice, no source: what a new part is commissioned by, as at a first fitting.
_OF_TERMINALS: Final = ("outlet.terminal_torque", "run.polarity", "run.protective_conductor")
_OF_BREAKER: Final = (
    "panel.breaker_listed",
    "breaker.rating",
    "breaker.condition",
    "breaker.terminal_torque",
    "outlet.ground_fault",
    "outlet.no_load_voltage",
    TRIP_TEST,
)
_OF_BUS: Final = (
    "panel.rating",
    "panel.interrupting",
    "panel.condition",
    "panel.terminals",
    "panel.neutral_bond",
)
_OF_RECEPTACLE: Final = (
    "outlet.configuration",
    "outlet.damage",
    "outlet.mounting",
    "outlet.cover",
    *_OF_TERMINALS,
    "outlet.retention",
    "outlet.ground_fault",
    "outlet.no_load_voltage",
    TRIP_TEST,
)
_OF_CHARGER: Final = (
    "charger.nameplate",
    "charger.configuration",
    "charger.damage",
    "charger.enclosure_voltage",
    "charger.contactor_open",
    "charger.offered_current",
    "connector.pins",
    "connector.seating",
)
OWED: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": _OF_BREAKER,
    "bus": (*_OF_BREAKER, *_OF_BUS),
    "receptacle": _OF_RECEPTACLE,
    "both": (*_OF_BREAKER, *_OF_RECEPTACLE),
    "charger": _OF_CHARGER,
}


def owed(s: Situation) -> frozenset[str]:
    """Return the checks that parts fitted at a charging point owe, and that were not made since.

    Parameters
    ----------
    s : Situation
        The charging point, with every repair of this visit.
    """
    found: set[str] = set()
    beside = {p.id for p in s.visit.points if p.panel == s.panel.id}
    for entry in s.visit.entries:
        said = entry.answer("replaced") if entry.check == CHECK else None
        if not isinstance(said, Chosen):
            continue
        is_of_all = said.option == "bus" and entry.subject in beside
        if is_of_all or entry.subject == s.subject:
            found |= {c for c in _of(said.option, s) if _made(c, s) < entry.number}
    return frozenset(found)


def _of(part: str, s: Situation) -> tuple[str, ...]:
    is_wired = part == "charger" and s.point.attachment is Attachment.HARD_WIRED
    return (*OWED.get(part, ()), *(_OF_TERMINALS if is_wired else ()))


def _made(check: str, s: Situation) -> int:
    entry = s.entry(check)
    return 0 if entry is None else entry.number
