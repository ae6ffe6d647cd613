import pytest

from checks.electrical.leakage import CCID20, CLASS_A_DEVICE, Device, in_series
from checks.source import Basis, Source

LIKE_CLASS_A = Device(
    "another", 4.0, 6.0, True, Source(document="UL 943", clause="Class A", basis=Basis.LOOKED_UP)
)


def test_a_class_a_device_upstream_takes_the_trip_from_the_chargers_own() -> None:
    found = in_series(CLASS_A_DEVICE, CCID20, 10.0)

    assert found.upstream.must
    assert not found.downstream.must
    assert not found.is_selective
    assert any("does not close again by itself" in line for line in found.why)


def test_below_its_edge_a_device_holds() -> None:
    # Class A holds below 4 mA and must open from 6 mA on: UL 943
    assert in_series(CLASS_A_DEVICE, LIKE_CLASS_A, 3.9).upstream == (False, False)
    assert in_series(CLASS_A_DEVICE, LIKE_CLASS_A, 4.0).upstream == (True, False)
    assert in_series(CLASS_A_DEVICE, LIKE_CLASS_A, 6.0).upstream == (True, True)


@pytest.mark.parametrize("fault_ma", [1.0, 5.0, 6.0, 20.0, 100.0])
def test_two_equal_devices_are_never_selective(fault_ma: float) -> None:
    assert not in_series(CLASS_A_DEVICE, LIKE_CLASS_A, fault_ma).is_selective


def test_the_coarser_device_upstream_without_a_known_lower_edge_promises_nothing() -> None:
    # the no-trip level of CCID20 was not seen in any text: it may open at any current
    assert not in_series(CCID20, CLASS_A_DEVICE, 6.0).is_selective
