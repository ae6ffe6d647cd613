"""The judge of a surface under load."""

from dataclasses import replace

from checks.check import Judge, Situation, not_measured
from checks.electrical.heat_forecast import HeatState, Stop, forecast, too_hot
from checks.errors import OutOfRangeError
from checks.quantity import nominal
from checks.stations.circuit_facts import full_current_a
from checks.stations.warmth.heated import Heated, stopped
from checks.stations.warmth.place import Place, place_limits
from checks.stations.warmth.series import heat_series
from checks.stations.warmth.words import ended
from checks.verdict import Judgement, Severity, Verdict


def warmth_judge(place: Place) -> Judge:
    """Return the judge of a surface under load at a place."""

    def judge(s: Situation) -> Judgement:
        limits = place_limits(s, place)
        series = heat_series(s, place.check, has_like_part=place.has_like_part)
        sign = s.choice(f"{place.check}.sign")
        damage = _damage(s, place)
        seen_now = sign if sign not in (None, "none") else damage
        if series is None:
            if sign not in (None, "none"):
                return stopped(place, Stop.SIGN, ended(place.part, str(sign)), limits)
            return not_measured(damage or "Surface, air and current are not read yet", limits)
        try:
            found = forecast(
                series.samples,
                full_current_a(s) or nominal(series.samples[-1].current_a),
                resolution_k=series.resolution_k,
                has_stop_sign=bool(seen_now),
            )
        except OutOfRangeError as error:
            return not_measured(error.problem, limits)
        if found.stop is Stop.NONE and series.like and (hot := too_hot(series.like[-1])):
            found = replace(found, state=HeatState.STOP, stop=hot, at_test=None, at_full=None)
        return Heated(s, place, series, found, limits).judged(seen_now or "", sign)

    return judge


def _damage(s: Situation, place: Place) -> str:
    """Return what was seen there that no current may flow through; empty when nothing was."""
    found = place.damage(s)
    is_bad = found.verdict is Verdict.OUTSIDE and found.severity is Severity.DANGER
    return found.explanation if is_bad else ""
