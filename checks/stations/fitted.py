"""A part that was fitted today: what is checked of it before it is used, made before or not."""

from collections.abc import Mapping
from typing import Final

from checks.check import Situation, replacements
from checks.record import Attachment

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
    "bus": _OF_BUS,
    "receptacle": _OF_RECEPTACLE,
    "charger": _OF_CHARGER,
}


def owed(s: Situation) -> frozenset[str]:
    """Return the checks that parts fitted at a charging point owe, and that were not made since.

    Parameters
    ----------
    s : Situation
        The charging point, with every repair of this visit.
    """
    return frozenset(
        check
        for replaced in replacements(s.visit)
        if s.subject in replaced.subjects
        for part in replaced.parts
        for check in _of(part, s)
        if _made(check, s) < replaced.number
    )


def _of(part: str, s: Situation) -> tuple[str, ...]:
    is_wired = part == "charger" and s.point.attachment is Attachment.HARD_WIRED
    return (*OWED[part], *(_OF_TERMINALS if is_wired else ()))


def _made(check: str, s: Situation) -> int:
    entry = s.entry(check)
    return 0 if entry is None else entry.number
