"""The drop against pandapower's power flow of the same feeder.

Newton and Raphson's method on nodal powers, and on symmetrical components where a load lies between
two lines of three; nothing of it is shared with what it checks. Its load is a power, so current and
voltage at the charger are both its own answer. The ohms come from the table as typed here.
"""

from cmath import rect
from functools import cache
from itertools import product
from math import acos, radians, sin
from typing import NamedTuple

import pandapower
import pytest

from checks.codes.circuit import design_ohm_per_m
from checks.electrical import drop, supply
from tests.reference.case import nec

# NEC 2023 chapter 9 table 9, copper in steel conduit, Ω/1000 ft to neutral: X, R
OHM_PER_KFT = {
    "14 AWG": (0.073, 3.1),
    "8 AWG": (0.065, 0.78),
    "6 AWG": (0.064, 0.49),
    "4 AWG": (0.060, 0.31),
    "4/0 AWG": (0.051, 0.063),
}


class Run(NamedTuple):
    size: str
    length_ft: float

    @property
    def ohm(self) -> complex:
        reactance, resistance = OHM_PER_KFT[self.size]
        return complex(resistance, reactance) * self.length_ft / 1000


class Point(NamedTuple):
    """What the power flow finds at the end of a run."""

    volts: float
    amps: float


class Net:
    """A stiff source and what is fed from it, on all three phases of pandapower's lines.

    A two-wire circuit is one phase of these, with both wires in its ohms; its volts are then phase
    to neutral.
    """

    def __init__(self, source_v: float, *, phases: int) -> None:
        self.source_v, self.is_two_wire = source_v, phases == 1
        self.grid = pandapower.create_empty_network(f_hz=60.0)
        self.source = self._bus()
        # short-circuit power and ratios count in the unbalanced flow only
        pandapower.create_ext_grid(
            self.grid, self.source, s_sc_max_mva=1e9, rx_max=0.1, x0x_max=1.0, r0x0_max=0.1
        )

    def _bus(self) -> int:
        scale = 3**0.5 if self.is_two_wire else 1.0
        return int(pandapower.create_bus(self.grid, vn_kv=scale * self.source_v / 1e3))

    def extend(self, ohm: complex, start: int | None = None) -> int:
        """Lay a run of these ohms a conductor; its far end."""
        ohm, far = ohm * (2 if self.is_two_wire else 1), self._bus()
        pandapower.create_line_from_parameters(
            self.grid,
            self.source if start is None else start,
            far,
            length_km=1.0,
            r_ohm_per_km=ohm.real,
            x_ohm_per_km=ohm.imag,
            c_nf_per_km=0.0,
            max_i_ka=1.0,
            r0_ohm_per_km=ohm.real,
            x0_ohm_per_km=ohm.imag,
            c0_nf_per_km=0.0,
        )
        return far

    def load(self, bus: int, watts: float, power_factor: float = 1.0) -> None:
        mega = (3 if self.is_two_wire else 1) * watts / 1e6
        pandapower.create_load(
            self.grid, bus, p_mw=mega, q_mvar=mega / power_factor * sin(acos(power_factor))
        )

    def solve(self) -> list[Point]:
        """Volts at every end and amps of its run, in the order in which they were laid."""
        pandapower.runpp(self.grid, tolerance_mva=1e-13, numba=False)
        volts = [self.source_v * each for each in self.grid.res_bus.vm_pu[1:]]
        amps = [1e3 * each for each in self.grid.res_line.i_to_ka]
        return [Point(*each) for each in zip(volts, amps, strict=True)]


def lost_v(run: Run, amps: float, phases: int = 1) -> float:
    """What this project says, from the resistance alone."""
    return float(drop.drop_v(amps, run.ohm.real, phases=phases))


def near(lost: float) -> object:
    """Reactance is left out: at a charger's power factor it is worth 2 % of the drop, or 20 mV."""
    return pytest.approx(lost, rel=0.02, abs=0.02)


