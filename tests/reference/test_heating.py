"""Contact heating against published relations, and the forecast against scipy's fits.

Holm's contact theory: T² = T0² + U²/4L, softening of copper at 0.12 V (handbook, from memory; a
public finite-element check gives 0.112 V). Glowing connections: NBSIR 76-1011, 35 W at 15 A and 5 W
at 0.8 A (abstract read). Step response of first order: textbook.
"""

import numpy as np
import pytest
from scipy.optimize import curve_fit

from checks.electrical.heat_forecast import HeatForecast, HeatSample, HeatState, forecast
from checks.electrical.heating import rise_interval_k
from checks.electrical.hidden_resistance import heat_w
from checks.electrical.joint import JOINT_W

LORENZ = 2.44e-8  # V²/K²
SOFTENING_V = 0.12


def said_after(minutes: int, rise: object, every: int = 1) -> HeatForecast:
    assert callable(rise)
    return forecast(
        [
            HeatSample(60.0 * t, 22.0 + round(float(rise(t)), 1), 22.0, 32.0)
            for t in range(0, minutes + 1, every)
        ],
        40.0,
        stop_c=90.0,
    )


def one_part(t: object) -> object:
    return 28.4 * (1 - np.exp(-np.asarray(t) / 9))


def two_parts(t: object) -> object:
    at = np.asarray(t)
    return 12 * (1 - np.exp(-at / 2)) + 18 * (1 - np.exp(-at / 25))


def test_the_end_of_a_first_order_response() -> None:
    # T0 22 °C, 28.4 K, 9 min: three readings 0, 3, 6 min give 50.4 °C by the three-point formula
    a, b, c = (22.0 + float(one_part(t)) for t in (0, 3, 6))
    end_c = (b * b - a * c) / (2 * b - a - c)
    said = said_after(30, one_part)

    assert end_c == pytest.approx(50.4, abs=1e-6)
    assert said.at_test.value_k + 22.0 == pytest.approx(end_c, abs=0.5)


@pytest.mark.parametrize("minutes", [10, 15, 20, 30, 45])
def test_scipys_single_exponential_is_low_where_the_forecast_holds_the_truth(minutes: int) -> None:
    # truth 30 K; a single exponential says 18.0, 19.5, 20.8, 23.0, 25.3 K (with scipy 18 to 25)
    t = np.arange(minutes + 1.0)
    (plain_k, _), _ = curve_fit(
        lambda t, a, tau: a * (1 - np.exp(-t / tau)), t, two_parts(t), p0=(20.0, 5.0)
    )
    said = said_after(minutes, two_parts)

    assert plain_k < 0.86 * 30
    assert said.at_test.low_k <= 30
    if said.state is HeatState.FORECAST:
        assert said.at_test.high_k >= 30


def test_scipys_fit_of_both_parts_agrees_late_in_the_series() -> None:
    t = np.arange(61.0)
    start = (10.0, 3.0, 20.0, 20.0)
    fitted, _ = curve_fit(
        lambda t, a, fast, b, slow: a * (1 - np.exp(-t / fast)) + b * (1 - np.exp(-t / slow)),
        t,
        np.round(two_parts(t), 1),
        p0=start,
    )
    end = said_after(60, two_parts).at_test

    assert end.value_k == pytest.approx(fitted[0] + fitted[2], abs=0.5)


@pytest.mark.parametrize(
    ("test_a", "full_a", "low", "high"),
    [(12, 16, 1.585, 1.778), (24, 40, 2.264, 2.778), (32, 40, 1.429, 1.562), (40, 48, 1.339, 1.44)],
)
def test_scaling_between_exponents_1_6_and_2(
    test_a: float, full_a: float, low: float, high: float
) -> None:
    # (I2/I1)^n, n 1.6 and 2.0 after IEEE as thermography pages print it; powers by hand
    assert rise_interval_k(1.0, test_a, full_a) == pytest.approx((low, high), abs=0.0005)


@pytest.mark.parametrize(("current_a", "soft_mohm"), [(16, 7.5), (24, 5.0), (32, 3.75), (48, 2.5)])
def test_one_copper_spot_softens_below_the_heat_limit(current_a: float, soft_mohm: float) -> None:
    # Holm, for reference only: a joint is many spots and films, so no spot temperature is ever
    # said; a single clean spot would soften with less heat than the limit of 10 W in one place
    spot_k = (293.15**2 + SOFTENING_V**2 / (4 * LORENZ)) ** 0.5

    assert spot_k - 273.15 == pytest.approx(210, abs=1)
    assert SOFTENING_V / current_a == pytest.approx(soft_mohm / 1000)
    assert heat_w(soft_mohm / 1000, current_a) == pytest.approx(SOFTENING_V * current_a)
    assert heat_w(soft_mohm / 1000, current_a) < JOINT_W


def test_the_heat_limit_lies_among_published_glowing_joints() -> None:
    assert 5.0 <= JOINT_W <= 35.0
