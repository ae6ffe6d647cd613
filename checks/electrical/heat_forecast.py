"""How hot a contact will end up, as soon as the readings allow it and never sooner."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import ceil
from typing import Final

from checks.electrical.heat_forecast_fit import EndOfRise, end_of_rise
from checks.electrical.heat_forecast_signs import (
    is_accelerating,
    is_cooling,
    scatter_k,
    spikes,
    steady_since,
)
from checks.electrical.heat_forecast_stop import STOP_C, STOP_RISE_K, HeatSample, Stop, too_hot
from checks.electrical.heating import rise_interval_k
from checks.errors import OutOfRangeError
from checks.quantity import COVERAGE, expanded, nominal
from checks.source import judgement
from checks.units import Number

LEAST_READINGS: Final = 6
LEAST_SPAN_MIN: Final = 8.0
LOW_SHARE, HIGH_SHARE = 0.025, 0.975  # of what the end may be, below the two bounds
OPEN_SHARE: Final = 0.95  # a forecast is made once this much lies below the best value ...
OPEN_K: Final = 4.0  # ... and this ...
OPEN_RATIO: Final = 0.36  # ... or this much of it more
SPAN_PER_CONSTANT: Final = 1.2  # how long to watch, in slow time constants
STEPS_MIN: Final = 5.0
MOST_MORE_MIN: Final = 60.0
FAST_SLOPE_K_PER_MIN: Final = 0.2  # 1 K in 5 minutes
LONG_MIN: Final = 30.0
STILL_RISING: Final = judgement(
    "more than 1 K in 5 minutes after half an hour at a steady current is a finding of its own"
)
MOST_C: Final = 1000.0  # beyond it, cold or hot, no thermometer of the trade reads


class HeatState(StrEnum):
    """What a series allows to be said."""

    FORECAST = "forecast"
    KEEP_MEASURING = "keep measuring"
    COOLING = "cooling"
    STOP = "reduce or stop the current from a safe point"


@dataclass(frozen=True)
class RiseForecast:
    """Rise to expect, lowest and highest [K]; the highest is none while it is open upward."""

    value_k: float
    low_k: float
    high_k: float | None


@dataclass(frozen=True)
class HeatForecast:
    """What a series of temperatures says of the end.

    Parameters
    ----------
    state : HeatState
        What it allows to be said.
    stop : Stop
        Why the test ends, if it does.
    last_rise_k : Number
        Rise at the last reading. [K]
    at_test, at_full : RiseForecast, optional
        Final rise at this current and at full current; none while cooling or without a fit.
    more_min : int
        How long to keep measuring, about; 0 unless the state asks for it. [min]
    slope_k_per_min : float
        Slope at the last reading. [K/min]
    is_still_rising : bool
        Whether it rises by more than 1 K in 5 minutes after half an hour.
    slow_min : float
        Time constant of the slow part, the best estimate; 0 without a fit. [min]
    left_out : tuple of int
        Numbers of readings that stand out and were left out.
    is_last_doubtful : bool
        Whether the last reading alone breaks the course: it is read again before it is believed.
    started : int
        Number of the reading since which the current has been steady.
    curve : tuple of tuple
        Minutes since that reading, and rise, of the best curve, to draw. [min, K]
    """

    state: HeatState
    stop: Stop
    last_rise_k: Number
    at_test: RiseForecast | None = None
    at_full: RiseForecast | None = None
    more_min: int = 0
    slope_k_per_min: float = 0.0
    is_still_rising: bool = False
    slow_min: float = 0.0
    left_out: tuple[int, ...] = ()
    is_last_doubtful: bool = False
    started: int = 0
    curve: tuple[tuple[float, float], ...] = ()


def forecast(
    samples: Sequence[HeatSample],
    full_a: float,
    *,
    resolution_k: float = 0.1,
    has_stop_sign: bool = False,
    stop_c: float = STOP_C,
    stop_rise_k: float = STOP_RISE_K,
) -> HeatForecast:
    """Forecast the final rise of a contact, or say how long to keep measuring.

    Times come from stamps and need not be even; the series may begin late, or hold a spike. A
    forecast is never below the last reading, and its upper bound stays open until the readings
    tell a slow part of the heating from none.

    Parameters
    ----------
    samples : sequence of HeatSample
        The series, in order of time. [s, °C, °C, A]
    full_a : float
        Current to scale to. [A]
    resolution_k : float
        Last digit of the thermometer. [K]
    has_stop_sign : bool
        Whether smell, discoloration or damage was seen. [-]
    stop_c : float
        Temperature that ends the test. [°C]
    stop_rise_k : float
        Rise over ambient that ends the test. [K]

    Returns
    -------
    HeatForecast
        State, forecasts and what to do. [K]

    Raises
    ------
    OutOfRangeError
        No reading, no current, a temperature that nothing reads, or times that do not increase.

    References
    ----------
    First-order step responses; NETA ATS 2003 table 100.18 for the stop rise.

    Examples
    --------
    >>> early = [HeatSample(60.0 * t, 25.0 + t, 25.0, 32.0) for t in range(4)]
    >>> forecast(early, 40.0).state.value
    'keep measuring'
    """
    _refuse(samples)
    last_rise_k = samples[-1].temp_c - samples[-1].ambient_c
    started = steady_since([nominal(s.current_a) for s in samples])
    series = _Series(samples[started:], started, resolution_k)
    stop = Stop.SIGN if has_stop_sign else _stop(samples, series, stop_c, stop_rise_k)
    if stop is Stop.NONE and series.is_long and not (series.is_cooling or series.is_last_doubtful):
        return _forecast(series, last_rise_k, samples[-1].current_a, full_a)
    state, more_min = _unforecast(series, stop)
    return HeatForecast(
        state,
        stop,
        last_rise_k,
        more_min=more_min,
        started=started,
        left_out=series.left_out,
        is_last_doubtful=state is HeatState.KEEP_MEASURING and series.is_last_doubtful,
    )


class _Series:
    """Times from the first reading at this current, rises, and what stands out among them."""

    def __init__(self, samples: Sequence[HeatSample], started: int, resolution_k: float) -> None:
        minutes = [(s.at_s - samples[0].at_s) / 60 for s in samples]
        rises_k = [nominal(s.temp_c - s.ambient_c) for s in samples]
        out = spikes(minutes, rises_k)
        kept = [i for i in range(len(samples)) if i not in out]
        self.minutes = [minutes[i] for i in kept]
        self.rises_k = [rises_k[i] for i in kept]
        self.started = started
        self.left_out = tuple(started + i for i in out)
        self.span_min = self.minutes[-1]
        self.is_long = len(kept) >= LEAST_READINGS and self.span_min >= LEAST_SPAN_MIN
        self.least_noise_k = max(resolution_k * 0.29, 0.05)  # rounding: 1/√12 of a digit
        self.fit: EndOfRise | None = None
        if len(kept) >= LEAST_READINGS:
            self.fit = end_of_rise(self.minutes, self.rises_k, self.least_noise_k)

    @property
    def noise_k(self) -> float:
        """Scatter of one reading; none that fits a heating curve may hide another shape. [K]."""
        return max(scatter_k(self.minutes, self.rises_k), self.least_noise_k)

    @property
    def is_cooling(self) -> bool:
        return all(is_cooling(t, y, self.noise_k) for t, y in self._with_and_without_last())

    @property
    def is_accelerating(self) -> bool:
        return all(is_accelerating(t, y, self.noise_k) for t, y in self._with_and_without_last())

    @property
    def is_last_doubtful(self) -> bool:
        """Whether the last reading alone shows a sign: one reading may be a slip."""
        return not (self.is_cooling or self.is_accelerating) and (
            is_cooling(self.minutes, self.rises_k, self.noise_k)
            or is_accelerating(self.minutes, self.rises_k, self.noise_k)
        )

    def _with_and_without_last(self) -> tuple[tuple[list[float], list[float]], ...]:
        return (self.minutes, self.rises_k), (self.minutes[:-1], self.rises_k[:-1])


def _stop(
    samples: Sequence[HeatSample], series: _Series, stop_c: float, stop_rise_k: float
) -> Stop:
    """Say what ended the test at any of its readings: what cools after it is no sounder."""
    kept = (s for i, s in enumerate(samples) if i not in series.left_out)
    hot = (too_hot(s, stop_c, stop_rise_k) for s in kept)
    found = next((stop for stop in hot if stop is not Stop.NONE), Stop.NONE)
    return Stop.ACCELERATING if found is Stop.NONE and series.is_accelerating else found


def _unforecast(series: _Series, stop: Stop) -> tuple[HeatState, int]:
    """State and minutes to go on where nothing can be forecast."""
    if stop is not Stop.NONE:
        return HeatState.STOP, 0
    if series.is_cooling:
        return HeatState.COOLING, 0
    if series.is_last_doubtful:
        return HeatState.KEEP_MEASURING, 1
    return HeatState.KEEP_MEASURING, ceil(max(LEAST_SPAN_MIN - series.span_min, 1.0) + STEPS_MIN)


def _forecast(
    series: _Series, last_rise_k: Number, current_a: Number, full_a: float
) -> HeatForecast:
    fit = series.fit
    assert fit is not None  # a long series has one
    at_test = _at_test(fit, last_rise_k)
    slope = fit.best.slope_k_per_min(series.span_min)
    state = HeatState.FORECAST if at_test.high_k is not None else HeatState.KEEP_MEASURING
    return HeatForecast(
        state,
        Stop.NONE,
        last_rise_k,
        at_test,
        _at_full(at_test, current_a, full_a),
        _more_min(series, fit) if state is HeatState.KEEP_MEASURING else 0,
        slope,
        series.span_min >= LONG_MIN and slope > FAST_SLOPE_K_PER_MIN,
        fit.slow_min,
        series.left_out,
        started=series.started,
        curve=_drawn(series, fit),
    )


def _at_test(fit: EndOfRise, last_rise_k: Number) -> RiseForecast:
    """Forecast at the test current, the thermometer's own error included."""
    last_k = nominal(last_rise_k)
    value_k = max(fit.value_k, last_k)
    meter_k = expanded(last_rise_k) * max(1.0, value_k / last_k if last_k > 1 else 1.0)
    above_k = fit.quantile_k(HIGH_SHARE) - value_k
    below_k = value_k - fit.quantile_k(LOW_SHARE)
    is_open = fit.quantile_k(OPEN_SHARE) - value_k > max(OPEN_K, OPEN_RATIO * value_k)
    low_k = max(value_k - _both(below_k, meter_k), last_k - meter_k)
    high_k = value_k + _both(max(above_k, fit.noise_k * COVERAGE), meter_k)
    return RiseForecast(value_k, low_k, None if is_open else high_k)


