import pytest
from uncertainties import ufloat

from checks.electrical import drop, hidden_resistance
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


@pytest.mark.parametrize("current_a", [0.0, -1.0])
def test_a_drop_without_current_cannot_be_scaled(current_a: float) -> None:
    with pytest.raises(OutOfRangeError, match="while current flows"):
        drop.scaled_drop_v(3.0, current_a, 32.0)


def test_a_percentage_needs_a_nominal_voltage() -> None:
    with pytest.raises(OutOfRangeError, match="120, 208 or 240 V"):
        drop.percent_of_nominal(3.0, 0.0)


def test_the_metal_of_a_run_explains_the_drop_of_its_loop() -> None:
    metal_ohm = hidden_resistance.metal_loop_ohm("6 AWG", "copper", 30.0, 40.0)

    assert drop.metal_drop_v("6 AWG", "copper", 30.0, 40.0, 40.0) == pytest.approx(40.0 * metal_ohm)


def test_resistance_needs_current() -> None:
    with pytest.raises(OutOfRangeError, match="without current"):
        hidden_resistance.source_ohm(240.0, 236.0, 0.0)


def test_a_shared_gain_error_cancels_in_a_difference() -> None:
    # 243.1 V and 236.4 V by one meter, ±1 % of reading, and 31.6 A exactly: the gain error of
    # the difference is 1 % of 6.7 V, not of 243 V (JCGM 100:2008, 5.2.2; by hand)
    gain = ufloat(1.0, 0.01 / 3**0.5)
    found = hidden_resistance.source_ohm(243.1 * gain, 236.4 * gain, 31.6)

    assert found.nominal_value == pytest.approx(6.7 / 31.6)
    assert found.std_dev == pytest.approx(6.7 * 0.01 / 3**0.5 / 31.6)


def test_what_the_metal_explains_is_no_excess() -> None:
    metal_ohm = hidden_resistance.metal_loop_ohm("8 AWG", "copper", 25.0, 30.0)
    found_ohm = hidden_resistance.branch_ohm(2.0, 2.0 + 32.0 * (metal_ohm + 0.01), 32.0)

    assert hidden_resistance.excess_ohm(found_ohm, metal_ohm) == pytest.approx(0.01)
