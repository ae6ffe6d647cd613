"""One thing changed in a sound visit moves the right verdicts and no others.

What must move is worked out beside each row from the rule named there, not from what we answer.
Clauses are of NEC 2023 unless another document is named; conductor resistance is chapter 9
table 8, ampacity table 310.16, its correction table 310.15(B)(1)(1).
"""

from collections.abc import Mapping
from functools import cache
from typing import Any, Final

import pytest

from checks.assess import assess
from checks.codes import profile, under_each
from checks.record import ChargingPoint, Site, Visit
from checks.verdict import Force, Severity, Verdict
from tests.builders import POINT, hard_wired, level_1, point, visit, with_entries

Entries = Mapping[str, Mapping[str, Any]]
Change = tuple[str, dict[str, Any]]

CLEAN: Final = {"has_burn_marks": False, "is_pitted": False, "has_debris": False}
TIGHT: Final = {
    "occasion": "tightening",
    "label": "5.0 N·m",
    "applied": "5.0 N·m",
    "are_all_done": True,
}
WARM: Final = {
    "sign": "none",
    "method": "contact",
    "surface": "30.0 °C",
    "ambient": "22.0 °C",
    "current": "39.6 A",
}

# 40 A by a 14-50 receptacle on 50 A, 6 AWG copper with 60 °C terminals (55 A), 10 m from a panel
# that is the service equipment, in a dry garage of a dwelling.
RECEPTACLE: Final[Entries] = {
    "service.rating": {"service_a": "200 A", "main_a": "200 A"},
    "service.load": {
        "method": "year",
        "demand_a": "80 A",
        "is_included": False,
        "is_managed": False,
    },
    "service.other_sources": {"is_present": False},
    "service.supply_voltage": {"l1_l2": "240.6 V", "l1_n": "120.4 V", "l2_n": "120.2 V"},
    "panel.rating": {"bus_a": "200 A", "ahead": "main", "main_a": "200 A"},
    "panel.interrupting": {"available": "9.0 kA", "basis": "utility", "rating": "22 kA"},
    "panel.spaces": {"spare": 4},
    "panel.breaker_listed": {"is_on_label": True},
    "panel.condition": {
        "has_heat_marks": False,
        "is_wet": False,
        "is_corroded": False,
        "has_openings": False,
    },
    "panel.absence_of_voltage": {
        "is_off": True,
        "are_sources_off": True,
        "is_line_guarded": True,
        "known_before": "120.4 V",
        "is_every_pair": True,
        "highest": "0.1 V",
        "known_after": "120.3 V",
    },
    "panel.terminals": {
        "has_heat_marks": False,
        "is_double_tapped": False,
        "is_neutral_shared": False,
    },
    "panel.directory": {"is_named": True, "is_legible": True},
    "panel.working_space": {
        "opposite": "1",
        "depth": "1.20 m",
        "width": "0.90 m",
        "height": "2.20 m",
        "is_clear": True,
    },
    "panel.neutral_bond": {"bond": "present", "reading": "value", "ohm": "0.02 Ω"},
    "breaker.rating": {"rated_a": "50 A", "poles": "2"},
    "breaker.condition": {
        "has_heat_marks": False,
        "is_damaged": False,
        "is_tripped_unknown": False,
    },
    "breaker.lock_and_tag": {
        "is_off": True,
        "is_locked": True,
        "is_tagged": True,
        "is_key_kept": True,
        "are_sources_isolated": True,
    },
    "breaker.absence_of_voltage": {
        "known_before": "120.4 V",
        "is_every_pair": True,
        "highest": "0.1 V",
        "known_after": "120.3 V",
    },
    "breaker.terminal_torque": TIGHT,
    "run.conductor": {
        "size": "6 AWG",
        "material": "copper",
        "insulation": "THWN-2",
        "method": "EMT",
        "is_wet": False,
        "terminals": "60",
        "ambient": "30 °C",
        "carrying": 2,
    },
    "run.length": {"basis": "measured", "length": "10.00 m"},
    "run.grounding_conductor": {"kind": "wire", "size": "10 AWG", "material": "copper"},
    "run.dedicated": {"is_alone": True},
    "run.protective_conductor": {
        "place": "panel",
        "are_leads_nulled": True,
        "reading": "value",
        "ohm": "0.04 Ω",
    },
    "run.insulation": {
        "place": "panel",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "550 MΩ",
        "second_ground": "550 MΩ",
        "between": "550 MΩ",
    },
    "run.polarity": {
        "place": "panel",
        "is_line_right": True,
        "is_second_right": True,
        "is_ground_right": True,
        "is_neutral_right": True,
    },
    "run.protection": {
        "is_protected": True,
        "is_supported": True,
        "has_bushings": True,
        "is_buried": False,
    },
    "run.damage": {"is_damaged": False},
    "outlet.configuration": {"kind": "14-50", "count": "single"},
    "outlet.grade": {"grade": "industrial"},
    "outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": False},
    "outlet.retention": {"feel": "firm"},
    "outlet.mounting": {
        "is_fixed": True,
        "is_face_whole": True,
        "is_plug_free": True,
        "is_cord_extended": False,
    },
    "outlet.cover": {"cover": "closed"},
    "outlet.terminal_torque": TIGHT,
    "outlet.ground_fault": {
        "device": "breaker",
        "device_class": "class_a",
        "is_accessible": True,
    },
    "outlet.ground_fault_trip": {
        "is_tripped_by_button": True,
        "is_restored": True,
        "method": "both",
        "trip_current": "5.0 mA",
        "trip_time": "90 ms",
        "test_current": "8.0 mA",
    },
    "outlet.series_devices": {"second": "none", "instructions": "allow"},
    "outlet.no_load_voltage": {
        "conductors": "two_lines_neutral",
        "line_line": "240.4 V",
        "l1_ground": "120.3 V",
        "l2_ground": "120.1 V",
        "l1_neutral": "120.3 V",
        "l2_neutral": "120.1 V",
        "neutral_ground": "0.1 V",
    },
    "outlet.loaded_voltage": {
        "outlet_no_load": "240.4 V",
        "current": "39.6 A",
        "outlet_loaded": "238.0 V",
    },
    "outlet.temperature": WARM,
    "charger.nameplate": {
        "rated_a": "40 A",
        "volts": "208-240",
        "is_listed": True,
        "enclosure": "type_2",
    },
    "charger.configuration": {"configured_a": "40 A", "access": "fixed"},
    "charger.damage": {
        "is_case_broken": False,
        "is_cable_cut": False,
        "has_heat_marks": False,
        "has_water": False,
    },
    "charger.mounting": {"is_fixed": True, "height": "1.20 m"},
    "charger.ventilation": {"marking": "not_required"},
    "charger.cable": {"length": "6.1 m", "is_managed": False},
    "charger.supply_cord": {"length": "0.3 m", "protection": "case"},
    "charger.offered_current": {"method": "duty", "duty": "66.7 %"},
    "charger.pilot_voltage": {
        "state_a": "12.00 V",
        "state_b": "9.00 V",
        "state_c": "6.00 V",
        "negative": "-12.00 V",
    },
    "charger.contactor_open": {"meter": "low", "highest": "0.2 V"},
    "charger.ground_monitor": {"reaction": "refuses"},
    "connector.seating": {
        "is_held": True,
        "has_clicked": True,
        "is_rocking": False,
        "gap": "0.5 mm",
    },
    "connector.pins": {**CLEAN, "is_cracked": False},
    "connector.temperature": WARM,
    "vehicle.power": {"displayed": "9.3 kW", "reason": "none"},
    "vehicle.inlet_condition": {**CLEAN, "is_cracked": False},
    "surroundings.place": {"location": "garage", "wetness": "dry", "hazard": "none"},
    "surroundings.vehicle_impact": {"is_exposed": False},
    "surroundings.reach": {"is_reached": True, "is_crossing": False, "is_coiled": False},
    "handover.owner_shown": {
        "knows_shutoff": True,
        "knows_heat_signs": True,
        "knows_no_extension": True,
        "knows_monthly_test": True,
    },
    "handover.documents": {
        "has_as_built": True,
        "has_settings": True,
        "has_load_calculation": True,
        "has_next_check": True,
        "permit": "passed",
    },
    "handover.upkeep": {"use": "few", "months": "6 months", "is_plan_left": True},
    "service.papers": {
        "permit": "issued",
        "is_scope_same": True,
        "is_utility_told": True,
        "property": "own",
        "are_plans_there": True,
        "is_licensed": True,
        "are_limits_asked": True,
    },
    "service.grounding": {"is_electrode_there": True},
    "service.surge": {"device": "service"},
    "run.passage": {"is_in_sun": False, "is_through_rated": False, "crosses_joint": False},
    "run.identification": {"neutral": "color", "ground": "color"},
    "charger.fitting": {
        "is_followed": True,
        "is_sealed": True,
        "is_drain_open": True,
        "is_marked": True,
        "asked": "0.10 m",
        "clear": "0.35 m",
        "sun": "allowed",
    },
    "charger.enclosure_voltage": {"touch": "0.1 V"},
    "charger.stop_time": {"stop": "0.4 s"},
    "charger.ground_fault_test": {"reaction": "recovers"},
    "charger.supply_return": {"is_dark": True, "is_message_clear": True, "start": "waits"},
    "charger.network": {"is_networked": False},
    "charger.export": {"is_exporting": False},
    "connector.button": {"left": "0.0 A"},
}


