"""Independent programs: nodal solutions, time integration and phasors against the formulas.

None of these shares a formula with what it checks: they solve Kirchhoff's equations as they stand.
"""

from math import inf

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from checks.codes.circuit import design_impedance_ohm, design_ohm_per_m
from checks.electrical import breaker, conductor, drop, drop_limit, pilot_timing, supply
from checks.electrical.pilot import PilotState
from checks.electrical.pilot_circuit import PilotCircuit, peaks
from checks.electrical.pilot_faults import Fault, broken
from tests.reference.case import nec

DIODE_V = 0.7


def feeder_load_v(
    source_v: float, current_a: float, ohm: complex, power_factor: float, phases: int
) -> float:
    """Load-flow by fixed-point iteration on phasors: the load's current follows its voltage."""
    conductors = 2 if phases == 1 else 1
    source = source_v if phases == 1 else source_v / 3**0.5
    angle = -np.arccos(power_factor)
    load = complex(source)
    for _ in range(200):
        current = current_a * np.exp(1j * (np.angle(load) + angle))
        load = source - conductors * current * ohm
    return abs(load) * (1.0 if phases == 1 else 3**0.5)


@pytest.mark.parametrize("phases", [1, 3])
@pytest.mark.parametrize("power_factor", [1.0, 0.99, 0.9, 0.6])
@pytest.mark.parametrize(
    ("size", "length_m", "current_a"), [("14 AWG", 20, 12), ("8 AWG", 60, 40), ("1/0 AWG", 200, 80)]
)
def test_the_exact_drop_agrees_with_a_power_flow(
    size: str, length_m: float, current_a: float, power_factor: float, phases: int
) -> None:
    run = design_impedance_ohm(nec(), size, "copper", length_m, "steel")
    ohms = (run.resistance_ohm, run.reactance_ohm)

    left_v = drop.load_voltage_v(240.0, current_a, *ohms, power_factor=power_factor, phases=phases)

    assert left_v == pytest.approx(
        feeder_load_v(240.0, current_a, complex(*ohms), power_factor, phases), abs=1e-6
    )
    by_handbook_v = drop_limit.handbook_drop_v(
        current_a, *ohms, power_factor=power_factor, phases=phases
    )
    # at a charger's power factor both agree within 1 % of the drop, or 20 mV
    if power_factor >= 0.9:
        assert by_handbook_v == pytest.approx(240.0 - left_v, rel=0.01, abs=0.02)


def pilot_node_v(circuit: PilotCircuit, source_v: float) -> float:
    """Voltage at which the currents into the pilot contact add up to nothing."""

    def into(node_v: float) -> float:
        amps = (source_v - node_v) / circuit.source_ohm - node_v / circuit.leak_ohm
        if circuit.is_on_proximity:
            amps += (5.0 - node_v) / 330.0 - node_v / 2700.0 - node_v / 150.0
        branch_ohm = circuit.vehicle_ohm + circuit.series_ohm
        if circuit.is_diode_shorted:
            return amps - node_v / branch_ohm
        return amps - max(0.0, node_v - DIODE_V) / branch_ohm

    return float(brentq(into, -20.0, 20.0, xtol=1e-12))


@pytest.mark.parametrize("state", [PilotState.A, PilotState.B, PilotState.C, PilotState.D])
@pytest.mark.parametrize(
    ("fault", "ohm"),
    [
        (Fault.SERIES, 0.0),
        (Fault.SERIES, 330.0),
        (Fault.LEAK, 30_000.0),
        (Fault.LEAK, 1_000.0),
        (Fault.DIODE_SHORTED, 0.0),
        (Fault.TO_PROXIMITY, 0.0),
        (Fault.OPEN, 0.0),
    ],
)
def test_the_pilot_agrees_with_a_root_of_kirchhoffs_law(
    state: PilotState, fault: Fault, ohm: float
) -> None:
    circuit = broken(state, fault, ohm)
    found = peaks(circuit)

    assert found.positive_v == pytest.approx(pilot_node_v(circuit, 12.0), abs=1e-9)
    assert found.negative_v == pytest.approx(pilot_node_v(circuit, -12.0), abs=1e-9)


