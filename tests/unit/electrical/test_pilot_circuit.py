from math import inf

import pytest

from checks.electrical.pilot import WINDOWS, PilotState
from checks.electrical.pilot_circuit import (
    VEHICLE_OHM,
    corner_window,
    healthy,
    leak_ohm,
    peaks,
    series_ohm,
)
from checks.electrical.pilot_faults import Fault, broken, suspicions
from checks.electrical.pilot_timing import current_spread_a, duty_deviation_pct, edges
from checks.errors import OutOfRangeError

WITH_VEHICLE = (PilotState.B, PilotState.C, PilotState.D)


@pytest.mark.parametrize("state", VEHICLE_OHM, ids=lambda state: state.name)
def test_a_sound_pilot_lies_in_its_window_and_raises_no_suspicion(state: PilotState) -> None:
    found = peaks(healthy(state))
    window = WINDOWS[state]

    assert window.low_v <= found.positive_v <= window.high_v
    assert suspicions(*found, is_vehicle_there=state is not PilotState.A) == ()


@pytest.mark.parametrize(
    ("state", "ohm"),
    [
        (PilotState.B, 900.0),
        (PilotState.C, 270.0),
        (PilotState.C, 1000.0),
        (PilotState.D, 150.0),
    ],
    ids=str,
)
def test_a_bad_contact_is_suspected_with_its_resistance(state: PilotState, ohm: float) -> None:
    found = suspicions(*peaks(broken(state, Fault.SERIES, ohm)), is_vehicle_there=True)

    assert any(each.ohm == pytest.approx(ohm) for each in found if each.fault is Fault.SERIES)


def test_a_contact_resistance_may_hide_inside_a_window() -> None:
    # circuit theory: 100 Ω in state C, 500 Ω in state B stay inside: nothing to see
    for state, ohm in ((PilotState.C, 100.0), (PilotState.B, 500.0)):
        found = peaks(broken(state, Fault.SERIES, ohm))

        assert suspicions(*found, is_vehicle_there=True) == ()


@pytest.mark.parametrize("ohm", [2_000.0, 4_700.0, 10_000.0])
def test_a_leak_is_suspected_with_its_resistance(ohm: float) -> None:
    for state in VEHICLE_OHM:
        there = state is not PilotState.A
        found = suspicions(*peaks(broken(state, Fault.LEAK, ohm)), is_vehicle_there=there)

        assert [each.ohm for each in found if each.fault is Fault.LEAK] == [pytest.approx(ohm)]


@pytest.mark.parametrize(
    "fault", [Fault.DIODE_SHORTED, Fault.TO_GROUND, Fault.TO_PROXIMITY, Fault.OPEN]
)
@pytest.mark.parametrize("state", [PilotState.B, PilotState.C], ids=lambda state: state.name)
def test_a_fault_is_suspected_from_the_peaks_it_gives(state: PilotState, fault: Fault) -> None:
    found = suspicions(*peaks(broken(state, fault)), is_vehicle_there=True)

    assert found[0].fault is fault


def test_an_open_contact_is_no_fault_without_a_vehicle() -> None:
    assert suspicions(12.0, -12.0, is_vehicle_there=False) == ()


def test_a_voltage_that_tells_no_resistance_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="tells no contact resistance"):
        series_ohm(12.0, PilotState.B)
    with pytest.raises(OutOfRangeError, match="tells no contact resistance"):
        series_ohm(9.0, PilotState.A)
    with pytest.raises(OutOfRangeError, match="tells no leak"):
        leak_ohm(1.0)
    with pytest.raises(OutOfRangeError, match="state E is not made"):
        healthy(PilotState.E)


def test_a_full_negative_peak_has_no_leak() -> None:
    assert leak_ohm(-12.0) == inf


def test_corners_are_wider_than_nominal() -> None:
    for state in WITH_VEHICLE:
        low_v, high_v = corner_window(state)

        assert low_v < peaks(healthy(state)).positive_v < high_v


def test_capacitance_slows_the_edges_in_proportion() -> None:
    least, most = edges(PilotState.C, 1e-9), edges(PilotState.C, 2e-9)

    assert most.rise_s == pytest.approx(2 * least.rise_s)
    assert most.duty_change_pct == pytest.approx(2 * least.duty_change_pct)


def test_a_deviating_duty_cycle_and_the_spread_of_the_current() -> None:
    assert duty_deviation_pct(52.0, 32.0) == pytest.approx(52 - 32 / 0.6)
    assert current_spread_a(60.0) > current_spread_a(30.0)
