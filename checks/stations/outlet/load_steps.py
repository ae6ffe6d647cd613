"""What a load test adds to the voltage staircase, and what metal alone would leave."""

from checks.check import Situation
from checks.electrical.joint import Joint
from checks.quantity import nominal
from checks.units import Number
from checks.verdict import VoltageStep


def steps(s: Situation, found: Joint | None) -> tuple[VoltageStep, ...]:
    """Return panel and outlet as far as they were read, from the utility on."""
    panel_v = s.measured("outlet.loaded_voltage.panel_loaded")
    panel = VoltageStep(
        label=s.panel.name,
        no_load_v=_one(s.measured("outlet.loaded_voltage.panel_no_load")),
        loaded_v=_one(panel_v),
        metal_v=_one(panel_v),
    )
    outlet = VoltageStep(
        label="Outlet",
        no_load_v=_one(s.measured("outlet.loaded_voltage.outlet_no_load")),
        loaded_v=_one(s.measured("outlet.loaded_voltage.outlet_loaded")),
        metal_v=_one(_metal_v(s, found)),
    )
    if not outlet.metal_v:
        panel = panel.model_copy(update={"metal_v": ""})
    return tuple(x for x in (panel, outlet) if x.no_load_v or x.loaded_v)


def _metal_v(s: Situation, found: Joint | None) -> Number | None:
    """Return the loaded volts at the outlet if nothing but metal lay between it and the panel."""
    loaded_v = s.measured("outlet.loaded_voltage.outlet_loaded")
    current_a = s.measured("outlet.loaded_voltage.current")
    if loaded_v is None or current_a is None or found is None or found.line.supply is None:
        return None
    return loaded_v + current_a * found.excess_ohm


def _one(volts: Number | None) -> str:
    return "" if volts is None else f"{nominal(volts):.1f}"