def with_answers(entries: Entries, over: Entries) -> dict[str, dict[str, Any]]:
    """The entries with some answers put in place of others."""
    return {
        check: {**answers, **over.get(check, {})}
        for check, answers in {**{c: {} for c in over}, **entries}.items()
    }


# 48 A wired in on 60 A, 6 AWG copper THWN with 75 °C terminals (65 A).
HARD_WIRED: Final = with_answers(
    RECEPTACLE,
    {
        "breaker.rating": {"rated_a": "60 A"},
        "run.conductor": {"insulation": "THWN", "terminals": "75"},
        "outlet.termination": {
            "is_relieved": True,
            "are_strands_captured": True,
            "is_insulation_clear": True,
            "is_entry_sealed": True,
        },
        "outlet.temperature": {"current": "47.6 A"},
        "connector.temperature": {"current": "47.6 A"},
        "outlet.loaded_voltage": {"current": "47.6 A"},
        "vehicle.power": {"displayed": "11.2 kW"},
        "charger.nameplate": {"rated_a": "48 A"},
        "charger.configuration": {"configured_a": "48 A"},
        "charger.offered_current": {"duty": "80.0 %"},
        "charger.disconnect": {"is_present": False},
    },
)
# 12 A by a single 5-20 on 20 A, 12 AWG copper.
LEVEL_1: Final = with_answers(
    RECEPTACLE,
    {
        "breaker.rating": {"rated_a": "20 A", "poles": "1"},
        "run.conductor": {"size": "12 AWG"},
        "run.grounding_conductor": {"size": "12 AWG"},
        "outlet.configuration": {"kind": "5-20"},
        "outlet.retention": {"line_force": "25.0 N"},
        "outlet.no_load_voltage": {
            "conductors": "line_neutral",
            "line_neutral": "120.3 V",
            "line_ground": "120.4 V",
        },
        "outlet.loaded_voltage": {
            "outlet_no_load": "120.3 V",
            "current": "11.8 A",
            "outlet_loaded": "118.6 V",
        },
        "outlet.temperature": {"current": "11.8 A"},
        "connector.temperature": {"current": "11.8 A"},
        "vehicle.power": {"displayed": "1.35 kW"},
        "charger.nameplate": {"rated_a": "12 A", "volts": "120"},
        "charger.configuration": {"configured_a": "12 A"},
        "charger.offered_current": {"duty": "20.0 %"},
    },
)
BASES: Final[Mapping[str, tuple[ChargingPoint, Entries]]] = {
    "receptacle": (point(), RECEPTACLE),
    "hard-wired": (hard_wired(), HARD_WIRED),
    "level 1": (level_1(), LEVEL_1),
}


