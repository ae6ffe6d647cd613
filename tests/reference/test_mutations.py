"""Broken on purpose: each of these mutations must make some check against the outside fail."""

import inspect
from collections.abc import Callable, Iterator
from dataclasses import replace
from math import inf, log
from textwrap import dedent
from typing import Any

import pytest

from checks import codes
from checks.codes.load_methods.by_area import BasicLoad
from checks.codes.profile import Band, Permission, Rule, Threshold, VoltageBand
from checks.electrical import (
    breaker,
    conductor,
    drop,
    energy,
    ground_fault,
    heating,
    hidden_resistance,
    leakage,
    load_fit,
    load_line,
    pilot,
    pilot_circuit,
    pilot_faults,
    proximity,
    sharing,
    supply,
)
from checks.electrical.conductor import Metal
from checks.electrical.load_line import Ohms
from checks.electrical.pilot import DutyBand, DutyEdge, PilotState, Window
from checks.electrical.proximity import OhmWindow, ProximityState
from checks.errors import ChecksError
from checks.stations import connector, proving
from checks.stations.breaker import warmth as breaker_warmth
from checks.stations.charger import pilot as charger_pilot
from checks.stations.charger import signals
from checks.stations.outlet import joint_heat, loaded, no_load
from checks.stations.panel import bond, bond_ohms, fed_bond
from checks.stations.run import length as run_length
from checks.stations.warmth import heated
from tests.reference import judgements, spice
from tests.reference.case import Case
from tests.reference.every_case import CASES

Mutation = Callable[[pytest.MonkeyPatch], None]


def constant(module: object, name: str, value: object) -> Mutation:
    return lambda patch: patch.setattr(module, name, value)


def row(table: Any, key: object, value: object) -> Mutation:
    return lambda patch: patch.setitem(table, key, value)


def rewritten(function: Any, old: str, new: str) -> Mutation:
    """Put other words into a function's source; whoever has the function runs them."""

    def mutate(patch: pytest.MonkeyPatch) -> None:
        source = dedent(inspect.getsource(function))
        assert source.count(old) == 1, f"{source.count(old)} times {old!r} in {function.__name__}"
        made: dict[str, Any] = dict(function.__globals__)
        exec(source.replace(old, new), made)
        patch.setattr(function, "__code__", made[function.__name__].__code__)

    return mutate


def rule(path: str, value: object, code: str = "nec_2023") -> Mutation:
    """Give one rule of a profile another value, source and force kept."""

    def mutate(patch: pytest.MonkeyPatch) -> None:
        changed = _with(codes.profile(code), path.split("."), value)
        patch.setitem(codes.PROFILES, code, changed)

    return mutate


def method(title: str, path: str, value: object, code: str = "nec_2023") -> Mutation:
    """Give one rule of a way to calculate a dwelling another value."""

    def mutate(patch: pytest.MonkeyPatch) -> None:
        whole = codes.profile(code)
        methods = tuple(
            _with(each, path.split("."), value) if each.title.startswith(title) else each
            for each in whole.load.methods
        )
        assert methods != whole.load.methods
        changed = replace(whole, load=replace(whole.load, methods=methods))
        patch.setitem(codes.PROFILES, code, changed)

    return mutate


def _with(whole: Any, path: list[str], value: object) -> Any:
    """Return a copy with the field at the end of the path changed; a rule keeps its source."""
    name, *rest = path
    found = getattr(whole, name)
    if rest:
        return replace(whole, **{name: _with(found, rest, value)})
    if isinstance(found, Rule) and not isinstance(value, Rule):
        value = replace(found, value=value)
    return replace(whole, **{name: value})


def nec_table(path: str, *keys: object, code: str = "nec_2023") -> Any:
    """Return the innermost table of a rule, to change a cell of it."""
    family, name = path.split(".")
    found = getattr(getattr(codes.profile(code), family), name)
    table: Any = found.value if isinstance(found, Rule) else found
    for key in keys:
        table = table[key]
    return table


def _heat_with_current_once(
    ratio: float, held: float, tau_s: float, *, before_ratio: float = 0.0
) -> float:
    del before_ratio
    return tau_s * log(ratio / (ratio - held)) if ratio > held else inf


CEC = "cec_2021"
LOOKED_UP = codes.profile("nec_2023").overcurrent.continuous_ratio.source

