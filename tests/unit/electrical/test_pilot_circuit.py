from math import inf

import pytest

from checks.electrical.pilot import WINDOWS, PilotState
from checks.electrical.pilot_circuit import VEHICLE_OHM, leak_ohm, series_ohm
from checks.electrical.pilot_faults import Fault, suspicions
from checks.errors import OutOfRangeError


@pytest.mark.parametrize("state", [PilotState.A, *VEHICLE_OHM], ids=lambda state: state.name)
def test_the_nominal_volts_of_a_state_raise_no_suspicion(state: PilotState) -> None:
    nominal_v = WINDOWS[state].nominal_v

    assert suspicions(nominal_v, -12.0, is_vehicle_there=state is not PilotState.A) == ()


def test_an_open_contact_is_no_fault_without_a_vehicle() -> None:
    assert suspicions(12.0, -12.0, is_vehicle_there=False) == ()
    assert suspicions(12.0, -12.0, is_vehicle_there=True)[0].fault is Fault.OPEN


def test_a_pilot_without_volts_is_on_ground_or_has_no_power() -> None:
    assert suspicions(0.0, 0.0, is_vehicle_there=True)[0].fault is Fault.TO_GROUND


def test_a_voltage_that_tells_no_resistance_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="tells no contact resistance"):
        series_ohm(12.0, PilotState.B)
    for state in (PilotState.A, PilotState.E):
        with pytest.raises(OutOfRangeError, match="tells no contact resistance"):
            series_ohm(9.0, state)
    with pytest.raises(OutOfRangeError, match="tells no leak"):
        leak_ohm(1.0)


def test_a_full_negative_peak_has_no_leak() -> None:
    assert leak_ohm(-12.0) == inf
