import pytest

from checks.electrical import energy, ground_fault, heating, pilot, proximity
from checks.electrical.pilot import DutyBand, PilotState
from checks.errors import OutOfRangeError, OutOfTableError


@pytest.mark.parametrize("duty_pct", [-0.1, 100.1])
def test_an_impossible_duty_cycle_is_refused(duty_pct: float) -> None:
    with pytest.raises(OutOfRangeError, match="0 to 100 %"):
        pilot.offered(duty_pct)


@pytest.mark.parametrize("current_a", [5.9, 51.5, 52.5, 80.1])
def test_no_duty_cycle_offers_a_current_in_a_gap(current_a: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"6 to 51 A or more than 52.5 to 80 A"):
        pilot.duty_for(current_a)


@pytest.mark.parametrize("current_a", [6, 12, 16, 24, 32, 40, 48, 51, 52.6, 64, 80])
def test_current_to_duty_and_back(current_a: float) -> None:
    assert pilot.offered(pilot.duty_for(current_a)).current_a == pytest.approx(current_a)


@pytest.mark.parametrize(
    ("duty_pct", "band"),
    [
        (3.0, DutyBand.DIGITAL),
        (7.0, DutyBand.DIGITAL),
        (7.01, DutyBand.GAP),
        (8.0, DutyBand.LEAST),
        (10.0, DutyBand.LOW),
        (85.0, DutyBand.LOW),
        (85.01, DutyBand.HIGH),
        (96.0, DutyBand.HIGH),
        (97.0, DutyBand.MOST),
        (97.01, DutyBand.TOO_HIGH),
    ],
)
def test_each_edge_belongs_to_its_band(duty_pct: float, band: DutyBand) -> None:
    # IEC 61851-1 tables A.7 and A.8, as quoted in public firmware
    assert pilot.offered(duty_pct).band is band


def test_an_offer_in_a_band_whose_edges_are_disputed_proves_nothing() -> None:
    assert pilot.offered(50.0).source.can_prove
    assert not pilot.offered(9.0).source.can_prove
    assert not pilot.offered(96.5).source.can_prove


@pytest.mark.parametrize("positive_v", [12.61, -12.61])
def test_beyond_every_window_there_is_no_state(positive_v: float) -> None:
    assert pilot.classify(positive_v).state is None


def test_between_two_windows_the_nearer_state_is_named() -> None:
    # C ends at 6.49 V, B begins at 8.36 V: the middle is 7.425 V
    assert pilot.classify(7.42) == (PilotState.C, False)
    assert pilot.classify(7.43) == (PilotState.B, False)


def test_a_negative_resistance_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="Zero the leads"):
        proximity.classify(-1.0)


@pytest.mark.parametrize("current_ma", [5.99, 264.1])
def test_the_trip_curve_ends(current_ma: float) -> None:
    with pytest.raises(OutOfRangeError, match="6 to 264 mA"):
        ground_fault.trip_time_limit_s(current_ma)


def test_power_of_two_phases_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="two-wire"):
        energy.power_kw(240.0, 32.0, phases=2)


def test_no_shortfall_without_an_expectation() -> None:
    with pytest.raises(OutOfRangeError, match="while current flows"):
        energy.shortfall_pct(1.0, 0.0)


def test_scaled_up_or_down_the_low_end_is_the_lower() -> None:
    up = heating.rise_interval_k(10.0, 16.0, 32.0)
    down = heating.rise_interval_k(10.0, 32.0, 16.0)

    assert up.low_k < up.high_k
    assert down.low_k < down.high_k


def test_a_rise_without_current_cannot_be_scaled() -> None:
    with pytest.raises(OutOfRangeError, match="while current flows"):
        heating.scaled_rise_k(10.0, 0.0, 32.0, 2.0)
