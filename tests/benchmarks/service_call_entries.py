"""What was found at a simulated service call, as the entries a technician makes of it."""

from collections.abc import Callable

from checks.record import Role, Visit, VisitKind
from tests.benchmarks.service_call_readings import Found
from tests.benchmarks.service_calls import World
from tests.builders import conductor, level_1, point, visit, with_entries

Plain = dict[str, dict[str, object]]


def entries(world: World, made: dict[str, Found]) -> Plain:
    """The entries that a technician makes of what was found."""
    plain: Plain = {
        "charger.configuration": {"configured_a": f"{world.charger_a:g} A", "access": "tool"}
    }
    for check, found in made.items():
        plain |= WRITE[check](world, found)
    if "outlet.loaded_voltage" in made or "vehicle.power" in made:
        plain["outlet.loaded_voltage"] = _loaded(world, made)
    return plain


def _is(found: Found, name: str) -> bool:
    return found.get(name) == "yes"


def _trips(_: World, found: Found) -> Plain:
    said = {"when": found["trips"]}
    if "trip_kind" in found:
        said["kind"] = found["trip_kind"]
    return {"breaker.trip_history": said}


def _ground_fault(_: World, found: Found) -> Plain:
    said = {"device": found["ground_fault"]}
    if "ground_fault_when" in found:
        said["when"] = found["ground_fault_when"]
    return {"outlet.ground_fault_history": said}


def _burn(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"place": found["burn_place"]}
    if found["burn_place"] in ("terminal", "contact"):
        said |= {"is_one_sided": True, "has_arc_beads": False}
    return {"outlet.burn_pattern": said}


def _behavior(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"start": found["starts"], "is_offline": False}
    if "fault_shown" in found:
        said["fault"] = found["fault_shown"]
    if "stops" in found:
        said |= {"stops": found["stops"], "is_slow": _is(found, "slow")}
    return {"charger.behavior": said}


def _when(_: World, found: Found) -> Plain:
    names = {
        "rain": "is_after_rain",
        "hot": "is_on_hot_days",
        "other_loads": "is_with_other_loads",
        "other_vehicles": "is_with_other_vehicles",
        "storm": "is_since_storm",
        "new": "is_since_new",
    }
    return {"surroundings.circumstances": {names[n]: _is(found, n) for n in names}}


def _trial(_: World, found: Found) -> Plain:
    said = {"timer": "on" if _is(found, "timer") else "off", "elsewhere": "untried"}
    if "timer_off" in found:
        said["at_once"] = "starts" if _is(found, "timer_off") else "no_start"
    said["others"] = "fine" if _is(found, "others_fine") else "same"
    return {"vehicle.trial": said}


def _dedicated(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"is_alone": not _is(found, "others_on_circuit")}
    if "other_a" in found:
        said["other_a"] = f"{max(0.1, float(found['other_a'])):.1f} A"
    return {"run.dedicated": said}


def _breaker_rating(world: World, _: Found) -> Plain:
    return {"breaker.rating": {"rated_a": f"{world.rated_a} A", "poles": str(world.level)}}


def _warmth(_: World, found: Found) -> Plain:
    air = float(found["panel_air"])
    face = air + 14.0 + float(found["face_over"])
    said = {"face": f"{face:.1f} °C", "neighbor": f"{air + 14.0:.1f} °C", "air": f"{air:.1f} °C"}
    return {"breaker.temperature": said}


def _torque(check: str, name: str) -> Callable[[World, Found], Plain]:
    def write(_: World, found: Found) -> Plain:
        state = "loose" if _is(found, name) else "not loose"
        return {check: {"occasion": "found", "found": state}}

    return write


def _marks(_: World, found: Found) -> Plain:
    seen = {"has_heat_marks": _is(found, "breaker_marks"), "is_damaged": False}
    return {
        "breaker.condition": seen | {"is_tripped_unknown": False},
        "panel.condition": dict.fromkeys(
            ("has_heat_marks", "is_wet", "is_corroded", "has_openings"), False
        ),
    }


def _damage(_: World, found: Found) -> Plain:
    seen = {"has_heat_marks": _is(found, "outlet_marks"), "is_cracked": False}
    return {
        "outlet.damage": seen | {"is_wet": _is(found, "wet")},
        "charger.damage": dict.fromkeys(
            ("is_case_broken", "is_cable_cut", "has_heat_marks", "has_water"), False
        ),
    }


def _loaded(world: World, made: dict[str, Found]) -> dict[str, object]:
    drawn = made.get("vehicle.power")
    amps = world.charger_a
    said: dict[str, object] = {"load": "test load"}
    if drawn is not None:
        amps *= float(drawn["offer_ratio"]) * float(drawn["draw_ratio"])
        said["load"] = "vehicle"
    said["current"] = f"{max(1.0, amps):.1f} A"
    found = made.get("outlet.loaded_voltage")
    if found is None:
        return said
    free_v = float(found["volts"])
    panel_v = free_v - amps * float(found["supply_ohm"])
    outlet_v = panel_v - amps * float(found["branch_ohm"])
    return said | {
        "outlet_no_load": f"{free_v:.1f} V",
        "outlet_loaded": f"{outlet_v:.1f} V",
        "panel_no_load": f"{free_v:.1f} V",
        "panel_loaded": f"{panel_v:.1f} V",
    }