RUNS = {
    Run("14 AWG", 65): 1_440,
    Run("8 AWG", 200): 7_680,
    Run("6 AWG", 120): 9_600,
    Run("4 AWG", 250): 19_200,
}
POWER_FACTORS = (1.0, 0.99)


@cache
def solved(phases: int) -> dict[tuple[Run, float], Point]:
    """Every run at every power factor, each from the same source."""
    net, laid = Net(240.0, phases=phases), []
    for run, power_factor in product(RUNS, POWER_FACTORS):
        net.load(net.extend(run.ohm), RUNS[run], power_factor)
        laid.append((run, power_factor))
    return dict(zip(laid, net.solve(), strict=True))


@pytest.mark.parametrize("phases", [1, 3])
@pytest.mark.parametrize("power_factor", POWER_FACTORS)
@pytest.mark.parametrize("run", RUNS, ids=lambda run: run.size)
def test_the_drop_agrees(run: Run, power_factor: float, phases: int) -> None:
    found = solved(phases)[run, power_factor]

    assert 240.0 - found.volts > 0.5, "there is no drop to compare"
    assert lost_v(run, found.amps, phases) == near(240.0 - found.volts)


def test_two_runs_in_series_agree_with_the_flow_of_the_whole_feeder() -> None:
    # service conductors, a household of 4 kW at the panel, the charger's branch; all at unity
    service, branch = Run("4/0 AWG", 150), Run("6 AWG", 90)
    net = Net(240.0, phases=1)
    net.load(at_panel := net.extend(service.ohm), 4_000)
    net.load(net.extend(branch.ohm, at_panel), 9_600)
    panel, charger = net.solve()

    assert lost_v(service, panel.amps) == near(240.0 - panel.volts)
    assert lost_v(branch, charger.amps) == near(panel.volts - charger.volts)


def test_a_charger_between_two_lines_of_a_wye_agrees_with_an_unbalanced_flow() -> None:
    run, net = Run("8 AWG", 150), Net(208.0, phases=3)
    far = net.extend(run.ohm)
    pandapower.create_asymmetric_load(
        net.grid, far, p_a_mw=0.00624, p_b_mw=0.0, p_c_mw=0.0, type="delta"
    )
    pandapower.runpp_3ph(net.grid, tolerance_mva=1e-12, numba=False)
    at = net.grid.res_bus_3ph.iloc[far]
    first, second = (
        208.0 / 3**0.5 * rect(at[f"vm_{line}_pu"], radians(at[f"va_{line}_degree"]))
        for line in "ab"
    )
    amps = [1e3 * net.grid.res_line_3ph.iloc[0][f"i_{line}_ka"] for line in "abc"]

    found = supply.line_currents_a(supply.WYE_208, {("L1", "L2"): amps[0]})

    # the unbalanced flow stops at about a millionth
    assert [found[line] for line in ("L1", "L2", "L3")] == pytest.approx(amps, rel=1e-4, abs=1e-4)
    assert lost_v(run, amps[0]) == near(208.0 - abs(first - second))


@pytest.mark.parametrize(("length_m", "size"), [(44.0, "8 AWG"), (44.2, "6 AWG")])
def test_the_smallest_size_is_the_one_that_keeps_the_limit_in_the_flow(
    length_m: float, size: str
) -> None:
    # NEC 2023 chapter 9 table 8, 8 AWG stranded: 0.778 Ω/1000 ft; no reactance; 3 % of 240 V
    net = Net(240.0, phases=1)
    net.load(net.extend(complex(0.778 * length_m / 304.8, 1e-12)), (240.0 - 7.2) * 32.0)
    (end,) = net.solve()
    keeps = 240.0 - end.volts <= 7.2

    assert keeps == (size == "8 AWG")
    ohm_per_m = design_ohm_per_m(nec(), "copper")
    assert drop.smallest_size(7.2, 32.0, length_m, ohm_per_m) == size