def built(base: str, over: Entries) -> Visit:
    here, entries = BASES[base]
    site = Site(name="Invented site", authority="Invented authority", permit_number="0000-INVENTED")
    return with_entries(visit(points=(here,), site=site), with_answers(entries, over))


def verdicts(made: Visit, code: str = "nec_2023") -> dict[str, Verdict]:
    return {row.check: row.judgement.verdict for row in assess(made, profile(code)).rows}


@cache
def sound(base: str) -> dict[str, Verdict]:
    return verdicts(built(base, {}))


@pytest.mark.parametrize("base", BASES)
def test_the_sound_visit_is_within_wherever_a_check_applies(base: str):
    good = (Verdict.WITHIN, Verdict.NOT_APPLICABLE)
    assert {c: v.value for c, v in sound(base).items() if v not in good} == {}


def change(check: str, **answers: Any) -> Change:
    return check, answers


# What is asked, and not yet answered, once a system holds the chargers or the whole down.
MANAGED: Final = {
    "charger.together",
    "service.management",
    "service.management_fail_safe",
    "service.management_limit",
    "service.management_sensors",
}

CHANGES: Final[list[tuple[str, Change, set[str]]]] = [
    # -- the run ---------------------------------------------------------------------------------
    # 2 × 40 A × 60 m × 1.61 mΩ/m = 7.7 V, 3.2 % of 240 V: over 3 %, 210.19 informational note.
    # The ohms of the grounding conductor may only be more over a longer run. The load test lost
    # 2.4 V at 39.6 A, 61 mΩ in all, and 60 m of 6 AWG have 2 × 60 m × 1.27 mΩ/m even at 20 °C:
    # one of the two is not right.
    ("receptacle", change("run.length", length="60.00 m"), {"run.length", "outlet.loaded_voltage"}),
    # 50 m: 2.7 %, and 127 mΩ
    ("receptacle", change("run.length", length="50.00 m"), {"outlet.loaded_voltage"}),
    # 51 m off a plan: 2.7 %, known within 10 % (own judgement), which reaches over 3 %
    (
        "receptacle",
        change("run.length", basis="plan", stated="51 m"),
        {"run.length", "outlet.loaded_voltage"},
    ),
    # by the marks on the jacket within 2 %
    (
        "receptacle",
        change("run.length", basis="jacket marks", stated="51 m"),
        {"outlet.loaded_voltage"},
    ),
    # 15 m: 38 mΩ, which leave room for a supply
    ("receptacle", change("run.length", length="15.00 m"), set()),
    # 8 AWG, 60 °C terminals: 40 A for a 50 A device and 125 % of 40 A; 110.14(C)(1), 210.19(A)
    ("receptacle", change("run.conductor", size="8 AWG"), {"run.conductor"}),
    # 4 AWG: 41 740 / 26 240 = 1.59 times the area needed, and the ground grows as much, from 10
    # to 8 AWG, or to 6 AWG by the areas as they are printed; 250.122(B)
    ("receptacle", change("run.conductor", size="4 AWG"), {"run.grounding_conductor"}),
    # at 75 °C 8 AWG would do (50 A): the 6 AWG then is an enlarged one; 250.122(B)
    ("receptacle", change("run.conductor", terminals="75"), {"run.grounding_conductor"}),
    # unmarked terminals up to 100 A count as 60 °C; 110.14(C)(1)(a)
    ("receptacle", change("run.conductor", terminals="unmarked"), set()),
    # 6 AWG aluminum, 60 °C: 40 A
    (
        "receptacle",
        change("run.conductor", material="aluminum", is_marked_al=True),
        {"run.conductor"},
    ),
    # 75 A (90 °C insulation) × 0.87 = 65 A, still above the 55 A of the terminals; 310.15(B)
    ("receptacle", change("run.conductor", ambient="45 °C"), set()),
    # ten in one raceway: 75 A × 50 % = 37.5 A, under the 40 A load; table 310.15(C)(1)
    ("receptacle", change("run.conductor", carrying=10), {"run.conductor"}),
    # four: 75 A × 80 % = 60 A
    ("receptacle", change("run.conductor", carrying=4), set()),
    # THWN-2 is made for wet places; table 310.4(1)
    ("receptacle", change("run.conductor", is_wet=True), set()),
    # 75 °C insulation: 65 A × 0.82 = 53.3 A carries 48 A, and 60 A is the next size up; 240.4(B)
    ("hard-wired", change("run.conductor", ambient="45 °C"), set()),
    # 65 A × 0.75 = 48.75 A: the next size up is 50 A, the breaker is 60 A; 240.4(B)
    ("hard-wired", change("run.conductor", ambient="50 °C"), {"run.conductor"}),
    # aluminum, 75 °C: 50 A under 125 % of 48 A; and the terminals must be marked: 110.14(A)
    (
        "hard-wired",
        change("run.conductor", material="aluminum", is_marked_al=True),
        {"run.conductor", "outlet.termination"},
    ),
    # 14 AWG may be protected by 15 A at most; 240.4(D). Its own ground need be no larger: 250.122
    ("level 1", change("run.conductor", size="14 AWG"), {"run.conductor"}),
    # 50 A asks for 10 AWG copper; table 250.122
    (
        "receptacle",
        change("run.grounding_conductor", size="12 AWG"),
        {"run.grounding_conductor"},
    ),
    # 10 m of 10 AWG explain 0.03 Ω (ASTM B258 area, 58 MS/m): half an ohm is a joint
    (
        "receptacle",
        change("run.protective_conductor", ohm="0.50 Ω"),
        {"run.protective_conductor"},
    ),
    # 1 MΩ at 500 V DC; IEC 60364-6 table 6A
    ("receptacle", change("run.insulation", between="0.20 MΩ"), {"run.insulation"}),
    # above 16 A or 120 V a circuit of its own; 625.40
    ("receptacle", change("run.dedicated", is_alone=False, other_a="5 A"), {"run.dedicated"}),
    # 15 A + 13 A on 20 A; 210.20(A). At 12 A and 120 V a circuit may be shared: 625.40
    ("level 1", change("run.dedicated", is_alone=False, other_a="13 A"), {"run.dedicated"}),
    # -- breaker, charger ------------------------------------------------------------------------
    # 125 % of 40 A is 50 A, and 40 A carry 32 A for hours; 210.20(A), 625.41
    (
        "receptacle",
        change("breaker.rating", rated_a="40 A"),
        {"breaker.rating", "charger.configuration", "charger.offered_current"},
    ),
    # a single receptacle is rated as its circuit or more: 210.21(B)(1); the conductor's 55 A may
    # have the next size up: 240.4(B)
    ("receptacle", change("breaker.rating", rated_a="60 A"), {"outlet.configuration"}),
    # 48 A × 125 % = 60 A
    (
        "hard-wired",
        change("breaker.rating", rated_a="50 A"),
        {"breaker.rating", "charger.configuration", "charger.offered_current"},
    ),
    # two lines ask for two poles; 210.4(B), common practice
    ("receptacle", change("breaker.rating", poles="1"), {"breaker.rating"}),
    # the plate says 40 A (110.3(B)), which is all that it can give, and the pilot offers 40 A
    (
        "receptacle",
        change("charger.configuration", configured_a="48 A"),
        {"charger.configuration", "charger.offered_current"},
    ),
    # set lower than the pilot offers: 66.7 % × 0.6 = 40 A; SAE J1772
    (
        "receptacle",
        change("charger.configuration", configured_a="32 A"),
        {"charger.offered_current"},
    ),
    # set above its own plate; 110.3(B)
    ("receptacle", change("charger.nameplate", rated_a="32 A"), {"charger.configuration"}),
    # 53.3 % × 0.6 = 32 A: not what was set, and the vehicle draws 39.6 A of it; SAE J1772
    (
        "receptacle",
        change("charger.offered_current", duty="53.3 %"),
        {"charger.offered_current", "vehicle.power"},
    ),
    # above 60 A a disconnecting means; 625.43
    ("hard-wired", change("charger.nameplate", rated_a="80 A"), {"charger.disconnect"}),
    # 450 mm above an indoor floor; 625.50
    ("receptacle", change("charger.mounting", height="0.40 m"), {"charger.mounting"}),
    # 7.5 m (25 ft); 625.17(C)
    ("receptacle", change("charger.cable", length="9.0 m"), {"charger.cable"}),
    # state A is 12 V ± 0.6 V; SAE J1772
    ("receptacle", change("charger.pilot_voltage", state_a="10.50 V"), {"charger.pilot_voltage"}),
    # -- receptacle, ground fault ----------------------------------------------------------------
    # 30 A on a 50 A breaker: 210.21(B)(1); and 24 A is what it bears for hours: 210.21(B)(2)
    (
        "receptacle",
        change("outlet.configuration", kind="14-30"),
        {"outlet.configuration", "charger.configuration"},
    ),
    # the same amperes without a neutral serve as well; ANSI/NEMA WD 6
    ("receptacle", change("outlet.configuration", kind="6-50"), set()),
    # no ground: 406.4(A), from memory
    ("receptacle", change("outlet.configuration", kind="10-50"), {"outlet.configuration"}),
    # 15 A on a 20 A breaker, alone; 210.21(B)(1)
    ("level 1", change("outlet.configuration", kind="5-15"), {"outlet.configuration"}),
    # for EV charging at every receptacle: 625.54; without a device there is nothing to trip
    (
        "receptacle",
        change("outlet.ground_fault", device="none"),
        {"outlet.ground_fault", "outlet.ground_fault_trip"},
    ),
    # 30 mA protects equipment; UL 943
    (
        "receptacle",
        change("outlet.ground_fault", device_class="equipment"),
        {"outlet.ground_fault"},
    ),
    # Class A trips between 4 and 6 mA; UL 943
    (
        "receptacle",
        change("outlet.ground_fault_trip", trip_current="8.0 mA"),
        {"outlet.ground_fault_trip"},
    ),
    # a contact that does not grip, and a cool face that then proves nothing
    (
        "receptacle",
        change("outlet.retention", feel="loose"),
        {"outlet.retention", "outlet.temperature"},
    ),
    # 3 lbf, 13.3 N, for 15 A and 20 A; UL 498
    (
        "level 1",
        change("outlet.retention", line_force="8.0 N"),
        {"outlet.retention", "outlet.temperature"},
    ),
    # the label's torque; 110.14(D)
    (
        "receptacle",
        change("outlet.terminal_torque", applied="2.0 N·m"),
        {"outlet.terminal_torque", "outlet.temperature"},
    ),
    (
        "receptacle",
        change("breaker.terminal_torque", applied="2.0 N·m"),
        {"breaker.terminal_torque"},
    ),
    # 10.4 V at 39.6 A: 4.4 % at 40 A in run and supply together, which only the panel can part
    (
        "receptacle",
        change("outlet.loaded_voltage", outlet_loaded="230.0 V"),
        {"outlet.loaded_voltage", "outlet.temperature"},  # a cool face proves nothing then
    ),
    # 53 K over the air: a major deficiency; NETA ATS table 100.18
    ("receptacle", change("outlet.temperature", surface="75.0 °C"), {"outlet.temperature"}),
    # -- connector, vehicle ----------------------------------------------------------------------
    # not seated; and a cool handle that then proves nothing
    (
        "receptacle",
        change("connector.seating", gap="3.0 mm"),
        {"connector.seating", "connector.temperature"},
    ),
    # 238 V × 39.6 A = 9.4 kW
    ("receptacle", change("vehicle.power", displayed="6.0 kW"), {"vehicle.power"}),
    # -- place -----------------------------------------------------------------------------------
    # Type 2 and a cover that opens for the plug are not for a wet place; NEMA 250, 406.9(B)
    (
        "receptacle",
        change("surroundings.place", wetness="wet"),
        {"charger.nameplate", "outlet.cover"},
    ),
    # both serve a damp place; NEMA 250, 406.9(A)
    ("receptacle", change("surroundings.place", wetness="damp"), set()),
    # outdoors nobody asks for ventilation (625.52), and nothing stays dry
    (
        "receptacle",
        change("surroundings.place", location="outdoors"),
        {"surroundings.place", "charger.ventilation"},
    ),
    # -- service, panel --------------------------------------------------------------------------
    # 125 % of 150 A and 40 A are 227.5 A on 200 A; 220.87
    ("receptacle", change("service.load", demand_a="150 A"), {"service.load"}),
    # held to 20 A together: 125 % of 140 A and of 20 A are 200 A; 220.87, 625.42(A)
    (
        "receptacle",
        change(
            "service.load", demand_a="140 A", is_managed=True, manages="chargers", managed_a="20 A"
        ),
        MANAGED,
    ),
    # the whole held to 170 A: 125 % of it is 212.5 A; 220.70, 750.30
    (
        "receptacle",
        change("service.load", is_managed=True, manages="service", managed_a="170 A"),
        {"service.load"} | MANAGED,
    ),
    # a 30-day record beside generation; 220.87 exception
    (
        "receptacle",
        change("service.load", method="month", is_generating=True),
        {"service.load"},
    ),
    # the bus is protected at its rating; 408.36
    ("receptacle", change("panel.rating", bus_a="125 A"), {"panel.rating"}),
    # a bus is dead under 3 V (own judgement), and nothing counts that a hand inside did
    (
        "receptacle",
        change("panel.absence_of_voltage", highest="119.0 V"),
        {"panel.absence_of_voltage"},
    ),
    # 110.9
    ("receptacle", change("panel.interrupting", available="25 kA"), {"panel.interrupting"}),
    # 0.9 m (3 ft) in front of a panel up to 150 V to ground; table 110.26(A)(1)
    ("receptacle", change("panel.working_space", depth="0.70 m"), {"panel.working_space"}),
    # 200 A and 125 % of 80 A are 300 A on 120 % of 200 A; 705.12(B)
    (
        "receptacle",
        change(
            "service.other_sources",
            is_present=True,
            place="opposite end",
            bus_a="200 A",
            device_a="200 A",
            output_a="80 A",
        ),
        {"service.other_sources"},
    ),
    # ANSI C84.1 range A: 228 V and 114 V at the service
    (
        "receptacle",
        change("service.supply_voltage", l1_l2="222.0 V", l1_n="111.0 V", l2_n="111.0 V"),
        {"service.supply_voltage"},
    ),
]


