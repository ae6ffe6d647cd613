"""Readings of a surface under load, put together: one sample a reading, with air and current."""

from collections.abc import Sequence
from datetime import datetime
from typing import Final, NamedTuple

from checks.check import Situation
from checks.electrical.heat_forecast import HeatForecast, HeatState, RiseForecast
from checks.electrical.heat_forecast_stop import HeatSample
from checks.electrical.thermography import LEAST_LOAD_RATIO
from checks.quantity import nominal
from checks.units import Number, from_si
from checks.verdict import HeatEnd, HeatingCurve, HeatLine, HeatPoint

FULL_WITHIN: Final = 0.03  # of full current
_MIN_S: Final = 60.0


class Timed(NamedTuple):
    """A reading and when it was taken [s]."""

    at_s: float
    value: Number


class HeatSeries(NamedTuple):
    """The readings of one check, in order of time; air and current as they were in between.

    Parameters
    ----------
    samples : tuple of HeatSample
        Of the part.
    like : tuple of HeatSample
        Of a like part; empty where there is none.
    resolution_k : float
        Last digit of the temperatures, as typed. [K]
    unit : str
        In which the temperatures were read.
    """

    samples: tuple[HeatSample, ...]
    like: tuple[HeatSample, ...]
    resolution_k: float
    unit: str

    @property
    def is_like_hotter(self) -> bool:
        """Whether the like part was hotter than the part itself ever was."""
        return bool(self.like) and _temp_c(hottest(self.like)) > _temp_c(hottest(self.samples))

    def under_current(self) -> "HeatSeries | None":
        """Return it without what was read after the current had ended; nothing if none flowed."""
        samples, like = _while_current(self.samples), _while_current(self.like)
        return self._replace(samples=samples, like=like) if samples else None


def hottest(samples: Sequence[HeatSample]) -> HeatSample:
    """Return the reading at which a part was hottest."""
    return max(samples, key=_temp_c)


def _temp_c(sample: HeatSample) -> float:
    return nominal(sample.temp_c)


def _while_current(samples: tuple[HeatSample, ...]) -> tuple[HeatSample, ...]:
    flowing = [i for i, sample in enumerate(samples) if nominal(sample.current_a) > 0]
    return samples[: flowing[-1] + 1] if flowing else ()


def heat_series(s: Situation, check: str, *, has_like_part: bool) -> HeatSeries | None:
    """Put the readings of a check together; nothing while the part, air or current is not read."""
    part, air, current = (
        _timed(s, f"{check}.{name}") for name in ("surface", "ambient", "current")
    )
    like = _timed(s, f"{check}.like_part") if has_like_part else ()
    if not part or not air or not current:
        return None
    return HeatSeries(
        _samples(part, air, current),
        _samples(like, air, current),
        s.resolution(f"{check}.surface"),
        s.unit_of(f"{check}.surface", "°C"),
    )


def _timed(s: Situation, reference: str) -> tuple[Timed, ...]:
    """Return a series in order of time; of several readings within a second the last one."""
    read = {datetime.fromisoformat(at).timestamp(): value for at, value in s.series(reference)}
    return tuple(Timed(at_s, read[at_s]) for at_s in sorted(read))


def _samples(
    part: Sequence[Timed], air: Sequence[Timed], current: Sequence[Timed]
) -> tuple[HeatSample, ...]:
    return tuple(
        HeatSample(at_s, c, between(air, at_s), between(current, at_s)) for at_s, c in part
    )


def between(series: Sequence[Timed], at_s: float) -> Number:
    """Return a value between two readings on the line that joins them; held beyond the ends.

    Examples
    --------
    >>> between([Timed(0.0, 20.0), Timed(600.0, 22.0)], 300.0)
    21.0
    """
    before = [t for t in series if t.at_s <= at_s]
    after = [t for t in series if t.at_s > at_s]
    if not before or not after:
        return (before[-1] if before else after[0]).value
    first, then = before[-1], after[0]
    share = (at_s - first.at_s) / (then.at_s - first.at_s)
    return first.value * (1 - share) + then.value * share


def is_full(test_a: float, full_a: float) -> bool:
    """Whether a test ran at as good as full current: its end need not be told twice."""
    return abs(full_a - test_a) <= FULL_WITHIN * full_a


def is_too_little(test_a: float, full_a: float) -> bool:
    """Whether a test ran at too little current to say where the heat of full current ends.

    Standby heat and the error of a reading, scaled up so far, are as large as what is looked for.
    NFPA 70B 2023, 7.4.5.
    """
    return test_a < LEAST_LOAD_RATIO * full_a


def heating_curve(
    series: HeatSeries,
    found: HeatForecast,
    full_a: float,
    lines: Sequence[tuple[str, float, bool]],
    says: str,
) -> HeatingCurve:
    """Describe the curve to draw.

    Parameters
    ----------
    series : HeatSeries
        The readings.
    found : HeatForecast
        What they say of the end.
    full_a : float
        Full current. [A]
    lines : sequence of tuple
        Label, rise over the air, and whether it ends the test. [-, K, -]
    says : str
        What they say, in one sentence.
    """
    last = series.samples[-1]
    air_c, test_a = nominal(last.ambient_c), nominal(last.current_a)
    shown = _Shown(series, air_c)
    started_min = shown.minute(series.samples[found.started].at_s)
    ends = [(full_a, found.at_full)]
    if not is_full(test_a, full_a):
        ends.insert(0, (test_a, found.at_test))
    return HeatingCurve(
        unit=series.unit,
        says=says,
        is_settled=found.state is not HeatState.KEEP_MEASURING,
        readings=shown.points(series.samples, found.left_out),
        like=shown.points(series.like, ()),
        curve=tuple(
            HeatPoint(minute=f"{started_min + t:.2f}", value=shown.over_air(k))
            for t, k in found.curve
        ),
        ends=tuple(shown.end(f"{a:.0f} A", rise) for a, rise in ends if rise is not None),
        lines=(
            HeatLine(label="air", value=shown.over_air(0.0)),
            *(
                HeatLine(label=label, value=shown.over_air(k), is_stop=is_stop)
                for label, k, is_stop in lines
            ),
        ),
    )


class _Shown:
    """Writes times and temperatures as the figure has them."""

    def __init__(self, series: HeatSeries, air_c: float) -> None:
        self._start_s = min(s.at_s for s in (*series.samples, *series.like))
        self._unit, self._air_c = series.unit, air_c

    def minute(self, at_s: float) -> float:
        return (at_s - self._start_s) / _MIN_S

    def temperature(self, celsius: float) -> str:
        return f"{nominal(from_si(celsius, self._unit)):.2f}"

    def over_air(self, rise_k: float) -> str:
        return self.temperature(self._air_c + rise_k)

    def points(
        self, samples: Sequence[HeatSample], left_out: Sequence[int]
    ) -> tuple[HeatPoint, ...]:
        return tuple(
            HeatPoint(
                minute=f"{self.minute(s.at_s):.2f}",
                value=self.temperature(nominal(s.temp_c)),
                is_left_out=i in left_out,
            )
            for i, s in enumerate(samples)
        )

    def end(self, label: str, rise: RiseForecast) -> HeatEnd:
        return HeatEnd(
            label=label,
            low=self.over_air(rise.low_k),
            value=self.over_air(rise.value_k),
            high="" if rise.high_k is None else self.over_air(rise.high_k),
        )