@pytest.mark.parametrize("state", [PilotState.B, PilotState.C, PilotState.D])
def test_the_edges_agree_with_time_integration(state: PilotState) -> None:
    load_ohm = {
        PilotState.B: 2740.0,
        PilotState.C: 1 / (1 / 2740 + 1 / 1300),
        PilotState.D: 1 / (1 / 2740 + 1 / 270),
    }[state]
    farad = 4.2e-9

    def slope(source_v: float) -> object:
        def rate(_: float, volts: np.ndarray) -> np.ndarray:
            load_a = np.maximum(0.0, volts - DIODE_V) / load_ohm
            return ((source_v - volts) / 1000.0 - load_a) / farad

        return rate

    def moments(source_v: float, start_v: float, levels_v: list[float]) -> list[float]:
        solved = solve_ivp(
            slope(source_v), (0, 60e-6), [start_v], rtol=1e-9, atol=1e-9, dense_output=True
        )
        return [
            brentq(lambda t, level=level: solved.sol(t)[0] - level, 0, 60e-6) for level in levels_v
        ]

    high_v = DIODE_V + (12 - DIODE_V) * load_ohm / (1000 + load_ohm)
    ten_v, ninety_v = -12 + 0.1 * (high_v + 12), -12 + 0.9 * (high_v + 12)
    up = moments(12.0, -12.0, [ten_v, 0.0, ninety_v])
    down = moments(-12.0, high_v, [ninety_v, 0.0, ten_v])
    found = pilot_timing.edges(state, farad)

    assert found.rise_s == pytest.approx(up[2] - up[0], rel=1e-5)
    assert found.fall_s == pytest.approx(down[2] - down[0], rel=1e-5)
    assert found.duty_change_pct == pytest.approx(100 * (down[1] - up[1]) / 1e-3, rel=1e-4)


@pytest.mark.parametrize("before", [0.0, 0.8])
@pytest.mark.parametrize("ratio", [1.3, 1.6, 2.0, 3.0])
def test_the_breaker_agrees_with_time_integration(ratio: float, before: float) -> None:
    held, tau_s = breaker.hold_ratio(30.0), 240.0

    def trips(_: float, heat: np.ndarray) -> float:
        return float(heat[0] - held**2)

    trips.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(
        lambda _, heat: (ratio**2 - heat) / tau_s,
        (0, 7200),
        [before**2],
        events=trips,
        rtol=1e-9,
        atol=1e-12,
        max_step=5.0,
    )

    assert breaker.trip_time_s(ratio, held, tau_s, before_ratio=before) == pytest.approx(
        solved.t_events[0][0], rel=1e-6
    )


def test_steps_of_load_agree_with_time_integration() -> None:
    # a Level 1 charger for an hour, a kettle for three minutes, then both again
    steps = [breaker.Step(12, 3600), breaker.Step(24.5, 40), breaker.Step(12, 120)]
    steps += [breaker.Step(26.0, 600)]
    element = breaker.elements(15.0)[1]
    held, heat, elapsed_s, step_s = breaker.hold_ratio(25.0), 0.0, 0.0, 0.01
    for step in steps:
        for _ in range(round(step.duration_s / step_s)):
            heat += ((step.current_a / 15.0) ** 2 - heat) * step_s / element.time_constant_s
            elapsed_s += step_s
            if heat >= held**2:
                break
        if heat >= held**2:
            break

    assert breaker.trip_in_steps_s(15.0, steps).nominal_s == pytest.approx(elapsed_s, abs=0.2)


def test_currents_of_a_wye_agree_with_a_nodal_solution() -> None:
    # conductance matrix of three stiff sources and resistive loads between the lines
    lines = ("L1", "L2", "L3")
    angles = np.exp(1j * np.radians([0, -120, 120]))
    sources = 208 / 3**0.5 * angles
    loads = {("L1", "L2"): 40.0, ("L2", "L3"): 16.0, ("L3", "L1"): 24.0}
    matrix = np.zeros((3, 3))
    for (first, second), amps in loads.items():
        a, b, siemens = lines.index(first), lines.index(second), amps / 208
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens

    found = supply.line_currents_a(supply.WYE_208, loads)

    assert [found[line] for line in lines] == pytest.approx(list(abs(matrix @ sources)))


def test_circuit_areas_follow_from_the_diameters_of_the_standard() -> None:
    # a straight line through the logarithms of the two anchors, fitted by numpy
    slope, start = np.polyfit([36, -3], np.log([0.005, 0.460]), 1)
    for size, gauge in conductor.GAUGE.items():
        fitted_mm = float(np.exp(start + slope * gauge)) * 25.4
        assert conductor.diameter_mm(size) == pytest.approx(fitted_mm, rel=1e-9)


def test_the_smallest_size_agrees_with_a_search_over_the_table() -> None:
    per_m = design_ohm_per_m(nec(), "copper")
    for length_m in (10.0, 45.0, 90.0, 150.0):
        drops = {size: 2 * 40 * ohm * length_m for size, ohm in per_m.items()}
        expected = next(size for size, volts in drops.items() if volts <= 7.2)
        assert drop_limit.smallest_size(7.2, 40, length_m, per_m) == expected


def test_a_breaker_that_never_trips_has_no_event() -> None:
    assert breaker.trip_time_s(1.1, 1.2, 100.0) == inf