def named(row: tuple[str, Change, set[str]]) -> Any:
    base, (check, answers), _ = row
    told = ", ".join(f"{name} {value}" for name, value in answers.items())
    return pytest.param(*row, id=f"{base}: {check} {told}")


@pytest.mark.parametrize(("base", "changed", "expected"), [named(row) for row in CHANGES])
def test_one_change_moves_the_right_verdicts_and_no_others(
    base: str, changed: Change, expected: set[str]
):
    before, after = sound(base), verdicts(built(base, dict([changed])))
    assert {c for c in after if after[c] is not before[c]} == expected


# What the Canadian profile does not prove: its text was not read there (known from memory, or only
# the other code's figure is at hand), so that good work stays open, and is never called bad.
UNREAD: Final = {
    "service.supply_voltage",  # CAN3-C235 bands
    "panel.working_space",
    "breaker.rating",  # table 13
    "run.conductor",  # 4-006
    "run.grounding_conductor",  # table 16, 10-616
    "outlet.no_load_voltage",
    "outlet.cover",
    "outlet.temperature",  # 4-006 again: what its terminals may reach
    "charger.mounting",
    "charger.ventilation",  # 86-400 and following
    "charger.cable",
    "charger.supply_cord",
    "charger.disconnect",  # 86-304, read in an older edition
}


