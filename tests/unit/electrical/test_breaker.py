from itertools import pairwise
from math import inf

import pytest

from checks.electrical.breaker import (
    elements,
    frame,
    hold_ratio,
    hottest_air_c,
    trip_spread_s,
    trip_time_s,
)
from checks.errors import OutOfRangeError, OutOfTableError

RATINGS = (15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 100.0)


@pytest.mark.parametrize("rating_a", RATINGS)
def test_every_edge_meets_the_calibration_points(rating_a: float) -> None:
    # UL 489: holds 100 % at 40 °C; trips at 135 % and at 200 % within the frame's time at 25 °C
    at_135_s = 3600.0 if rating_a <= 50 else 7200.0

    assert trip_spread_s(rating_a, [rating_a], air_c=40.0) == (inf, inf, inf)
    assert trip_spread_s(rating_a, [1.35 * rating_a]).slow_s <= at_135_s
    assert trip_spread_s(rating_a, [2 * rating_a]).slow_s == pytest.approx(frame(rating_a).at_200_s)


@pytest.mark.parametrize("rating_a", RATINGS)
def test_the_spread_is_in_order(rating_a: float) -> None:
    for ratio in (1.1, 1.3, 1.5, 2.0, 5.0):
        spread = trip_spread_s(rating_a, [ratio * rating_a])

        assert spread.fast_s <= spread.nominal_s <= spread.slow_s


def test_more_current_more_heat_and_more_before_all_trip_sooner() -> None:
    by_current = [trip_spread_s(20.0, [amps]).nominal_s for amps in (26, 30, 40, 60)]
    by_air = [trip_spread_s(20.0, [28.0], air_c=air).nominal_s for air in (20, 30, 40, 50)]
    by_before = [trip_spread_s(20.0, [28.0], before_a=amps).nominal_s for amps in (0, 8, 16)]

    for series in (by_current, by_air, by_before):
        assert all(earlier > later for earlier, later in pairwise(series))


def test_a_hot_joint_makes_a_sound_breaker_trip_at_the_load_it_is_made_for() -> None:
    # 80 % of the rating: holds at 40 °C, trips at 55 °C with 30 K from a loose terminal
    assert trip_spread_s(50.0, [40.0], air_c=40.0).nominal_s == inf
    assert trip_spread_s(50.0, [40.0], air_c=55.0, local_heat_k=30.0).nominal_s < inf


def test_heat_alone_trips_and_so_does_what_came_before() -> None:
    assert hold_ratio(100.0, local_heat_k=30.0) == 0.0
    assert trip_time_s(2.0, 1.0, 120.0, before_ratio=1.1) == 0.0
    assert trip_time_s(12.0, 1.2, 120.0) == 0.0


def test_a_rating_beyond_the_calibration_points_and_an_impossible_air_are_refused() -> None:
    with pytest.raises(OutOfTableError, match="125 A breaker"):
        elements(125.0)
    with pytest.raises(OutOfTableError, match="0 A breaker"):
        elements(0.0)
    with pytest.raises(OutOfRangeError, match="outside -40 to 120 °C"):
        hold_ratio(150.0)


def test_the_hottest_air_is_where_a_breaker_just_holds_the_load() -> None:
    # the balance of heat turned around: what holds its rating at 40 °C holds the load there
    for load_a in (20.0, 30.0, 40.0, 50.0):
        air_c, line = hottest_air_c(load_a, 50.0)

        assert hold_ratio(air_c, held_at_rated_air=1.0) == pytest.approx(load_a / 50.0)
        assert line.endswith(f"= {air_c:.0f} °C")


def test_the_line_that_reckons_the_air_holds_the_numbers_it_is_reckoned_with() -> None:
    # 125 - 85 × (40/50)² = 70.6 °C, by hand; 125 °C fitted to a maker's table
    assert hottest_air_c(40.0, 50.0).working == "125 − (125 − 40)·(40/50)² = 71 °C"
