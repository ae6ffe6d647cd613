"""Clues from what charger and vehicle say to each other, and from how the coupler sits."""

from typing import Final

from checks.causes.clue import Clue, View, fault, judged, outcomes
from checks.electrical.pilot import NEGATIVE, WINDOWS, PilotState
from checks.electrical.proximity import WINDOWS as PROXIMITY
from checks.electrical.proximity import ProximityState
from checks.quantity import expanded, nominal
from checks.stations.charger.signals import offered_a
from checks.stations.circuit_facts import charger_load_a, is_setting_read, signal_tolerance_a
from checks.stations.seating import GAP_M, SIGNS
from checks.verdict import Verdict

SHORTED_V: Final = 1.0  # a pilot nearer to ground than this is taken as shorted


def _pilot(view: View) -> str | None:
    """Tell of the positive peaks: in their windows, shorted, or between two states."""
    s = view.situation
    a_v = s.measured("charger.pilot_voltage.state_a")
    b_v = s.measured("charger.pilot_voltage.state_b")
    c_v = s.measured("charger.pilot_voltage.state_c")
    if a_v is None or b_v is None or c_v is None:
        return None
    if abs(nominal(a_v)) < SHORTED_V or abs(nominal(b_v)) < SHORTED_V:
        return "shorted"
    if nominal(b_v) > WINDOWS[PilotState.B].high_v or nominal(c_v) > WINDOWS[PilotState.C].high_v:
        return "resistive"
    if nominal(b_v) < WINDOWS[PilotState.B].low_v or nominal(a_v) < WINDOWS[PilotState.A].low_v:
        return "leaking"
    return "right"


def _negative(view: View) -> str | None:
    """Tell of the negative peak: full, weak, or folded up to the positive one."""
    s = view.situation
    negative_v = s.measured("charger.pilot_voltage.negative")
    b_v = s.measured("charger.pilot_voltage.state_b")
    if negative_v is None:
        return None
    if nominal(negative_v) <= NEGATIVE.high_v:
        return "full"
    is_folded = b_v is not None and abs(abs(nominal(negative_v)) - nominal(b_v)) < SHORTED_V
    return "folded" if is_folded else "weak"


def _offer(view: View) -> str | None:
    """Tell what the pilot offers against the charger's own rating and setting."""
    s = view.situation
    offer_a = offered_a(s)
    full_a = charger_load_a(s)
    if offer_a is None or full_a is None:
        return None
    if nominal(offer_a) <= 0:
        return "nothing"
    slack_a = signal_tolerance_a(full_a)
    if nominal(offer_a) < full_a - slack_a:
        return "less" if is_setting_read(s) else None
    return "over" if nominal(offer_a) > full_a + slack_a else "full"


def _low_setting(view: View) -> str | None:
    """Tell whether the setting lies well below what nameplate allows."""
    s = view.situation
    set_a = s.rating("charger.configuration.configured_a")
    rated_a = s.rating("charger.nameplate.rated_a")
    if not set_a or not rated_a:
        return None
    return "low" if set_a < 0.8 * rated_a else "full"


def _draw(view: View) -> str | None:
    """Tell what the vehicle draws of what it is offered."""
    s = view.situation
    current_a = s.measured("outlet.loaded_voltage.current")
    offer_a = offered_a(s)
    if current_a is None or offer_a is None or nominal(offer_a) <= 0:
        return None
    if s.choice("outlet.loaded_voltage.load") != "vehicle":
        return None
    return "less" if nominal(current_a) < 0.8 * nominal(offer_a) else "full"


def _reason(view: View) -> str | None:
    """Tell what the vehicle itself says of a lower power."""
    reason = view.situation.choice("vehicle.power.reason")
    if reason is None:
        return None
    return "none" if reason == "none" else "own"


def _proximity(view: View) -> str | None:
    """Judge the proximity resistors of a connector after SAE J1772."""
    s = view.situation
    free_ohm = s.measured("connector.seating.latched_ohm")
    pressed_ohm = s.measured("connector.seating.pressed_ohm")
    if free_ohm is None:
        return None
    low, high = PROXIMITY[ProximityState.LATCHED]
    if not low <= nominal(free_ohm) <= high:
        return "wrong"
    if pressed_ohm is None:
        return None
    low, high = PROXIMITY[ProximityState.PRESSED]
    return "right" if low <= nominal(pressed_ohm) <= high else "wrong"


