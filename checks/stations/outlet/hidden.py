"""What a load test at outlet and panel tells: drops, and the resistance copper does not explain."""

from dataclasses import dataclass
from typing import Final

from uncertainties import ufloat

from checks.check import Situation
from checks.electrical.hidden_resistance import (
    branch_ohm,
    excess_ohm,
    heat_w,
    metal_loop_ohm,
    source_ohm,
)
from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import SQRT_3, Number, expanded, nominal
from checks.source import judgement
from checks.stations.circuit_facts import conductor, run_length_m
from checks.stations.outlet.where import is_receptacle

LOADED_C: Final = 40.0
LOADED_SPREAD_K: Final = 20.0
LOADED: Final = judgement("conductors under load are taken to be between 20 and 60 °C")

RECEPTACLE_OHM: Final = 0.006
WIRED_OHM: Final = 0.003
JOINTS: Final = judgement(
    "sound joints of both lines: 3 mΩ for terminals, 3 mΩ more for the contacts of a receptacle"
)
HOT_W: Final = 10.0
HOT: Final = judgement("10 W in one place heats a joint until it burns")


@dataclass(frozen=True)
class LoadTest:
    """Volts without and with load, at the outlet and perhaps at the panel, and the current."""

    current_a: Number
    no_load_v: Number
    loaded_v: Number
    panel_no_load_v: Number | None
    panel_loaded_v: Number | None

    @property
    def drop_v(self) -> Number:
        """Volts lost before the outlet, the utility's share included. [V]."""
        return self.no_load_v - self.loaded_v

    @property
    def panel_drop_v(self) -> Number | None:
        """Volts lost before the panel, if they were read there. [V]."""
        if self.panel_no_load_v is None or self.panel_loaded_v is None:
            return None
        return self.panel_no_load_v - self.panel_loaded_v

    @property
    def branch_drop_v(self) -> Number | None:
        """Volts lost between panel and outlet, if the panel was read. [V]."""
        panel_v = self.panel_drop_v
        return None if panel_v is None else self.drop_v - panel_v


def load_test(s: Situation) -> LoadTest | None:
    """Return the load test of this point; nothing while it is incomplete or no current flowed."""
    current_a = s.measured("outlet.loaded_voltage.current")
    no_load_v = s.measured("outlet.loaded_voltage.outlet_no_load")
    loaded_v = s.measured("outlet.loaded_voltage.outlet_loaded")
    if current_a is None or no_load_v is None or loaded_v is None or nominal(current_a) <= 0:
        return None
    return LoadTest(
        current_a,
        no_load_v,
        loaded_v,
        s.measured("outlet.loaded_voltage.panel_no_load"),
        s.measured("outlet.loaded_voltage.panel_loaded"),
    )


@dataclass(frozen=True)
class Excess:
    """Resistance between panel and outlet: found, explained by the metal, and what is left. [Ω]."""

    found_ohm: Number
    metal_ohm: Number
    excess_ohm: Number
    allowed_ohm: float
    working: tuple[str, ...]

    @property
    def is_plausible(self) -> bool:
        """Whether there is as much resistance as the metal of the run has at the least."""
        return nominal(self.excess_ohm) + expanded(self.excess_ohm) >= 0

    def heat_w(self, current_a: float) -> float:
        """Heat of the excess at a current, by the best estimate. [W]."""
        return nominal(heat_w(self.excess_ohm, current_a))

    def most_heat_w(self, current_a: float) -> float:
        """Heat that the readings do not rule out. [W]."""
        return float(heat_w(nominal(self.excess_ohm) + expanded(self.excess_ohm), current_a))

    def leaves_no_heat(self, current_a: float) -> bool:
        """Whether the readings rule out a joint that burns at this current."""
        return self.is_plausible and self.most_heat_w(current_a) < HOT_W


def excess(s: Situation) -> Excess | None:
    """Return the resistance that the copper of the run does not explain, if it can be known."""
    test, metal, length_m = load_test(s), conductor(s), run_length_m(s)
    if test is None or test.panel_drop_v is None or metal is None or length_m is None:
        return None
    try:
        temp_c = ufloat(LOADED_C, LOADED_SPREAD_K / SQRT_3)
        metal_ohm = metal_loop_ohm(*metal, length_m, temp_c)
    except (OutOfTableError, OutOfRangeError):
        return None
    found_ohm = branch_ohm(test.panel_drop_v, test.drop_v, test.current_a)
    left_ohm = excess_ohm(found_ohm, metal_ohm)
    supply_ohm = source_ohm(test.panel_no_load_v, test.panel_loaded_v, test.current_a)
    return Excess(
        found_ohm,
        metal_ohm,
        left_ohm,
        RECEPTACLE_OHM if is_receptacle(s) else WIRED_OHM,
        (
            f"supply up to the panel: {_mohm(supply_ohm)}",
            f"panel to outlet: {_mohm(found_ohm)}",
            f"{nominal(length_m):.3g} m of {metal[0]} {metal[1]}, out and back: "
            f"{_mohm(metal_ohm)} ({LOADED})",
            f"not explained by the metal: {_mohm(left_ohm)}",
        ),
    )


def _mohm(ohm: Number) -> str:
    return f"{1000 * nominal(ohm):.0f} ± {1000 * expanded(ohm):.0f} mΩ"


def leg_words(s: Situation) -> str:
    """Return on which leg more is lost, where both legs were read; to follow a sentence."""
    legs = _leg_drops_v(s)
    if legs is None:
        return ""
    difference = legs[0] - legs[1]
    if abs(nominal(difference)) <= expanded(difference):
        return "; shared by both legs, as far as the readings show"
    leg = "L1" if nominal(difference) > 0 else "L2"
    return f"; more of it on {leg} (L1 loses {nominal(legs[0]):.1f} V, L2 {nominal(legs[1]):.1f} V)"


def _leg_drops_v(s: Situation) -> tuple[Number, Number] | None:
    l1_v, l1_loaded_v = (
        s.measured("outlet.loaded_voltage.l1_no_load"),
        s.measured("outlet.loaded_voltage.l1_loaded"),
    )
    l2_v, l2_loaded_v = (
        s.measured("outlet.loaded_voltage.l2_no_load"),
        s.measured("outlet.loaded_voltage.l2_loaded"),
    )
    if l1_v is None or l1_loaded_v is None or l2_v is None or l2_loaded_v is None:
        return None
    return l1_v - l1_loaded_v, l2_v - l2_loaded_v