MUTATIONS: dict[str, Mutation] = {
    # physics
    "gauge ratio 92 becomes 90": constant(conductor, "RATIO", 90.0),
    "copper conducts 56 MS/m": row(conductor.METALS, "copper", Metal(56.0, 0.00393)),
    "copper's coefficient 0.0033": row(conductor.METALS, "copper", Metal(58.0, 0.0033)),
    "aluminum as good as copper": row(conductor.METALS, "aluminum", Metal(58.0, 0.00403)),
    "no lay of the strands": constant(conductor, "STRAND_LAY_RATIO", 1.0),
    "lay of 4 %": constant(conductor, "STRAND_LAY_RATIO", 1.04),
    "one way instead of there and back": row(drop.LOOP_FACTOR, 1, 1.0),
    "√3 for a two-wire circuit": row(drop.LOOP_FACTOR, 1, 3**0.5),
    "2 for three phases": row(drop.LOOP_FACTOR, 3, 2.0),
    "drop in per mille": constant(drop, "percent_of_nominal", lambda v, n: 1000 * v / n),
    "branch resistance with the sign turned": constant(
        load_line.LoadLine,
        "branch",
        property(lambda s: Ohms(s.supply.loop_ohm - s.outlet.loop_ohm) if s.supply else None),
    ),
    "heat with the current once": constant(hidden_resistance, "heat_w", lambda r, i: r * i),
    "half the resistance of a loop": constant(
        load_fit._Fit, "_ohms", lambda _, found, letter: Ohms(found[letter] / 2)
    ),
    "rise with the current at most 1.8": constant(heating, "MOST_EXPONENT", 1.8),
    "rise with the current at least 1.8": constant(heating, "LEAST_EXPONENT", 1.8),
    "three-phase power without √3": row(energy.POWER_FACTOR_OF_PHASES, 3, 1.0),
    "power in watts": constant(energy, "power_kw", lambda v, a, phases=1: v * a),
    "trip curve exponent 1.4": constant(ground_fault, "CURVE_EXPONENT", 1.4),
    "trip curve through 25 mA": constant(ground_fault, "CURVE_MA", 25.0),
    "must trip at 5 mA": constant(ground_fault, "MUST_TRIP_MA", 5.0),
    "low slope 0.5 A a percent": constant(pilot, "LOW_SLOPE_A_PER_PCT", 0.5),
    "high slope 2.4 A a percent": constant(pilot, "HIGH_SLOPE_A_PER_PCT", 2.4),
    "high range from 60 %": constant(pilot, "HIGH_OFFSET_PCT", 60.0),
    "least offer 8 A": constant(pilot, "LEAST_A", 8.0),
    "85 % belongs to the high range": constant(
        pilot,
        "DUTY_EDGES",
        tuple(
            DutyEdge(DutyBand.LOW, 85.0, False) if edge.band is DutyBand.LOW else edge
            for edge in pilot.DUTY_EDGES
        ),
    ),
    "state B from 8.0 V": row(pilot.WINDOWS, PilotState.B, Window(9.0, 8.0, 9.56)),
    "state C up to 7 V": row(pilot.WINDOWS, PilotState.C, Window(6.0, 5.48, 7.0)),
    "latched up to 200 Ω": row(proximity.WINDOWS, ProximityState.LATCHED, OhmWindow(135.0, 200.0)),
    # rules and tables
    "continuous load at 120 %": rule("overcurrent.continuous_ratio", 1.2),
    "125 % after correction as well": rule("overcurrent.corrected_ratio", 1.5),
    "55 A is a standard rating": rule("overcurrent.standard_a", (15, 20, 30, 40, 50, 55, 60)),
    "no next size up": rule("overcurrent.next_size_up_a", 0.0),
    "12 AWG on 25 A": row(nec_table("overcurrent.small_conductor_cap_a", "copper"), "12 AWG", 25),
    "no tolerance for rounded areas": rule("overcurrent.upsizing_tolerance_ratio", 0.0),
    "25 % tolerance for areas": rule("overcurrent.upsizing_tolerance_ratio", 0.25),
    "12 AWG grounds 60 A": row(
        nec_table("overcurrent.grounding"), "copper", (Band(60, "12 AWG"), Band(400, "3 AWG"))
    ),
    "6 AWG carries 60 A at 75 °C": row(
        nec_table("conductors.ampacity_a", "copper"), "6 AWG", (55, 60, 75)
    ),
    "3 AWG copper 110 A at 90 °C (older table)": row(
        nec_table("conductors.ampacity_a", "copper"), "3 AWG", (85, 100, 110)
    ),
    "no ambient correction at 90 °C": row(
        nec_table("conductors.ambient_ratio"), 90, (Band(85, 1.0),)
    ),
    "bundling 7 to 9 at 0.75": rule(
        "conductors.bundling_ratio", (Band(3, 1.0), Band(6, 0.8), Band(9, 0.75), Band(inf, 0.5))
    ),
    "NM at 75 °C": row(nec_table("conductors.cable_cap_c"), "NM", Rule(75, LOOKED_UP)),
    "SE capped up to 8 AWG in thermal insulation": row(
        nec_table("conductors.insulated_cap_c"),
        "SE",
        Rule({"10 AWG": 60, "8 AWG": 60}, LOOKED_UP),
    ),
    "AC at 75 °C in thermal insulation": row(
        nec_table("conductors.insulated_cap_c"), "AC", Rule({"6 AWG": 75, "12 AWG": 75}, LOOKED_UP)
    ),
    "8 AWG has 16 000 circular mils": row(nec_table("conductors.area_cmil"), "8 AWG", 16_000),
    "12 AWG has 1.89 Ω/1000 ft": row(
        nec_table("conductors.resistance_ohm_per_kft", "copper"), "12 AWG", 1.89
    ),
    "a single receptacle may be rated below": rule("receptacles.is_single_below_allowed", True),
    "40 A circuit takes 40 A receptacles only": row(nec_table("receptacles.shared_a"), 40, (40,)),
    "receptacle carries its full rating": rule("receptacles.continuous_ratio", 1.0),
    "10-30 permitted": row(
        nec_table("receptacles.portable"), "10-30", Rule(Permission(True, ""), LOOKED_UP)
    ),
    "disconnect from 60 A on": rule("charging.disconnect_a", Threshold(60.0, is_included=True)),
    "disconnect above 300 V to ground": rule("charging.disconnect_v_to_ground", Threshold(300.0)),
    "own circuit above 12 A": rule("charging.individual_above_a", Threshold(12.0)),
    "output cable of 5 m": rule("charging.output_cable_m", 5.0),
    "branch drop of 5 %": rule("voltage.branch_drop_pct", 5.0),
    "240 V down to 220 V": row(
        nec_table("voltage.supply"),
        (240, "service", "A"),
        Rule(VoltageBand(220, 252), LOOKED_UP),
    ),
    "working width of 0.6 m": rule("workspace.width_m", 0.6),
    "measured demand at 100 %": rule("load.measured_ratio", 1.0),
    "new load read one way": rule("load.new_load_ratios", (1.0, 1.0)),
    "general load beyond 10 kVA at 35 %": method("optional", "bands", ((10_000, 1.0), (inf, 0.35))),
    "general load 100 % up to 8 kVA": method("optional", "bands", ((8_000, 1.0), (inf, 0.4))),
    "3.5 VA a square foot": method("optional", "general.per_m2_va", 3.5 / 0.3048**2),
    "many heaters at 65 %": method("optional", "heating_many_ratio", 0.65),
    "few heaters at 40 %": method("optional", "heating_few_ratio", 0.4),
    "supplementary heat in full": method("optional", "supplementary_ratio", 1.0),
    "heat pump at 65 %": method("optional", "heat_pump_ratio", 0.65),
    "no least charger load": method("optional", "general.charger.least_va", 0.0),
    "no least charger load by the standard way": method("standard", "charger.least_va", 0.0),
    "lighting beyond 3 kVA in full": method("standard", "general_bands", ((inf, 1.0),)),
    "a range counts 12 kVA": method("standard", "range_demand.value.demand_va", 12_000.0),
    "a dryer counts its nameplate only": method("standard", "dryer_least_va", 0.0),
    "four fastened appliances in full": method("standard", "fastened_ratio", 1.0),
    "existing dwelling: 10 kVA in full": method(
        "calculation", "bands", ((10_000, 1.0), (inf, 0.4))
    ),
    "existing dwelling: new cooling at 40 %": method("calculation", "beside", 0.4),
    "setpoint of load management at 100 %": rule("load.managed_ratio", 1.0),
    "40 A wants 150 cubic feet of air": row(
        codes.profile("nec_2023").charging.ventilation.tabled.value, (240, 40), 150 * 0.3048**3
    ),
    "service of 200 A on 1/0 AWG": row(
        nec_table("conductors.dwelling_service"), "copper", (Band(400, "1/0 AWG"),)
    ),
    "90 m² steps of 500 W": method(
        "calculation for a single", "basic", BasicLoad(5_000, 90, 500, 90), CEC
    ),
    "basement in full": method("calculation for a single", "basement_ratio", 1.0, CEC),
    "other equipment at 40 %": method("calculation for a single", "other_ratio", 0.4, CEC),
    "without a range nothing in full": method(
        "calculation for a single", "other_full_va", 0.0, CEC
    ),
    "no least load of a dwelling": method(
        "calculation for a single", "least_va", ((inf, 0.0),), CEC
    ),
    "range beyond 12 kW not counted": method(
        "calculation for a single", "range_rise_ratio", 0.0, CEC
    ),
    "CE: ampacity in full": rule("overcurrent.corrected_ratio", 1.0, CEC),
    "CE: device in full": rule("overcurrent.continuous_ratio", 1.0, CEC),
    "CE: disconnect above 60 A": rule("charging.disconnect_a", Threshold(60.0), CEC),
    "CE: circuit may be shared": rule(
        "charging",
        replace(
            codes.profile(CEC).charging,
            individual_above_a=codes.profile("nec_2023").charging.individual_above_a,
            individual_above_v=codes.profile("nec_2023").charging.individual_above_v,
        ),
        CEC,
    ),
    "CE: 5-15 for charging": row(
        nec_table("receptacles.portable", code=CEC), "5-15", Rule(Permission(True, ""), LOOKED_UP)
    ),
    "CE: 5-20 on a duplex": row(
        nec_table("receptacles.portable", code=CEC), "5-20", Rule(Permission(True, ""), LOOKED_UP)
    ),
    "CE: bonding like the NEC": rule(
        "overcurrent.grounding", codes.profile("nec_2023").overcurrent.grounding.value, CEC
    ),
    "CE: bundling like the NEC": rule(
        "conductors.bundling_ratio", codes.profile("nec_2023").conductors.bundling_ratio.value, CEC
    ),
    "CE: cold air helps": rule(
        "conductors.ambient_ratio", codes.profile("nec_2023").conductors.ambient_ratio.value, CEC
    ),
    "CE: measured demand in full": rule("load.measured_ratio", 1.0, CEC),
    "CE: new load in full": rule("load.new_load_ratios", (1.0,), CEC),
    "CE: drop of 5 % in the branch": rule("voltage.branch_drop_pct", 5.0, CEC),
    # physics of the circuit as a whole
    "pilot source 1.1 kΩ": constant(pilot_circuit, "SOURCE_OHM", 1100.0),
    "pilot solved without the diode's volts": constant(pilot_circuit, "DIODE_V", 0.0),
    "state C without the base resistor": row(pilot_circuit.VEHICLE_OHM, PilotState.C, 1300.0),
    "any negative peak is sound": constant(pilot_faults, "NEGATIVE", Window(-12.0, -12.6, 0.0)),
    "no two peaks mirror each other": constant(pilot_faults, "NEAR_V", 0.0),
    "breaker element at 105 °C": constant(breaker, "ELEMENT_C", 105.0),
    "breaker rated at 25 °C": constant(breaker, "RATED_AIR_C", 25.0),
    "breaker's heat with the current once": constant(
        breaker, "trip_time_s", _heat_with_current_once
    ),
    "high leg at 240 V": constant(
        supply, "nominal_between_v", lambda system, first, second="ground": 240.0
    ),
    "equal parts whatever the wish": constant(
        sharing, "fair_share_a", lambda limit, wishes: tuple(limit / len(wishes) for _ in wishes)
    ),
    "efficiency counted twice": constant(
        energy, "wall_energy_kwh", lambda b, f, t, s: b * (t - f) / 100 / s**2
    ),
    "the charger's own device opens at 5 mA": constant(
        leakage, "CCID20", leakage.CCID20._replace(must_trip_ma=5.0)
    ),
    # judges: a comparison turned around, another severity, another remedy
    "a service needs no bond": rewritten(bond._at_service, "is_present,\n", "not is_present,\n"),
    "a service without its bond is a notice": rewritten(bond._at_service, "DANGER", "NOTICE"),
    "bars that something joins are a notice": rewritten(
        bond._judge_unseen_bond, "DANGER", "NOTICE"
    ),
    "a second bond is good": rewritten(fed_bond._after_service, "not is_present,", "is_present,"),
    "a second bond is danger": rewritten(fed_bond._after_service, "WARNING", "DANGER"),
    "bars that touch are apart": rewritten(bond_ohms.bar_limit, "at_least(APART", "at_most(APART"),
    "two bonds behind a transformer, or none": rewritten(
        fed_bond._behind_transformer, "is_present != is_there", "is_present == is_there"
    ),
    "a lost conductor is an imbalance": rewritten(no_load._agrees, "> LOST_V", "< LOST_V"),
    "a poor neutral is danger, a lost one is not": rewritten(
        no_load._neutral_to_ground, "if is_lost else", "if not is_lost else"
    ),
    "volts far off are a notice": rewritten(
        no_load._in_band, "if is_far else Severity", "if not is_far else Severity"
    ),
    "charging through an adapter that does not seat is a warning": rewritten(
        loaded._coupler_part, "DANGER", "WARNING"
    ),
    "a test load needs a seated adapter": rewritten(
        loaded._coupler_part, '!= "vehicle"', '== "vehicle"'
    ),
    "a recommended drop is a rule": rewritten(loaded._drop, "is Force", "is not Force"),
    "volts that sag are not seen": rewritten(loaded._supply_part, "is not Verdict", "is Verdict"),
    "a joint that burns is a caution": rewritten(joint_heat.heat_part, "DANGER", "CAUTION"),
    "the end of a rise from its low bound": rewritten(
        heated.Heated._compared, "high_k > PRODUCT_K", "high_k < PRODUCT_K"
    ),
    "a like part 15 K cooler is monitored": rewritten(
        heated.Heated._over_like, "WARNING if is_major", "WARNING if not is_major"
    ),
    "what ends a test is a caution": rewritten(heated.stopped, "DANGER", "CAUTION"),
    "a breaker cooler than its neighbor is the hot one": rewritten(
        breaker_warmth._face, "nominal(over) < 0", "nominal(over) > 0"
    ),
    "a hot face ends no test": rewritten(breaker_warmth._too_hot, "< STOP_C", "> STOP_C"),
    "the more load, the warmer the air may be": rewritten(
        breaker.hottest_air_c, "ELEMENT_C - (ELEMENT", "ELEMENT_C + (ELEMENT"
    ),
    "the second proof is the first": rewritten(
        proving.proving_parts, '(after, "after")', '(before, "after")'
    ),
    "half of the pairs will do": rewritten(proving._judge_pairs, "every,\n", "not every,\n"),
    "live is a notice": rewritten(proving._judge_highest, "DANGER", "NOTICE"),
    "CAT II at a panel": rewritten(
        proving._judge_meter, "covers(Category.CAT_III)", "covers(Category.CAT_II)"
    ),
    "the pilot names no contact": rewritten(charger_pilot._of_state, "state) > 0", "state) < 0"),
    "a pressed button is a latched connector": rewritten(
        connector._proximity_parts, "is wanted", "is not wanted"
    ),
    "an offer above the breaker is slow": rewritten(
        signals._meaning, "amps > largest", "amps < largest"
    ),
    "the size for the shortest that the run may be": rewritten(
        run_length._remedy, "+ expanded", "- expanded"
    ),
    "the largest size": rewritten(drop.smallest_size, "<= limit_v", ">= limit_v"),
}


def disagreeing() -> Iterator[str]:
    return (
        case.document
        for case in (*CASES, *spice.CASES, *judgements.CASES)
        if not _agrees_or_refuses(case)
    )


def _agrees_or_refuses(case: Case) -> bool:
    """Count a refusal as disagreement: the document had an answer."""
    try:
        return case.agrees()
    except ChecksError:
        return False


def test_nothing_disagrees_before_anything_is_broken() -> None:
    assert list(disagreeing()) == []


@pytest.mark.parametrize("name", MUTATIONS)
def test_a_mutation_is_caught(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    MUTATIONS[name](monkeypatch)

    assert any(disagreeing()), f"no check against the outside notices that {name}"
