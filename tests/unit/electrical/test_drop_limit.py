import pytest

from checks.electrical.conductor import SIZES, resistance_ohm
from checks.electrical.drop import drop_v
from checks.electrical.drop_limit import (
    effective_ohm,
    handbook_drop_v,
    handbook_error_v,
    longest_run_m,
    smallest_size,
)
from checks.errors import OutOfRangeError, OutOfTableError

COPPER = {size: resistance_ohm(size, "copper", 1.0, 75.0) for size in SIZES}


@pytest.mark.parametrize("phases", [1, 3])
def test_the_longest_run_has_just_the_drop_of_the_limit(phases: int) -> None:
    length_m = longest_run_m(7.2, 32.0, COPPER["8 AWG"], phases=phases)

    assert drop_v(32.0, COPPER["8 AWG"] * length_m, phases=phases) == pytest.approx(7.2)


@pytest.mark.parametrize(("current_a", "ohm_per_m"), [(0.0, 0.002), (32.0, 0.0)])
def test_without_current_or_resistance_no_run_is_the_longest(
    current_a: float, ohm_per_m: float
) -> None:
    with pytest.raises(OutOfRangeError, match="no length is the longest"):
        longest_run_m(7.2, current_a, ohm_per_m)


def test_the_smallest_size_keeps_the_limit_and_the_next_smaller_does_not() -> None:
    size = smallest_size(7.2, 40.0, 45.0, COPPER)
    smaller = SIZES[SIZES.index(size) - 1]

    assert drop_v(40.0, COPPER[size] * 45.0) <= 7.2 < drop_v(40.0, COPPER[smaller] * 45.0)


def test_a_run_that_no_size_serves_is_refused() -> None:
    with pytest.raises(OutOfTableError, match=r"keeps 80 A over 2000 m within 7.2 V"):
        smallest_size(7.2, 80.0, 2000.0, COPPER)


def test_the_handbook_formula_is_a_little_below_the_exact_one_never_above() -> None:
    # E4 of the trade's own examples: 6 AWG in PVC, 120 ft, 40 A, power factor 0.99
    error_v = handbook_error_v(240.0, 40.0, 0.0588, 0.00612, power_factor=0.99)

    assert 0 < error_v < 0.01


def test_reactance_counts_by_the_sine() -> None:
    assert effective_ohm(0.3, 0.4, power_factor=0.6) == pytest.approx(0.3 * 0.6 + 0.4 * 0.8)
    assert handbook_drop_v(10.0, 0.3, 0.4, power_factor=0.6, phases=3) == pytest.approx(
        3**0.5 * 10 * 0.5
    )


@pytest.mark.parametrize("power_factor", [0.0, 1.1, -0.9])
def test_a_power_factor_that_cannot_be_is_refused(power_factor: float) -> None:
    with pytest.raises(OutOfRangeError, match="not possible"):
        effective_ohm(0.1, 0.1, power_factor=power_factor)
