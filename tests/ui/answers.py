"""Plausible answers of a sound installation, by check and input; all of it invented.

Level 2 at 240 V: 40 A charger on a 50 A circuit, 6 AWG copper, 20 m. What is not listed is
answered by its kind: the answer that speaks for the work, the first option, the middle of the
plausible range.
"""

from typing import Final

from checks.check import AnyInput, Choice, Measurement, Rating, YesNo
from checks.quantity import from_si

ANSWERS: Final[dict[str, str]] = {
    "service.rating.service_a": "200",
    "service.rating.main_a": "200",
    "service.load.method": "year",
    "service.load.demand_a": "60",
    "service.load.is_included": "no",
    "service.load.is_managed": "no",
    "service.other_sources.is_present": "no",
    "service.supply_voltage.l1_l2": "242.1",
    "service.supply_voltage.l1_n": "121.0",
    "service.supply_voltage.l2_n": "121.1",
    "panel.rating.bus_a": "200",
    "panel.rating.ahead": "main",
    "panel.rating.main_a": "200",
    "panel.load.method": "year",
    "panel.load.demand_a": "60",
    "panel.load.is_included": "no",
    "panel.load.is_managed": "no",
    "panel.interrupting.available": "9",
    "panel.interrupting.basis": "utility",
    "panel.interrupting.rating": "22",
    "panel.spaces.spare": "6",
    "panel.working_space.opposite": "1",
    "panel.working_space.depth": "1.20",
    "panel.working_space.width": "0.90",
    "panel.working_space.height": "2.10",
    "panel.absence_of_voltage.known_before": "121.3",
    "panel.absence_of_voltage.highest": "0.1",
    "panel.absence_of_voltage.known_after": "121.2",
    "panel.neutral_bond.bond": "present",
    "panel.neutral_bond.reading": "value",
    "panel.neutral_bond.ohm": "0.02",
    "breaker.rating.rated_a": "50",
    "breaker.rating.poles": "2",
    "breaker.absence_of_voltage.known_before": "121.3",
    "breaker.absence_of_voltage.highest": "0.1",
    "breaker.absence_of_voltage.known_after": "121.2",
    "breaker.terminal_torque.occasion": "tightening",
    "breaker.terminal_torque.label": "5.0",
    "breaker.terminal_torque.applied": "5.0",
    "run.conductor.size": "6 AWG",
    "run.conductor.material": "copper",
    "run.conductor.insulation": "THWN-2",
    "run.conductor.method": "EMT",
    "run.conductor.is_wet": "no",
    "run.conductor.terminals": "75",
    "run.conductor.ambient": "30",
    "run.conductor.carrying": "3",
    "run.length.basis": "measured",
    "run.length.length": "20.0",
    "run.grounding_conductor.kind": "wire",
    "run.grounding_conductor.size": "8 AWG",
    "run.grounding_conductor.material": "copper",
    "run.protective_conductor.reading": "value",
    "run.protective_conductor.ohm": "0.07",
    "run.insulation.test_v": "500",
    "run.insulation.line_ground": "210",
    "run.insulation.second_ground": "190.0",
    "run.insulation.between": "230",
    "run.protection.is_buried": "no",
    "outlet.configuration.kind": "14-50",
    "outlet.configuration.count": "single",
    "outlet.grade.grade": "charging",
    "outlet.cover.cover": "in_use",
    "outlet.ground_fault.device": "breaker",
    "outlet.ground_fault.device_class": "class_a",
    "outlet.series_devices.second": "none",
    "outlet.series_devices.instructions": "allow",
    "outlet.retention.feel": "firm",
    "outlet.terminal_torque.occasion": "tightening",
    "outlet.terminal_torque.label": "8.5",
    "outlet.terminal_torque.applied": "8.5",
    "outlet.no_load_voltage.conductors": "two_lines_neutral",
    "outlet.no_load_voltage.line_line": "241.9",
    "outlet.no_load_voltage.l1_ground": "120.9",
    "outlet.no_load_voltage.l2_ground": "121.0",
    "outlet.no_load_voltage.l1_neutral": "120.9",
    "outlet.no_load_voltage.l2_neutral": "121.0",
    "outlet.no_load_voltage.line_neutral": "120.9",
    "outlet.no_load_voltage.line_ground": "120.9",
    "outlet.no_load_voltage.neutral_ground": "0.2",
    "outlet.loaded_voltage.load": "test load",
    "outlet.loaded_voltage.outlet_no_load": "241.9",
    "outlet.loaded_voltage.current": "39.6",
    "outlet.loaded_voltage.outlet_loaded": "239.5",
    "outlet.temperature.sign": "none",
    "outlet.temperature.method": "contact",
    "outlet.temperature.surface": "31.0",
    "outlet.temperature.ambient": "22.0",
    "outlet.temperature.current": "39.6",
    "charger.nameplate.rated_v": "240",
    "charger.nameplate.rated_a": "40",
    "charger.nameplate.enclosure": "type_3r",
    "charger.configuration.configured_a": "40",
    "charger.configuration.access": "tool",
    "charger.mounting.height": "1.10",
    "charger.ventilation.marking": "not_required",
    "charger.disconnect.is_present": "yes",
    "charger.cable.length": "5.5",
    "charger.cable.is_managed": "no",
    "charger.supply_cord.length": "0.3",
    "charger.offered_current.method": "duty",
    "charger.offered_current.duty": "66.6",
    "charger.pilot_voltage.state_a": "12.0",
    "charger.pilot_voltage.state_b": "9.0",
    "charger.pilot_voltage.state_c": "6.0",
    "charger.pilot_voltage.negative": "-12.0",
    "charger.contactor_open.meter": "low",
    "charger.contactor_open.highest": "0.1",
    "charger.ground_monitor.reaction": "refuses",
    "connector.temperature.sign": "none",
    "connector.temperature.method": "contact",
    "connector.temperature.surface": "30.0",
    "connector.temperature.ambient": "22.0",
    "connector.temperature.current": "39.6",
    "connector.seating.gap": "0.2",
    "vehicle.power.displayed": "9.4",
    "vehicle.power.reason": "none",
    "surroundings.place.location": "garage",
    "surroundings.place.wetness": "dry",
    "surroundings.place.hazard": "none",
    "surroundings.vehicle_impact.is_exposed": "no",
    "handover.documents.permit": "passed",
}


def plausible(check_id: str, asked: AnyInput) -> str:
    """The answer to one input: an option, "yes" or "no", words, or digits; "" passes it over."""
    listed = ANSWERS.get(f"{check_id}.{asked.name}")
    if listed is not None:
        return listed
    if asked.optional and not (isinstance(asked, YesNo) and asked.good is not None):
        return ""
    if isinstance(asked, YesNo):
        return "no" if asked.good is False else "yes"
    if isinstance(asked, Choice):
        return asked.options[0].value
    if isinstance(asked, Measurement | Rating):
        low, high = (from_si(x, asked.units[0]) for x in asked.plausible)
        return f"{(low + min(high, low + 100)) / 2:.1f}"
    return "Invented"