def _run(world: World, _: Found) -> Plain:
    return {
        "run.conductor": conductor(world.size),
        "run.length": {"basis": "measured", "length": f"{world.length_m:.1f} m"},
    }


def _insulation(_: World, found: Found) -> Plain:
    mohm = 10 ** float(found["insulation_log"])
    said = {
        "place": "panel",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": f"{mohm:.3f} MΩ",
    }
    return {"run.insulation": said | {"second_ground": "300 MΩ", "between": "300 MΩ"}}


def _device(_: World, found: Found) -> Plain:
    device = {"device": "breaker", "device_class": "class_a", "is_accessible": True}
    test = {"is_tripped_by_button": True, "is_restored": True, "method": "current"}
    test["trip_current"] = f"{float(found['device_ma']):.2f} mA"
    return {"outlet.ground_fault": device, "outlet.ground_fault_trip": test}


def _seating(_: World, found: Found) -> Plain:
    seat = {"is_held": True, "has_clicked": True, "is_rocking": False, "gap": "0.5 mm"}
    free, pressed = float(found["prox_free"]), float(found["prox_pressed"])
    ohms = {"latched_ohm": f"{free:.0f} Ω", "pressed_ohm": f"{pressed:.0f} Ω"}
    return {"connector.seating": seat | ohms}


def _pilot(_: World, found: Found) -> Plain:
    names = {"pilot_a": "state_a", "pilot_b": "state_b", "pilot_c": "state_c"}
    names["pilot_negative"] = "negative"
    said = {names[n]: f"{float(v):.2f} V" for n, v in found.items()}
    return {"charger.pilot_voltage": said}


def _power(world: World, found: Found) -> Plain:
    offer = world.charger_a * float(found["offer_ratio"])
    kw = offer * float(found["draw_ratio"]) * (0.12 if world.level == 1 else 0.24)
    reason = "temperature" if _is(found, "vehicle_says") else "none"
    return {
        "charger.offered_current": {"method": "amps", "amps": f"{offer:.1f} A"},
        "vehicle.power": {"displayed": f"{kw:.2f} kW", "reason": reason},
    }


def _nameplate(world: World, found: Found) -> Plain:
    rated_a = world.charger_a * float(found["nameplate_ratio"])
    volts = "120" if world.level == 1 else "240"
    said = {"rated_a": f"{rated_a:.0f} A", "volts": volts, "is_listed": True}
    return {"charger.nameplate": said | {"enclosure": "type_3r"}}


def _managed(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"method": "year", "demand_a": "60 A", "is_included": False}
    said["is_managed"] = _is(found, "managed")
    if said["is_managed"]:
        said["managed_a"] = "24 A"
    return {"service.load": said}


WRITE = {
    "breaker.trip_history": _trips,
    "outlet.ground_fault_history": _ground_fault,
    "outlet.burn_pattern": _burn,
    "charger.behavior": _behavior,
    "surroundings.circumstances": _when,
    "vehicle.trial": _trial,
    "breaker.rating": _breaker_rating,
    "run.dedicated": _dedicated,
    "breaker.temperature": _warmth,
    "breaker.terminal_torque": _torque("breaker.terminal_torque", "breaker_loose"),
    "breaker.condition": _marks,
    "outlet.damage": _damage,
    "outlet.terminal_torque": _torque("outlet.terminal_torque", "outlet_loose"),
    "outlet.retention": lambda _, f: {
        "outlet.retention": {"feel": "loose" if _is(f, "grip_loose") else "firm"}
    },
    "outlet.grade": lambda _, f: {"outlet.grade": {"grade": f["grade"]}},
    "outlet.loaded_voltage": _run,
    "outlet.series_devices": lambda _, f: {
        "outlet.series_devices": {
            "second": "present" if _is(f, "second_device") else "none",
            "instructions": "silent",
        }
    },
    "outlet.ground_fault_trip": _device,
    "run.insulation": _insulation,
    "run.protective_conductor": lambda _, f: {
        "run.protective_conductor": {"place": "panel", "are_leads_nulled": True, "reading": "open"}
        if _is(f, "ground_open")
        else {"place": "panel", "are_leads_nulled": True, "reading": "value", "ohm": "0.06 Ω"}
    },
    "connector.pins": lambda _, f: {
        "connector.pins": dict.fromkeys(("has_burn_marks", "is_pitted", "is_cracked"), False)
        | {"has_debris": _is(f, "debris")}
    },
    "charger.pilot_voltage": _pilot,
    "connector.seating": _seating,
    "vehicle.power": _power,
    "charger.nameplate": _nameplate,
    "service.load": _managed,
}


def a_visit(world: World, made: dict[str, Found]) -> Visit:
    here = level_1() if world.level == 1 else point()
    call = visit(kind=VisitKind.SERVICE_CALL, role=Role.SERVES, points=(here,))
    return with_entries(call, entries(world, made))
