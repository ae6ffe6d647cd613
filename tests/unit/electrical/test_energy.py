import pytest

from checks.electrical.energy import (
    charging_time_h,
    efficiency,
    plausible_range_per_hour_km,
    range_per_hour_km,
    wall_energy_kwh,
)
from checks.electrical.sharing import fair_share_a
from checks.errors import OutOfRangeError, OutOfTableError


def test_7_km_at_level_1_and_40_km_at_level_2_are_both_plausible() -> None:
    # common practice, no source: the two do not scale
    assert plausible_range_per_hour_km(1.3).low <= 7 <= plausible_range_per_hour_km(1.3).high
    assert plausible_range_per_hour_km(6.1).low <= 40 <= plausible_range_per_hour_km(6.1).high


def test_time_is_shortest_at_the_best_efficiency() -> None:
    short, long = charging_time_h(60.0, 20.0, 80.0, 7.68, 2)

    assert short == pytest.approx(36 / 0.92 / 7.68)
    assert long == pytest.approx(36 / 0.87 / 7.68)


def test_states_and_figures_that_cannot_be_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="from 80 % to 20 %"):
        wall_energy_kwh(60.0, 80.0, 20.0, 0.9)
    with pytest.raises(OutOfRangeError, match="0 kW"):
        charging_time_h(60.0, 20.0, 80.0, 0.0, 2)
    with pytest.raises(OutOfRangeError, match="0 kWh/100 km"):
        range_per_hour_km(6.0, 0.0)
    with pytest.raises(OutOfTableError, match="no charging level 3"):
        efficiency(3)


@pytest.mark.parametrize(
    ("limit_a", "wishes_a"),
    [(80.0, [30.0] * 3), (32.0, [32.0] * 6), (100.0, [6.0, 48.0, 16.0]), (5.0, [32.0]), (40.0, [])],
)
def test_shares_keep_the_limit_the_wishes_and_the_floor(
    limit_a: float, wishes_a: list[float]
) -> None:
    shares = fair_share_a(limit_a, wishes_a)

    assert sum(shares) <= limit_a + 1e-9
    assert all(share <= wish for share, wish in zip(shares, wishes_a, strict=True))
    assert all(share == 0 or share >= 6 for share in shares)


def test_nobody_takes_more_while_somebody_wants_it() -> None:
    shares = fair_share_a(80.0, [16.0, 32.0, 48.0])

    assert shares == (16.0, 32.0, 32.0)


def test_a_limit_or_a_wish_that_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="6 A or more"):
        fair_share_a(80.0, [5.0])
    with pytest.raises(OutOfRangeError, match="-1 A cannot be shared"):
        fair_share_a(-1.0, [6.0])