def _held(view: View) -> str | None:
    """Tell whether the connector holds in its seat, whatever its proximity resistors read."""
    s, check = view.situation, "connector.seating"
    gap_m = s.measured(f"{check}.gap")
    is_gaping = gap_m is not None and nominal(gap_m) - expanded(gap_m) > GAP_M
    answers = {sign: s.yes(f"{check}.{sign.input.name}") for sign in SIGNS}
    if is_gaping or any(yes is (not sign.input.good) for sign, yes in answers.items()):
        return "bad"
    return "good" if view.verdict(check) is Verdict.WITHIN else None


def _managed(view: View) -> str | None:
    s = view.situation
    answers = (s.yes("service.load.is_managed"), s.yes("panel.load.is_managed"))
    if True in answers:
        return "yes"
    return None if answers == (None, None) else "no"


CLUES: Final[tuple[Clue, ...]] = (
    Clue(
        "pilot",
        "charger.pilot_voltage",
        outcomes(
            ("right", 0.97, "The pilot's positive peaks are right"),
            ("resistive", 0.012, "The pilot reads too high: resistance in pilot or ground"),
            ("leaking", 0.012, "The pilot reads too low: it leaks to ground"),
            ("shorted", 0.006, "The pilot is shorted to ground"),
        ),
        "right",
        _pilot,
    ),
    Clue(
        "negative",
        "charger.pilot_voltage",
        outcomes(
            ("full", 0.977, "The pilot's negative peak is full"),
            ("weak", 0.015, "The pilot's negative peak is weak"),
            ("folded", 0.008, "The pilot's negative peak is no deeper than its positive one"),
        ),
        "full",
        _negative,
    ),
    Clue(
        "offer",
        "charger.offered_current",
        outcomes(
            ("full", 0.955, "It offers what it is set to"),
            ("less", 0.02, "It offers less than it is set to"),
            ("over", 0.015, "It offers more than it is set to"),
            ("nothing", 0.01, "It offers no current"),
        ),
        "full",
        _offer,
        rests_on=("charger.configuration",),
    ),
    Clue(
        "low_setting",
        "charger.configuration",
        outcomes(
            ("full", 0.84, "It is set near its rating"),
            ("low", 0.16, "It is set well below its rating"),
        ),
        "full",
        _low_setting,
        rests_on=("charger.nameplate",),
    ),
    Clue(
        "draw",
        "outlet.loaded_voltage",
        outcomes(
            ("full", 0.94, "The vehicle draws what it is offered"),
            ("less", 0.06, "The vehicle draws less than it is offered"),
        ),
        "full",
        _draw,
        "vehicle's own limit",
    ),
    Clue(
        "vehicle_says",
        "vehicle.power",
        outcomes(
            ("none", 0.9, "The vehicle gives no reason of its own"),
            ("own", 0.1, "The vehicle gives a reason of its own for less"),
        ),
        "none",
        _reason,
        "vehicle's own limit",
    ),
    Clue(
        "managed",
        "service.load",
        outcomes(
            ("no", 0.9, "No load management limits the chargers"),
            ("yes", 0.1, "Load management limits the chargers"),
        ),
        "no",
        _managed,
    ),
    Clue(
        "proximity",
        "connector.seating",
        outcomes(
            ("right", 0.99, "The proximity resistors are right, pressed and free"),
            ("wrong", 0.01, "The proximity resistors are wrong"),
        ),
        "right",
        _proximity,
    ),
    Clue(
        "connector_seat",
        "connector.seating",
        outcomes(
            ("good", 0.92, "The connector sits home, as far as can be seen"),
            ("bad", 0.08, "The connector does not sit home"),
        ),
        "good",
        _held,
    ),
    fault(
        "adapter_seat",
        "adapter.seating",
        0.08,
        "The adapter does not sit home",
        "The adapter sits home, as far as can be seen",
    ),
    Clue(
        "contactor",
        "charger.contactor_open",
        outcomes(
            ("open", 0.97, "No volts at the connector with no vehicle"),
            ("welded", 0.03, "Volts at the connector with no vehicle"),
        ),
        "open",
        judged("charger.contactor_open", "open", "welded"),
    ),
    fault(
        "inlet",
        "vehicle.inlet_condition",
        0.05,
        "The vehicle's inlet is damaged or dirty",
        "The vehicle's inlet is clean and whole",
    ),
)
