"""What may be tested now: never a part that is wet or burnt, never behind an unknown trip."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from checks.causes.clue import View
from checks.check import Check, CircuitState, Measurement
from checks.record import Instrument
from checks.stations.all import BY_ID
from checks.verdict import Verdict

LIVE: Final = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
SAFEST_FIRST: Final = (CircuitState.ANY, CircuitState.NO_CURRENT, CircuitState.DEAD, *LIVE)

# What keeps voltage off, wherever on the path it was seen.
BURNT: Final = (
    "panel.condition.has_heat_marks",
    "panel.terminals.has_heat_marks",
    "breaker.condition.has_heat_marks",
    "outlet.damage.has_heat_marks",
    "charger.damage.has_heat_marks",
    "connector.pins.has_burn_marks",
    "adapter.pins.has_burn_marks",
    "vehicle.inlet_condition.has_burn_marks",
)
WET: Final = (
    "panel.condition.is_wet",
    "outlet.damage.is_wet",
    "charger.damage.has_water",
)
DAMAGED: Final = ("breaker.condition.is_damaged", "charger.damage.is_cable_cut")
BURN_PLACES: Final = ("terminal", "contact", "cord", "even")
TRIPPED: Final = ("at_once", "minutes", "hours", "random")
INSULATION: Final = "run.insulation"
UNTESTED: Final = "It tripped, and the circuit's insulation is not proved: the circuit stays off"


def bars(view: View) -> tuple[str, ...]:
    """Return why nothing may be tested on a live circuit.

    Parameters
    ----------
    view : View
        What was found.

    Returns
    -------
    tuple of str
        A reason each, in words; none where a live circuit may be tested.

    References
    ----------
    Common practice, no source: a wet or burnt part gets no voltage, and a trip that nobody
    understands is not closed onto.
    """
    s = view.situation.as_it_was  # what was seen on an old part stands until the new one is seen
    reasons = []
    is_burnt = any(s.yes(r) for r in BURNT)
    if is_burnt or s.choice("outlet.burn_pattern.place") in BURN_PLACES:
        reasons.append("A part is burnt: no voltage before it is replaced")
    if any(s.yes(r) for r in WET):
        reasons.append("A part is wet: no voltage before it is dry and its insulation tested")
    if any(s.yes(r) for r in DAMAGED):
        reasons.append("A part is damaged: no voltage before it is replaced")
    reasons += _unknown_trip(view)
    return tuple(reasons)


def _unknown_trip(view: View) -> list[str]:
    s = view.situation.as_it_was
    has_tripped = s.choice("breaker.trip_history.when") in TRIPPED
    has_tripped |= s.yes("breaker.condition.is_tripped_unknown") is True
    opened = s.choice("outlet.ground_fault_history.device") in ("upstream", "charger", "both")
    if not has_tripped and not opened:
        return []
    kind = s.choice("breaker.trip_history.kind")
    if has_tripped and not opened and kind not in ("overcurrent", "ground_fault"):
        return ["It tripped, and the kind of trip is not known: the circuit stays off"]
    tested = view.verdict(INSULATION)
    is_tested = s.choice("run.insulation.place") != "electronic"  # ohms prove no insulation
    if not is_tested or tested not in (Verdict.WITHIN, Verdict.BORDERLINE):
        return [UNTESTED]
    return []


def has_instruments(check: Check, kit: Sequence[Instrument]) -> bool:
    """Return whether every reading a check asks for can be taken with the instruments at hand.

    Parameters
    ----------
    check : Check
        What is to be made.
    kit : sequence of Instrument
        The instruments of the visit.

    Returns
    -------
    bool
        False where one reading that must be taken, or may have to be by another answer, has no
        instrument of its kind and category.

    References
    ----------
    IEC 61010-2-030, measurement categories.
    """
    return all(
        any(i.kind in asked.instruments and i.category.covers(asked.category) for i in kit)
        for asked in check.inputs
        if isinstance(asked, Measurement) and asked.instruments and not asked.optional
    )


@dataclass(frozen=True)
class Way:
    """What must be made before a check.

    Parameters
    ----------
    first : tuple of str
        Check ids, in their order along the path.
    is_blocked : bool
        One of them is outside: it has to be mended first.
    """

    first: tuple[str, ...]
    is_blocked: bool


def way_to(check: Check, view: View, waiting: Mapping[CircuitState, Sequence[str]]) -> Way:
    """Return what stands between now and a check.

    Parameters
    ----------
    check : Check
        What is to be made.
    view : View
        The judgements so far.
    waiting : Mapping
        By circuit state, the checks that keep it shut or come first in it.

    Returns
    -------
    Way
        What comes first, and whether one of it is outside.

    References
    ----------
    The order of the circuit states: dead and proved, energised, under load.
    """
    open_ones = [c for c in check.needs if _is_open(view, c)] + list(waiting.get(check.state, ()))
    ordered = tuple(c for c in BY_ID if c in open_ones and c != check.id)
    is_blocked = any(view.verdict(c) is Verdict.OUTSIDE for c in open_ones if c != check.id)
    return Way(ordered, is_blocked)


def _is_open(view: View, check: str) -> bool:
    return view.verdict(check) in (Verdict.NOT_MEASURED, Verdict.OUTSIDE)