def _at_full(at_test: RiseForecast, current_a: Number, full_a: float) -> RiseForecast:
    """Scale; the range of exponents makes the interval wider on both sides."""
    low_k = nominal(rise_interval_k(at_test.low_k, current_a, full_a).low_k)
    middle = rise_interval_k(at_test.value_k, current_a, full_a)
    value_k = (nominal(middle.low_k) + nominal(middle.high_k)) / 2
    high_k = None
    if at_test.high_k is not None:
        high_k = nominal(rise_interval_k(at_test.high_k, current_a, full_a).high_k)
    return RiseForecast(value_k, low_k, high_k)


def _more_min(series: _Series, fit: EndOfRise) -> int:
    wanted = SPAN_PER_CONSTANT * fit.slow_min - series.span_min
    bounded = min(max(wanted, STEPS_MIN), MOST_MORE_MIN)
    return int(ceil(bounded / STEPS_MIN) * STEPS_MIN)


def _drawn(series: _Series, fit: EndOfRise) -> tuple[tuple[float, float], ...]:
    until = max(2 * series.span_min, series.span_min + 2 * fit.best.slow_min)
    return tuple((t, fit.best.rise_k(t)) for t in (until * i / 40 for i in range(41)))


def _both(a: float, b: float) -> float:
    return float((a * a + b * b) ** 0.5)


def _refuse(samples: Sequence[HeatSample]) -> None:
    if not samples or nominal(samples[-1].current_a) <= 0:
        raise OutOfRangeError(
            "a temperature series needs readings while current flows",
            where="Temperature under load",
            remedy="Read temperature, air and current together, several times",
        )
    if any(abs(nominal(c)) > MOST_C for s in samples for c in (s.temp_c, s.ambient_c)):
        raise OutOfRangeError(
            "a temperature of the series is none that a thermometer reads",
            where="Temperature under load",
            remedy="Read it again",
        )
    if any(b.at_s <= a.at_s for a, b in pairwise(samples)):
        raise OutOfRangeError(
            "the times of a temperature series do not increase",
            where="Temperature under load",
            remedy="Enter the readings in the order they were taken",
        )
