import pytest
from uncertainties import ufloat

from checks.electrical.conductor import SIZES, area_mm2, diameter_mm, resistance_ohm
from checks.electrical.protective import JOINT_ALLOWANCE_OHM, expected_ohm, limit_ohm
from checks.errors import OutOfRangeError, OutOfTableError


def test_sizes_go_from_thin_to_thick() -> None:
    areas = [area_mm2(size) for size in SIZES]

    assert areas == sorted(areas)
    assert (SIZES[0], SIZES[-1]) == ("14 AWG", "4/0 AWG")


def test_a_size_that_does_not_exist_is_refused_with_those_that_do() -> None:
    with pytest.raises(OutOfTableError, match=r"'5 AWG'.*Use one of 14 AWG, 12 AWG"):
        diameter_mm("5 AWG")


def test_a_metal_that_is_not_wire_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="Use copper or aluminum"):
        resistance_ohm("6 AWG", "steel", 10.0)


@pytest.mark.parametrize("temp_c", [-41.0, 121.0])
def test_a_temperature_outside_the_linear_range_is_refused(temp_c: float) -> None:
    with pytest.raises(OutOfRangeError, match="outside -40 to 120 °C"):
        resistance_ohm("6 AWG", "copper", 10.0, temp_c)


def test_the_uncertainty_of_the_length_reaches_the_resistance() -> None:
    found = resistance_ohm("6 AWG", "copper", ufloat(30.0, 3.0))

    assert found.std_dev / found.nominal_value == pytest.approx(0.1)


def test_the_limit_of_a_protective_conductor_allows_for_its_joints() -> None:
    metal = expected_ohm("10 AWG", "copper", 30.0)

    assert limit_ohm("10 AWG", "copper", 30.0) - metal == pytest.approx(JOINT_ALLOWANCE_OHM)


def test_areas_that_name_a_size_are_kept_and_the_diameter_follows() -> None:
    # 1 circular mil is the square of a diameter of 0.001 in: 250 kcmil is 500 mil thick
    assert diameter_mm("250 kcmil") == pytest.approx(12.7)
    assert area_mm2("10 mm²") == 10.0


@pytest.mark.parametrize(
    ("size", "highest_ohm_per_km"),
    # IEC 60228 class 2, copper, highest resistance at 20 °C (from memory)
    [("1.5 mm²", 12.1), ("2.5 mm²", 7.41), ("6 mm²", 3.08), ("10 mm²", 1.83), ("16 mm²", 1.15)],
)
def test_metric_conductors_stay_under_the_standards_highest_resistance(
    size: str, highest_ohm_per_km: float
) -> None:
    found = resistance_ohm(size, "copper", 1000.0)

    assert 0.94 * highest_ohm_per_km < found <= highest_ohm_per_km