@pytest.mark.parametrize("base", BASES)
def test_the_other_code_moves_what_it_was_not_read_on_and_nothing_else(base: str):
    under = under_each(lambda code: assess(built(base, {}), code))
    before, after = ({r.check: r for r in found.rows} for found in under.values())
    moved = {c for c in after if after[c].judgement.verdict is not before[c].judgement.verdict}
    assert moved <= UNREAD
    assert moved >= UNREAD - {
        "outlet.cover",
        "charger.mounting",
        "charger.supply_cord",
        "charger.disconnect",
    }
    for check in moved:
        judged = after[check].judgement
        assert judged.verdict is Verdict.BORDERLINE
        sources = (*judged.sources, *(limit.source for limit in judged.limits))
        assert not all(source.can_prove for source in sources), check


# One change, and its verdict by either code: clauses of NEC 2023, then of CE Code 2021.
BY_CODE: Final[list[tuple[str, Change, Verdict, Verdict]]] = [
    # 625.40: beyond 16 A or 120 V; 86-300 1): the circuit supplies nothing else in any case
    (
        "level 1",
        change("run.dedicated", is_alone=False, other_a="2 A"),
        Verdict.WITHIN,
        Verdict.OUTSIDE,
    ),
    # 210.21(B)(3): two or more 20 A on 20 A; 86-306 1): at 125 V a single 5-20
    ("level 1", change("outlet.configuration", count="duplex"), Verdict.WITHIN, Verdict.OUTSIDE),
    # 625.44: 5-15 on 15 A; 86-306 1): not at all
    (
        "level 1",
        change("outlet.configuration", kind="5-15"),
        Verdict.OUTSIDE,  # 15 A on a 20 A circuit, 210.21(B)(1)
        Verdict.OUTSIDE,
    ),
    # 625.54: every receptacle for charging; 86-306 2): a 5-20 outdoors
    ("receptacle", change("outlet.ground_fault", device="none"), Verdict.OUTSIDE, Verdict.WITHIN),
    # 220.87 exception: 30 days; 8-106 8): 12 months
    (
        "receptacle",
        change("service.load", method="month", is_generating=False),
        Verdict.WITHIN,
        Verdict.BORDERLINE,
    ),
    # 125 % of 120 A and 40 A are 190 A on 200 A, or 200 A with the new load at 125 %, 220.87; 80 %
    # of the rating for demand and charger together, 8-106 8)
    ("receptacle", change("service.load", demand_a="120 A"), Verdict.WITHIN, Verdict.WITHIN),
    ("receptacle", change("service.load", demand_a="125 A"), Verdict.BORDERLINE, Verdict.OUTSIDE),
]


