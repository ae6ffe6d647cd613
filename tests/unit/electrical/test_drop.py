import pytest

from checks.electrical import drop, hidden_resistance
from checks.electrical.conductor import resistance_ohm
from checks.errors import OutOfRangeError, OutOfTableError


def test_two_phases_are_no_circuit() -> None:
    with pytest.raises(OutOfTableError, match="Use 1 for a two-wire circuit or 3"):
        drop.drop_v(10.0, 0.1, phases=2)


@pytest.mark.parametrize("power_factor", [0.0, 1.01, -0.5])
def test_an_impossible_power_factor_is_refused(power_factor: float) -> None:
    with pytest.raises(OutOfRangeError, match="power factor"):
        drop.load_voltage_v(240.0, 32.0, 0.1, 0.01, power_factor=power_factor)


def test_without_reactance_the_exact_form_is_ohms_law() -> None:
    left_v = drop.load_voltage_v(240.0, 32.0, 0.1, 0.0)

    assert left_v == pytest.approx(240.0 - drop.drop_v(32.0, 0.1))


def test_a_percentage_needs_a_nominal_voltage() -> None:
    with pytest.raises(OutOfRangeError, match="120, 208 or 240 V"):
        drop.percent_of_nominal(3.0, 0.0)


def test_the_metal_of_a_run_explains_the_drop_of_its_loop() -> None:
    run = ("6 AWG", "copper", 30.0, 40.0)

    metal_v = drop.drop_v(40.0, resistance_ohm(*run))
    assert metal_v == pytest.approx(40.0 * hidden_resistance.metal_loop_ohm(*run))
