"""Independent programs: nodal solutions, time integration and phasors against the formulas.

None of these shares a formula with what it checks: they solve Kirchhoff's equations as they stand.
"""

from math import inf

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from checks.codes.circuit import design_ohm_per_m
from checks.electrical import breaker, conductor, drop, supply
from checks.electrical.pilot import PilotState
from checks.electrical.pilot_circuit import leak_ohm, series_ohm
from tests.reference.case import nec

DIODE_V = 0.7


VEHICLE_OHM = {
    PilotState.B: 2740.0,
    PilotState.C: 1 / (1 / 2740 + 1 / 1300),
    PilotState.D: 1 / (1 / 2740 + 1 / 270),
}


def pilot_node_v(source_v: float, branch_ohm: float, leak_ohm: float = inf) -> float:
    """Voltage at which the currents into the pilot contact add up to nothing."""

    def into(node_v: float) -> float:
        amps = (source_v - node_v) / 1000.0 - node_v / leak_ohm
        return amps - max(0.0, node_v - DIODE_V) / branch_ohm

    return float(brentq(into, -20.0, 20.0, xtol=1e-12))


@pytest.mark.parametrize("state", VEHICLE_OHM, ids=lambda state: state.name)
@pytest.mark.parametrize("ohm", [0.0, 50.0, 330.0, 1_000.0])
def test_a_contacts_ohms_agree_with_a_root_of_kirchhoffs_law(state: PilotState, ohm: float) -> None:
    positive_v = pilot_node_v(12.0, VEHICLE_OHM[state] + ohm)

    assert series_ohm(positive_v, state) == pytest.approx(ohm, abs=1e-6)


@pytest.mark.parametrize("ohm", [1_000.0, 4_700.0, 30_000.0])
def test_a_leaks_ohms_agree_with_a_root_of_kirchhoffs_law(ohm: float) -> None:
    negative_v = pilot_node_v(-12.0, 2740.0, ohm)

    assert leak_ohm(negative_v) == pytest.approx(ohm)


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
        assert drop.smallest_size(7.2, 40, length_m, per_m) == expected


def test_a_breaker_that_never_trips_has_no_event() -> None:
    assert breaker.trip_time_s(1.1, 1.2, 100.0) == inf
