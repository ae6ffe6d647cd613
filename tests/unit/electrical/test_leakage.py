import pytest

from checks.electrical.leakage import (
    CCID5,
    CCID20,
    CLASS_A_DEVICE,
    capacitance_for_nf,
    capacitive_current_ma,
    in_series,
    margin_ma,
    unbalance_ma,
)
from checks.electrical.residual_current import TIMES, Kind, trip_times_s
from checks.errors import OutOfRangeError, OutOfTableError


def test_current_and_capacitance_are_inverse() -> None:
    assert capacitance_for_nf(capacitive_current_ma(120.0, 55.0), 120.0) == pytest.approx(55.0)


def test_equal_leakage_of_both_lines_cancels_and_unequal_does_not() -> None:
    assert unbalance_ma(80.0, 80.0, 120.0) == 0
    assert unbalance_ma(80.0, 0.0, 120.0) == capacitive_current_ma(120.0, 80.0)


def test_a_class_a_device_upstream_takes_the_trip_from_the_chargers_own() -> None:
    found = in_series(CLASS_A_DEVICE, CCID20, 10.0)

    assert found.upstream.must
    assert not found.downstream.must
    assert not found.is_selective
    assert any("does not close again by itself" in line for line in found.why)


def test_standing_leakage_pushes_the_upstream_device_over_its_edge() -> None:
    assert not in_series(CLASS_A_DEVICE, CCID5, 2.0).upstream.may
    assert in_series(CLASS_A_DEVICE, CCID5, 2.0, standing_ma=2.5).upstream.may


@pytest.mark.parametrize("fault_ma", [1.0, 5.0, 6.0, 20.0, 100.0])
def test_two_equal_devices_are_never_selective(fault_ma: float) -> None:
    assert not in_series(CLASS_A_DEVICE, CCID5, fault_ma).is_selective


def test_the_coarser_device_upstream_without_a_known_lower_edge_promises_nothing() -> None:
    # the no-trip level of CCID20 was not seen in any text: it may open at any current
    assert not in_series(CCID20, CLASS_A_DEVICE, 6.0).is_selective
    with pytest.raises(OutOfRangeError, match="CCID20 must ignore"):
        margin_ma(1.0, CCID20)


def test_residual_current_times_shrink_with_the_current_and_others_are_refused() -> None:
    for kind in Kind:
        longest = [trip_times_s(kind, multiple).most_s for multiple in (1.0, 2.0, 5.0)]
        assert longest == sorted(longest, reverse=True)
    assert all(times.least_s < times.most_s for times in TIMES.values())
    with pytest.raises(OutOfTableError, match="at 3 times"):
        trip_times_s(Kind.GENERAL, 3.0)
