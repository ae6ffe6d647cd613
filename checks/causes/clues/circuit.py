"""Clues from the circuit: what it feeds, what it is made of, what it loses, what it leaks."""

from math import inf
from typing import Final

from checks.causes.clue import Clue, View, fault, judged, outcomes, picked, sign
from checks.check import Situation
from checks.codes.circuit import largest_charger_a
from checks.electrical.breaker import trip_spread_s
from checks.electrical.joint import JOINT_W, Joint
from checks.errors import ChecksError
from checks.quantity import expanded, nominal
from checks.stations.circuit_facts import (
    breaker_a,
    charger_load_a,
    full_current_a,
    is_setting_read,
    nominal_v,
)
from checks.stations.outlet.hidden import joint, load_test
from checks.stations.outlet.where import is_receptacle
from checks.stations.run.dead_tests import are_lines_sound
from checks.verdict import Verdict

MUCH_PCT: Final = 3.0  # what the code recommends for a branch circuit
LOSS_PCT: Final = 5.0  # of the run, at full current: from here a vehicle feels it; judgement
SUPPLY_PCT: Final = 3.0
TRACE_RATIO: Final = 0.75  # of its interval
LOW_RATIO: Final = 0.92  # of nominal: below it the supply is low, or 208 V feeds what is 240 V
CONTINUOUS_RATIO: Final = 0.8
REACHES_OHM: Final = 2.0  # more than any run of a charger's circuit has: judgement
HOLDS_A: Final = 0.004  # a Class A device must hold below this, UL 943
NOTHING_RATIO: Final = 0.1
GONE_RATIO: Final = 0.7  # of nominal: below it a leg is missing


def _setting(view: View) -> str | None:
    """Tell whether the charger alone takes more than its circuit may carry for hours."""
    s = view.situation
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    if load_a is None or rated_a is None:
        return None
    if load_a <= largest_charger_a(s.code, rated_a).value + 0.5:
        return "fits"
    return "over" if is_setting_read(s) else None


def _sharing(view: View) -> str | None:
    """Tell whether other loads hang on the circuit, and whether their sum trips the breaker."""
    s = view.situation
    is_alone = s.yes("run.dedicated.is_alone")
    if is_alone is None or is_alone:
        return None if is_alone is None else "alone"
    other_a, load_a, rated_a = s.rating("run.dedicated.other_a"), charger_load_a(s), breaker_a(s)
    if other_a is None or load_a is None:
        return "shared"
    # a rating that was not read is taken as the least that carries the charger
    rated_a = rated_a or load_a / CONTINUOUS_RATIO
    try:
        fastest_s = trip_spread_s(rated_a, [load_a, other_a], before_a=load_a).fast_s
    except ChecksError:
        return "shared"
    if fastest_s == inf:
        return "light"
    return "trips" if is_setting_read(s) else "shared"


def _loss(view: View) -> str | None:
    """Tell where the volts go under load: nowhere, the metal, a joint, or ahead of the panel."""
    s = view.situation
    line, full_a = load_test(s), full_current_a(s)
    if line is None or full_a is None:
        return None
    found = joint(s, line)
    hidden = "" if found is None else _hidden(found, full_a)
    if hidden == "joint":
        return hidden
    pct_an_ohm = full_a * 100 / nominal_v(s)
    if line.supply is not None and nominal(line.supply.loop_ohm) * pct_an_ohm > SUPPLY_PCT:
        return "supply"
    lost_pct = nominal((line.branch or line.outlet).loop_ohm) * pct_an_ohm
    if lost_pct > LOSS_PCT:
        return "some" if line.branch is None or found is None else "metal"
    return hidden or ("much" if lost_pct > MUCH_PCT else "none")


def _hidden(found: Joint, full_a: float) -> str:
    """Tell whether what the metal does not explain burns, beyond doubt or as it seems."""
    heat_w = nominal(found.full_heat_w(full_a))
    if found.is_sure and heat_w > JOINT_W:
        return "joint"
    seems_so = nominal(found.hidden_ohm) > TRACE_RATIO * expanded(found.hidden_ohm)
    return "trace" if seems_so and heat_w > JOINT_W else ""


def _volts(view: View) -> str | None:
    """Tell whether the outlet, or else the service, has its volts without load."""
    s = view.situation
    at = s.measured("outlet.no_load_voltage.line_line") or s.measured(
        "outlet.no_load_voltage.line_neutral"
    )
    if at is None:
        at = s.measured("outlet.loaded_voltage.outlet_no_load")
    if at is None:
        return None
    ratio = nominal(at) / nominal_v(s)
    if ratio < GONE_RATIO:
        return "gone" if ratio < NOTHING_RATIO else "leg"
    return "low" if ratio < LOW_RATIO else "right"


def _trip_test(view: View) -> str | None:
    """Tell what the trip test says: early, late or dead, or as it should."""
    s = view.situation
    current_a = s.measured("outlet.ground_fault_trip.trip_current")
    if current_a is not None and nominal(current_a) + expanded(current_a) < HOLDS_A:
        return "early"
    return judged("outlet.ground_fault_trip", "right", "dead")(view)


