from collections.abc import Callable
from math import exp

import pytest
from uncertainties import ufloat

from checks.electrical.heat_forecast import HeatState, forecast
from checks.electrical.heat_forecast_signs import spikes, steady_since
from checks.electrical.heat_forecast_stop import HeatSample, Stop
from checks.electrical.like_part import like_difference_k
from checks.errors import OutOfRangeError
from checks.quantity import nominal

Shape = Callable[[float], float]


def box(t: float) -> float:
    """A contact of 12 K within 2 minutes in a box of 18 K within 25."""
    return 12 * (1 - exp(-t / 2)) + 18 * (1 - exp(-t / 25))


def plain(t: float) -> float:
    """20 K within 9 minutes."""
    return 20 * (1 - exp(-t / 9))


def series(shape: Shape, until: int, *, every: int = 1, start: int = 0) -> list[HeatSample]:
    minutes = range(start, until + 1, every)
    return [HeatSample(60.0 * t, 22.0 + round(shape(t), 1), 22.0, 32.0) for t in minutes]


@pytest.mark.parametrize("shape", [box, plain])
@pytest.mark.parametrize("until", [20, 30, 45, 60])
def test_the_end_lies_within_the_stated_bounds(shape: Shape, until: int) -> None:
    said = forecast(series(shape, until), 40.0)

    assert said.state is HeatState.FORECAST
    assert said.at_test.low_k <= shape(1e4) <= said.at_test.high_k


def test_a_fast_part_alone_is_not_taken_for_the_end() -> None:
    # a single exponential through the first 10 minutes ends at 18 K, looks tight, and is 40 % low
    said = forecast(series(box, 10), 40.0)

    assert said.state is HeatState.KEEP_MEASURING
    assert said.at_test.high_k is None
    assert said.more_min >= 5


@pytest.mark.parametrize("until", [8, 12, 20, 40])
@pytest.mark.parametrize("shape", [box, plain])
def test_a_forecast_is_never_below_the_last_reading(shape: Shape, until: int) -> None:
    said = forecast(series(shape, until), 40.0)

    assert said.at_test.value_k >= nominal(said.last_rise_k)
    assert said.at_test.low_k >= nominal(said.last_rise_k) - 1e-9


def test_too_few_readings_say_how_long_to_go_on() -> None:
    said = forecast(series(plain, 4), 40.0)

    assert (said.state, said.at_test) == (HeatState.KEEP_MEASURING, None)
    assert said.more_min > 0


def test_six_readings_that_tell_the_end_are_enough_and_five_are_not() -> None:
    # own judgement, no source; a contact that ends at 20 K
    six = forecast(series(plain, 40, every=8), 40.0)
    five = forecast(series(plain, 32, every=8), 40.0)

    assert six.state is HeatState.FORECAST
    assert six.at_test.low_k <= 20.0 <= six.at_test.high_k
    assert five.state is HeatState.KEEP_MEASURING


def test_full_current_scales_low_by_1_6_and_high_by_2() -> None:
    said = forecast(series(plain, 30), 48.0)

    assert said.at_full.low_k == pytest.approx(said.at_test.low_k * 1.5**1.6)
    assert said.at_full.high_k == pytest.approx(said.at_test.high_k * 1.5**2.0)


def test_a_late_start_and_uneven_times_do_not_matter() -> None:
    late = series(box, 30, start=4)
    said = forecast([*late[:8], *late[8::3]], 40.0)

    assert said.at_test.low_k <= 30 <= said.at_test.high_k


def test_a_spike_is_left_out_and_named() -> None:
    readings = series(plain, 20)
    readings[9] = readings[9]._replace(temp_c=55.0)
    said = forecast(readings, 40.0)

    assert said.left_out == (9,)
    assert said.at_test.value_k == pytest.approx(20, abs=1.0)


@pytest.mark.parametrize("every", [1, 2, 3])
def test_the_bend_of_a_heating_curve_is_no_spike(every: int) -> None:
    # 12 K within 2 minutes bend by 2.5 K between three readings two minutes apart
    for until in range(8, 61):
        assert forecast(series(box, until, every=every), 40.0).left_out == ()


def test_a_spike_on_the_bend_is_found_all_the_same() -> None:
    readings = series(box, 30, every=2)
    readings[1] = readings[1]._replace(temp_c=readings[1].temp_c + 8.0)

    assert forecast(readings, 40.0).left_out == (1,)


@pytest.mark.parametrize("first", [4, 9, 14])
@pytest.mark.parametrize("off_k", [-7.0, -4.0, 4.0, 7.0])
def test_two_readings_of_a_probe_that_slipped_are_no_rise_that_gets_faster(
    first: int, off_k: float
) -> None:
    readings = series(plain, 40, every=2)
    for i in (first, first + 1):
        readings[i] = readings[i]._replace(temp_c=readings[i].temp_c + off_k)
    said = forecast(readings, 40.0)

    assert said.left_out == (first, first + 1)
    assert said.at_test.value_k == pytest.approx(20, abs=1.0)


@pytest.mark.parametrize("last_k", [28.0, 10.0])
def test_one_last_reading_is_repeated_before_it_is_believed(last_k: float) -> None:
    readings = [*series(plain, 20), HeatSample(21 * 60.0, 22.0 + last_k, 22.0, 32.0)]
    said = forecast(readings, 40.0)

    assert (said.state, said.more_min) == (HeatState.KEEP_MEASURING, 1)
    assert said.is_last_doubtful
    assert said.left_out == ()  # the wrong one pulls at what is before it, which is right


def test_a_changed_current_begins_a_new_series() -> None:
    low = [s._replace(current_a=16.0) for s in series(plain, 10)]
    high = [HeatSample(s.at_s + 660.0, s.temp_c + 13.0, 22.0, 32.0) for s in series(plain, 20)]
    said = forecast([*low, *high], 40.0)

    assert said.started == 11
    assert said.at_test.value_k == pytest.approx(33, abs=1)


