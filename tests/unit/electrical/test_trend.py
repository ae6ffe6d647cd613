from datetime import date

import pytest
from uncertainties import ufloat

from checks.electrical.trend import Visit, normalized_rise_k, trend
from checks.errors import OutOfRangeError
from checks.quantity import expanded, nominal


def visits(*values: object) -> list[Visit]:
    return [Visit(date(2020 + i, 6, 1), value) for i, value in enumerate(values)]


def test_a_change_within_the_uncertainty_is_none_that_these_meters_can_see() -> None:
    found = trend(visits(ufloat(10, 1), ufloat(12, 1)), 20.0)  # 2 ± 2.8

    assert not found.is_seen
    assert found.crossing is None
    assert found.words == "no change that these meters can see"


def test_a_shared_gain_error_does_not_hide_a_change() -> None:
    gain = ufloat(1.0, 0.1)
    found = trend(visits(10 * gain, 12 * gain), 20.0)  # 2 ± 0.4, though each is ± 2

    assert found.is_seen
    assert expanded(found.change) == pytest.approx(0.4, rel=0.01)


def test_the_limit_is_crossed_where_the_line_meets_it() -> None:
    # 10, 12, 14 in 2020 to 2022; 18 in 2024
    found = trend(visits(*(ufloat(x, 0.3) for x in (10, 12, 14))), 18.0)

    assert abs((found.crossing - date(2024, 6, 1)).days) <= 1  # leap years
    assert found.earliest < found.crossing
    assert nominal(found.per_year) == pytest.approx(2.0, rel=0.01)
    assert not found.is_beyond


def test_retention_falls_toward_a_lower_limit() -> None:
    found = trend(visits(*(ufloat(x, 0.2) for x in (20, 18, 16))), 13.3, is_upper=False)

    assert found.crossing.year == 2023
    assert nominal(found.per_year) == pytest.approx(-2.0, rel=0.01)


@pytest.mark.parametrize("values", [(14.0, 12.0), (10.0, 10.1)])
def test_what_goes_away_from_the_limit_or_hardly_moves_crosses_nothing(
    values: tuple[float, float],
) -> None:
    assert trend(visits(*values), 18.0).crossing is None


def test_what_is_beyond_already_has_no_date() -> None:
    found = trend(visits(10.0, 20.0), 18.0)

    assert found.is_beyond
    assert found.crossing is None


def test_visits_off_the_line_are_said() -> None:
    assert trend(visits(*(ufloat(x, 0.1) for x in (10, 11, 12))), 18.0).is_straight
    assert not trend(visits(*(ufloat(x, 0.1) for x in (10, 14, 12))), 18.0).is_straight


@pytest.mark.parametrize(
    "few", [visits(10.0), [Visit(date(2024, 1, 1), 1.0), Visit(date(2024, 1, 20), 2.0)]]
)
def test_a_trend_needs_two_visits_a_month_apart(few: list[Visit]) -> None:
    with pytest.raises(OutOfRangeError, match="a month apart"):
        trend(few, 18.0)


def test_a_rise_is_brought_to_one_current_with_the_range_of_exponents() -> None:
    rise_k = normalized_rise_k(10.0, 16.0, 32.0)  # 30.3 to 40 K

    assert nominal(rise_k) == pytest.approx((10 * 2**1.6 + 40) / 2)
    assert expanded(rise_k) == pytest.approx(2 * (40 - 10 * 2**1.6) / 2 / 3**0.5)
    assert normalized_rise_k(10.0, 32.0, 32.0) == pytest.approx(10.0)