def _insulation(view: View) -> str | None:
    """Tell what leaks: nothing tested, the run by itself, its outlet, or it is not known which."""
    verdict, s = view.verdict("run.insulation"), view.situation
    if verdict is Verdict.BORDERLINE:  # for the neutral's sake alone, or of a meter that is not fit
        here = Situation(s.visit, s.code, s.subject)
        return "good" if are_lines_sound(here) and not here.unfit else None
    if verdict is not Verdict.OUTSIDE:
        return judged("run.insulation")(view)
    if not is_receptacle(view.situation):  # the charger was taken off for the test
        return "bad"
    alone = judged("run.insulation_alone", "outlet", "bad")(view)
    return "low" if alone is None else alone


def _ground(view: View) -> str | None:
    """Tell whether the protective conductor reaches the outlet."""
    s = view.situation
    if s.choice("run.protective_conductor.reading") == "open":
        return "open"
    ohm = s.measured("run.protective_conductor.ohm")
    if ohm is None:
        return None
    return "open" if nominal(ohm) > REACHES_OHM else "good"


def _neutral(view: View) -> str | None:
    """Tell whether neutral and ground meet once; nothing of a neutral that hangs lifted."""
    hangs = view.situation.yes("panel.neutral_bond.is_landed") is False
    return None if hangs else judged("panel.neutral_bond")(view)


CLUES: Final[tuple[Clue, ...]] = (
    Clue(
        "setting",
        "breaker.rating",
        outcomes(
            ("fits", 0.96, "The charger's setting fits its breaker"),
            ("over", 0.04, "The charger is set above what its breaker carries for hours"),
        ),
        "fits",
        _setting,
        rests_on=("charger.configuration",),
    ),
    Clue(
        "sharing",
        "run.dedicated",
        outcomes(
            ("alone", 0.83, "Nothing else hangs on the circuit"),
            ("light", 0.1, "Other loads on the circuit are too small to trip it"),
            ("shared", 0.05, "Other loads hang on the circuit"),
            ("trips", 0.02, "Charger and other loads are more than the breaker holds"),
        ),
        "alone",
        _sharing,
        "other loads",
        rests_on=("charger.configuration",),
        leaves_open={"shared": ("light", "trips")},
    ),
    Clue(
        "loss",
        "outlet.loaded_voltage",
        outcomes(
            ("none", 0.79, "Few volts are lost under load"),
            ("much", 0.06, "The run's own metal loses more volts than it should"),
            ("trace", 0.06, "Perhaps some volts are lost that the metal does not explain"),
            ("metal", 0.025, "The run's own metal loses too many volts"),
            ("joint", 0.02, "Volts are lost that the metal does not explain: a joint"),
            ("supply", 0.015, "Volts are lost ahead of the panel"),
            ("some", 0.03, "Volts are lost, and it is not known where"),
        ),
        "none",
        _loss,
        rests_on=("charger.configuration", "run.conductor", "run.length"),
        leaves_open={"some": ("metal", "joint")},
    ),
    fault(
        "conductor",
        "run.conductor",
        0.04,
        "The conductor is too small for its circuit",
        "The conductor's size fits",
        rests_on=("breaker.rating", "charger.configuration"),
    ),
    fault(
        "receptacle",
        "outlet.configuration",
        0.05,
        "The receptacle does not fit its circuit",
        "The receptacle fits its circuit",
        rests_on=("breaker.rating",),
    ),
    Clue(
        "volts",
        "outlet.no_load_voltage",
        outcomes(
            ("right", 0.969, "The outlet has its volts without load"),
            ("low", 0.015, "The outlet's volts are low without load"),
            ("leg", 0.008, "A leg is missing at the outlet"),
            ("gone", 0.008, "No volts at the outlet"),
        ),
        "right",
        _volts,
    ),
    Clue(
        "insulation",
        "run.insulation",
        outcomes(
            ("good", 0.98, "The insulation is sound, of every pair that could be tested"),
            ("low", 0.012, "The insulation is low, of the run or of what is at its outlet"),
            ("bad", 0.005, "The insulation of the run by itself is low"),
            ("outlet", 0.003, "The insulation is low at the outlet, that of the run is sound"),
        ),
        "good",
        _insulation,
        rests_on=("run.insulation_alone",),
        leaves_open={"low": ("bad", "outlet")},
    ),
    sign(
        "run_damage",
        "run.damage.is_damaged",
        0.03,
        "The run is nicked or crushed",
        "No damage along the run",
    ),
    sign(
        "cable_damage",
        "charger.damage.is_cable_cut",
        0.03,
        "The charger's cable is cut or crushed",
        "The charger's cable is whole",
    ),
    Clue(
        "device_trips",
        "outlet.ground_fault_trip",
        outcomes(
            ("right", 0.968, "The ground-fault device trips where it should"),
            ("early", 0.012, "The ground-fault device trips below 4 mA"),
            ("dead", 0.02, "The ground-fault device does not trip as it must"),
        ),
        "right",
        _trip_test,
    ),
    Clue(
        "devices",
        "outlet.series_devices",
        outcomes(
            ("none", 0.75, "One ground-fault device only"),
            ("present", 0.25, "A second ground-fault device upstream"),
        ),
        "none",
        picked("outlet.series_devices.second"),
    ),
    Clue(
        "neutral",
        "panel.neutral_bond",
        outcomes(
            ("good", 0.97, "Neutral and ground meet once"),
            ("bad", 0.03, "Neutral and ground meet where they must not"),
        ),
        "good",
        _neutral,
    ),
    Clue(
        "ground",
        "run.protective_conductor",
        outcomes(
            ("good", 0.985, "The grounding conductor reaches the outlet"),
            ("open", 0.015, "The grounding conductor is open or of high resistance"),
        ),
        "good",
        _ground,
    ),
)
