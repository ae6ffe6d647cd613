"""Sound visits, every check answered: what is changed in them one at a time."""

from collections.abc import Mapping
from functools import cache
from typing import Any, Final, TypeAlias

from checks.assess import assess
from checks.codes import profile
from checks.record import ChargingPoint, Site, Visit
from checks.verdict import Verdict
from tests.builders import hard_wired, level_1, point, visit, with_entries

Entries: TypeAlias = Mapping[str, Mapping[str, Any]]
Change: TypeAlias = tuple[str, dict[str, Any]]

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
    "breaker.terminal_torque": TIGHT,
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
    "outlet.termination": {
        "is_relieved": True,
        "are_strands_captured": True,
        "is_insulation_clear": True,
    },
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
        "outlet.termination": {"is_entry_sealed": True},
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
        "outlet.mounting": {"is_tamper_resistant": True},
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


def change(check: str, **answers: Any) -> Change:
    return check, answers