@pytest.mark.parametrize(("base", "changed", "nec", "cec"), BY_CODE)
def test_the_same_change_by_either_code(base: str, changed: Change, nec: Verdict, cec: Verdict):
    check = changed[0]
    found = under_each(lambda code: verdicts(built(base, dict([changed])), code.name)[check])
    assert found == {"nec_2023": nec, "cec_2021": cec}


@pytest.mark.parametrize(
    ("code", "force", "severity"),
    [
        # a recommendation of the NEC, 210.19 informational note
        ("nec_2023", Force.RECOMMENDATION, Severity.NOTICE),
        # a rule of the Canadian Electrical Code, 8-102
        ("cec_2021", Force.CODE_RULE, Severity.WARNING),
    ],
)
def test_the_other_code_makes_a_rule_of_the_same_drop(code: str, force: Force, severity: Severity):
    made = built("receptacle", {"run.length": {"length": "60.00 m"}})
    found = assess(made, profile(code)).row("run.length", POINT).judgement
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, severity)
    assert [limit.force for limit in found.limits] == [force]


def test_there_are_enough_changes_and_each_moves_something_of_its_own():
    assert len(CHANGES) >= 30
    moved = {check for *_, expected in CHANGES for check in expected}
    assert len(moved) >= 30, sorted(moved)
