"""The judge of a surface under load."""

from dataclasses import replace

from checks.check import Judge, Situation, not_measured
from checks.electrical.heat_forecast import HeatForecast, HeatState, Stop, forecast, too_hot
from checks.errors import OutOfRangeError
from checks.quantity import nominal
from checks.stations.circuit_facts import full_current_a
from checks.stations.warmth.heated import Heated, stopped
from checks.stations.warmth.place import Place, place_limits
from checks.stations.warmth.series import HeatSeries, heat_series, hottest
from checks.stations.warmth.words import ended
from checks.verdict import Judgement, Severity, Verdict


def warmth_judge(place: Place) -> Judge:
    """Return the judge of a surface under load at a place."""

    def judge(s: Situation) -> Judgement:
        limits = place_limits(s, place)
        sign = s.choice(f"{place.check}.sign")
        is_sign = sign not in (None, "none")
        damage, series = _damage(s, place), _series(s, place)
        if isinstance(series, str):
            if is_sign:
                return stopped(place, Stop.SIGN, ended(place.part, str(sign)), limits)
            return not_measured(damage or series, limits)
        seen_now = str(sign) if is_sign else damage
        try:
            found = _forecast(s, series, has_stop_sign=bool(seen_now))
        except OutOfRangeError as error:
            if seen_now:
                return stopped(place, Stop.SIGN, ended(place.part, seen_now), limits)
            return not_measured(error.problem, limits)
        return Heated(s, place, series, found, limits).judged(seen_now, sign)

    return judge


def _series(s: Situation, place: Place) -> HeatSeries | str:
    """Return what was read while current flowed, or the words for what is missing."""
    read = heat_series(s, place.check, has_like_part=place.has_like_part)
    if read is None:
        return "Surface, air and current are not read yet"
    return read.under_current() or "Read temperature, air and current while current flows"


def _forecast(s: Situation, series: HeatSeries, *, has_stop_sign: bool) -> HeatForecast:
    """Forecast the part's end; a like part that got too hot ends the test as well."""
    found = forecast(
        series.samples,
        full_current_a(s) or nominal(series.samples[-1].current_a),
        resolution_k=series.resolution_k,
        has_stop_sign=has_stop_sign,
    )
    hot = too_hot(hottest(series.like)) if series.like else Stop.NONE
    if found.stop is not Stop.NONE or hot is Stop.NONE:
        return found
    return replace(found, state=HeatState.STOP, stop=hot, at_test=None, at_full=None)


def _damage(s: Situation, place: Place) -> str:
    """Return what was seen there that no current may flow through; empty when nothing was."""
    found = place.damage(s)
    is_bad = found.verdict is Verdict.OUTSIDE and found.severity is Severity.DANGER
    return found.explanation if is_bad else ""
