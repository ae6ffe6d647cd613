"""What may be tested now: never a part that is wet or burnt, never behind an unknown trip."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from checks.causes.clue import View
from checks.check import LIVE_STATES, REPAIR, Check, CircuitState, Measurement
from checks.record import Instrument
from checks.stations.all import BY_ID
from checks.verdict import Verdict

SAFEST_FIRST: Final = (CircuitState.ANY, CircuitState.NO_CURRENT, CircuitState.DEAD, *LIVE_STATES)

# What keeps voltage off, wherever on the path it was seen.
BURNT: Final = (
    "panel.condition.has_heat_marks",
    "panel.terminals.has_heat_marks",
    "breaker.condition.has_heat_marks",
    "breaker.joints.is_lug_burnt",
    "breaker.joints.is_stab_burnt",
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
DAMAGED: Final = (
    "breaker.condition.is_damaged",
    "breaker.joints.is_rocking",
    "breaker.joints.is_worn",
    "charger.damage.is_cable_cut",
)
BURN_PLACES: Final = ("terminal", "contact", "cord", "even")
TRIPPED: Final = ("at_once", "minutes", "hours", "random")
INSULATION: Final = "run.insulation"
UNKNOWN: Final = "It tripped, and the kind of trip is not known: the circuit stays off"
PROVED: Final = (Verdict.WITHIN, Verdict.BORDERLINE)
UNTESTED: Final = "It tripped, and the circuit's insulation is not proved: the circuit stays off"


def bars(view: View) -> dict[str, tuple[str, ...]]:
    """Return why nothing may be tested on a live circuit.

    Parameters
    ----------
    view : View
        What was found.

    Returns
    -------
    dict
        Each reason in words, with the checks that it was found at; none where a live circuit may be
        tested.

    References
    ----------
    Common practice, no source: a wet or burnt part gets no voltage, and a trip that nobody
    understands is not closed onto. What was told of a fault bars until a repair after it says what
    became of it, and a burn until it is mended; what was seen bars until it is seen sound. What is
    asked no more at this installation bars nothing: that a correction set it aside is told.
    """
    s = view.situation.as_it_was  # what was seen on an old part stands until the new one is seen
    is_told_burnt = s.choice("outlet.burn_pattern.place") in BURN_PLACES and not (
        s.choice(f"{REPAIR}.outcome") == "mended" and _is_explained(view, "outlet.burn_pattern")
    )
    told = ("outlet.burn_pattern",) if is_told_burnt and view.asks("outlet.burn_pattern") else ()
    burnt = (*_seen(view, BURNT), *told)
    reasons = {
        "A part is burnt: no voltage before it is replaced": burnt,
        "A part is wet: no voltage before it is dry and its insulation tested": _seen(view, WET),
        "A part is damaged: no voltage before it is replaced": _seen(view, DAMAGED),
        **_unknown_trip(view),
    }
    return {reason: checks for reason, checks in reasons.items() if checks}


def _seen(view: View, references: Sequence[str]) -> tuple[str, ...]:
    """Return the checks that are asked here and were answered yes."""
    said = view.situation.as_it_was
    at = ((r.rpartition(".")[0], r) for r in references)
    return tuple(check for check, r in at if view.asks(check) and said.yes(r))


def _is_explained(view: View, check: str) -> bool:
    """Whether the repair says what became of what a check tells, and was recorded after it."""
    repair, told = (view.situation.as_it_was.entry(c) for c in (REPAIR, check))
    is_sound = view.verdict(REPAIR) is Verdict.WITHIN
    return is_sound and repair is not None and (told is None or told.number < repair.number)


def _unknown_trip(view: View) -> dict[str, tuple[str, ...]]:
    s = view.situation.as_it_was
    has_tripped = {
        "breaker.trip_history": s.choice("breaker.trip_history.when") in TRIPPED,
        "breaker.condition": s.yes("breaker.condition.is_tripped_unknown") is True,
    }
    opened = s.choice("outlet.ground_fault_history.device") in ("upstream", "charger", "both")
    told = tuple(check for check, has in has_tripped.items() if has)
    is_mended = all(_is_explained(view, check) for check in told)
    kind = s.choice("breaker.trip_history.kind")
    if told and not opened and not is_mended and kind not in ("overcurrent", "ground_fault"):
        return {UNKNOWN: told}
    if opened:
        told += ("outlet.ground_fault_history",)
        is_mended &= _is_explained(view, told[-1])
    tested = view.verdict(INSULATION)
    if told and tested in (Verdict.OUTSIDE, Verdict.NOT_MEASURED):
        return {UNTESTED: (INSULATION,)}
    # ohms prove no insulation, but once the fault is mended the breaker itself watches it
    is_tested = s.choice("run.insulation.place") != "electronic" and tested in PROVED
    return {} if is_tested or is_mended else {UNTESTED: told}


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
        One of them is outside and has to be mended first, or what it needs was left out.
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
        What comes first, and whether that can be had now.

    References
    ----------
    The order of the circuit states: dead and proved, energised, under load.
    """
    open_ones = [c for c in check.needs if _is_open(view, c)] + list(waiting.get(check.state, ()))
    ordered = tuple(c for c in BY_ID if c in open_ones and c != check.id)
    is_blocked = any(view.verdict(c) is Verdict.OUTSIDE for c in open_ones if c != check.id)
    return Way(ordered, is_blocked or any(_is_left_out(view, c) for c in check.needs))


def _is_left_out(view: View, check: str) -> bool:
    entry = view.situation.entry(check)
    return entry is not None and entry.not_done is not None


def _is_open(view: View, check: str) -> bool:
    return view.verdict(check) in (Verdict.NOT_MEASURED, Verdict.OUTSIDE)