def test_cooling_is_called_cooling() -> None:
    said = forecast(series(lambda t: 25 * exp(-t / 12), 15), 40.0)

    assert (said.state, said.at_test, said.more_min) == (HeatState.COOLING, None, 0)


def test_a_rise_that_gets_faster_ends_the_test() -> None:
    said = forecast(series(lambda t: plain(t) + exp(max(t - 12, 0) / 4) - 1, 22), 40.0)

    assert (said.state, said.stop) == (HeatState.STOP, Stop.ACCELERATING)
    assert said.more_min == 0


@pytest.mark.parametrize("shape", [box, plain, lambda t: 6 * (1 - exp(-((t / 6) ** 1.5)))])
def test_sound_heating_never_ends_a_test_as_accelerating(shape: Shape) -> None:
    for until in range(1, 60):
        assert forecast(series(shape, until), 40.0).stop is Stop.NONE


def test_stop_temperature_and_stop_rise_end_the_test() -> None:
    hot = [s._replace(temp_c=s.temp_c + 21.0, ambient_c=43.0) for s in series(plain, 20)]
    steep = series(lambda t: 3 * plain(t), 20)

    assert forecast(hot, 40.0).stop is Stop.TEMPERATURE  # 43 °C + 17.8 K
    assert forecast(steep, 40.0, stop_c=200.0).stop is Stop.RISE  # 53 K over 40 K


def test_on_a_part_seen_damaged_nothing_asks_to_go_on() -> None:
    for until in (1, 5, 10, 30):
        said = forecast(series(box, until), 40.0, has_stop_sign=True)
        assert (said.state, said.stop, said.more_min) == (HeatState.STOP, Stop.SIGN, 0)


def test_rising_on_after_half_an_hour_is_said() -> None:
    assert forecast(
        series(lambda t: 60 * (1 - exp(-t / 40)), 35), 40.0, stop_c=200.0
    ).is_still_rising
    assert not forecast(series(plain, 35), 40.0).is_still_rising


def test_the_thermometers_own_error_widens_the_bounds() -> None:
    share = ufloat(1.0, 0.02 / 3**0.5)
    rough = [s._replace(temp_c=s.temp_c * share) for s in series(plain, 30)]
    exact_end, rough_end = (forecast(each, 40.0).at_test for each in (series(plain, 30), rough))

    assert rough_end.high_k > exact_end.high_k
    assert rough_end.low_k < exact_end.low_k


def beside(shape: Shape, until: int) -> list[HeatSample]:
    """A like part, read a minute after each reading of the contact."""
    return [s._replace(at_s=s.at_s + 60.0) for s in series(shape, until, every=2)]


def test_a_like_contact_is_compared_by_its_end() -> None:
    # the contact ends at 30 K, the like one at 0.7 of it: 9 K less
    part = series(box, 30, every=2)
    like = beside(lambda t: 0.7 * box(t + 1), 28)
    bounds = like_difference_k(part, like, forecast(part, 40.0))

    assert bounds.low_k < 9.0 < bounds.high_k
    assert bounds.low_k > 5.0


def test_a_difference_is_as_it_is_now_while_the_end_is_open() -> None:
    part = series(plain, 8, every=2)
    bounds = like_difference_k(part, beside(lambda t: plain(t + 1) - 4.0, 6), forecast(part, 40.0))

    assert bounds.low_k == pytest.approx(4.0, abs=0.3)
    assert bounds.high_k == pytest.approx(4.0, abs=0.3)


def test_an_error_that_one_probe_shares_leaves_the_difference() -> None:
    # JCGM 100:2008, 5.2.2 (from memory): 2 % of 60 °C is 1.2 K, of a difference of 10 K 0.2 K
    gain = ufloat(1.0, 0.02)
    part = [HeatSample(60.0 * t, 60.0 * gain, 20.0, 32.0) for t in (0, 2)]
    like = [HeatSample(60.0, 50.0 * gain, 20.0, 32.0)]
    bounds = like_difference_k(part, like, forecast(part, 32.0))

    assert bounds.low_k == pytest.approx(9.6)
    assert bounds.high_k == pytest.approx(10.4)


def test_without_a_reading_between_two_of_the_contact_nothing_is_compared() -> None:
    part = series(box, 10)
    late = [s._replace(at_s=s.at_s + 1e4) for s in part]
    assert like_difference_k(part, late, forecast(part, 40.0)) is None
    assert like_difference_k(part, (), forecast(part, 40.0)) is None


def test_times_must_increase_and_current_must_flow() -> None:
    with pytest.raises(OutOfRangeError, match="do not increase"):
        forecast([HeatSample(0.0, 25.0, 22.0, 32.0)] * 2, 40.0)
    with pytest.raises(OutOfRangeError, match="while current flows"):
        forecast([HeatSample(0.0, 25.0, 22.0, 0.0)], 40.0)
    with pytest.raises(OutOfRangeError, match="while current flows"):
        forecast([], 40.0)


def test_even_readings_have_no_spike_and_one_current_is_steady() -> None:
    assert spikes(list(range(10)), [float(t) for t in range(10)]) == ()
    assert spikes([0.0, 1.0], [0.0, 1.0]) == ()
    assert steady_since([30.0, 30.5, 29.8]) == 0


def test_the_curve_to_draw_passes_the_readings() -> None:
    said = forecast(series(plain, 20), 40.0)
    near = [rise for minutes, rise in said.curve if abs(minutes - 9) < 0.6]

    assert near[0] == pytest.approx(plain(9), abs=1.0)
    assert said.curve[-1][0] >= 38
