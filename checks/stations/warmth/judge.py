"""The judge of a surface under load."""

from dataclasses import replace

from checks.check import Judge, Situation, not_measured
from checks.electrical.heat_forecast import HeatForecast, HeatState, forecast
from checks.electrical.heat_forecast_stop import Stop, too_hot
from checks.errors import OutOfRangeError
from checks.stations.warmth.heated import Heated, stopped
from checks.stations.warmth.misread import judged_at_a
from checks.stations.warmth.place import Place, place_limits
from checks.stations.warmth.series import HeatSeries, heat_series, hottest
from checks.stations.warmth.words import ended, stop_words
from checks.verdict import Judgement, Severity, Verdict


def warmth_judge(place: Place) -> Judge:
    """Return the judge of a surface under load at a place."""

    def judge(s: Situation) -> Judgement:
        limits = place_limits(s, place)
        sign = s.choice(f"{place.check}.sign")
        is_sign = sign not in (None, "none")
        damage = _damage(s, place)
        read = heat_series(s, place.check, has_like_part=place.has_like_part)
        seen_now = str(sign) if is_sign else damage
        if read is None:
            if is_sign:
                return stopped(place, Stop.SIGN, ended(place.part, seen_now), limits)
            return not_measured(damage or "Surface, air and current are not read yet", limits)
        under = read.under_current()
        try:
            found = None if under is None else _forecast(s, under, has_stop_sign=bool(seen_now))
            problem = "Read temperature, air and current while current flows"
        except OutOfRangeError as error:
            found, problem = None, error.problem
        hot = _too_hot(read, under)
        if found is None or under is None:
            return _without_forecast(place, read, seen_now, hot, not_measured(problem, limits))
        if found.stop is Stop.NONE and hot is not Stop.NONE:
            found = replace(found, state=HeatState.STOP, stop=hot, at_test=None, at_full=None)
            under = read  # what was read after the current had ended shows it
        return Heated(s, place, under, found, limits).judged(seen_now, sign)

    return judge


def _without_forecast(
    place: Place, read: HeatSeries, seen_now: str, hot: Stop, missing: Judgement
) -> Judgement:
    """Return what is seen or read all the same where no end can be told."""
    if seen_now:
        return stopped(place, Stop.SIGN, ended(place.part, seen_now), missing.limits)
    if hot is not Stop.NONE:
        return stopped(place, hot, stop_words(place.part, read, hot), missing.limits)
    return missing


def _too_hot(read: HeatSeries, under: HeatSeries | None) -> Stop:
    """Say whether a like part got too hot, or the part itself after the current had ended.

    Without current a part was no cooler under it; what was read under current the forecast judges,
    which knows a slip among many readings.
    """
    after = read.samples if under is None else read.samples[len(under.samples) :]
    found = (too_hot(hottest(each)) for each in (after, read.like) if each)
    return next((stop for stop in found if stop is not Stop.NONE), Stop.NONE)


def _forecast(s: Situation, series: HeatSeries, *, has_stop_sign: bool) -> HeatForecast:
    return forecast(
        series.samples,
        judged_at_a(s, series),
        resolution_k=series.resolution_k,
        has_stop_sign=has_stop_sign,
    )


def _damage(s: Situation, place: Place) -> str:
    """Return what was seen there that no current may flow through; empty when nothing was."""
    found = place.damage(s)
    is_bad = found.verdict is Verdict.OUTSIDE and found.severity is Severity.DANGER
    return found.explanation if is_bad else ""
