"""A surface under load: where its heating ends, what ends the test, and what it never shows."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from uncertainties import ufloat

from checks.check import Judge, Situation, compare, not_measured, seen, together, unsettled
from checks.codes.ampacity import termination_column_c
from checks.electrical.heat_forecast import (
    STILL_RISING,
    STOP_C_BASIS,
    STOP_RISE_BASIS,
    STOP_RISE_K,
    HeatForecast,
    HeatState,
    RiseForecast,
    Stop,
    forecast,
)
from checks.electrical.heat_forecast_signs import FASTER
from checks.electrical.heating import EXPONENTS, rise_interval_k
from checks.electrical.like_part import GROWTH, like_difference_k
from checks.electrical.thermography import (
    AMBIENT_MAJOR_K,
    AMBIENT_PROBABLE_K,
    LEAST_LOAD,
    LEAST_LOAD_RATIO,
    LEVELS,
    LIKE_MAJOR_K,
    LIKE_POSSIBLE_K,
)
from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import COVERAGE, Number, amount, expanded, nominal
from checks.source import Basis, Source, judgement
from checks.stations.circuit_facts import breaker_a, full_current_a
from checks.stations.warmth_series import HeatSeries, heat_series, heating_curve
from checks.stations.warmth_words import ended, said
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_most, decide

PRODUCT_K: Final = 30.0
PRODUCT: Final = Source(document="UL 498", clause="temperature rise", basis=Basis.FROM_MEMORY)
TOUCH_C: Final = 60.0
TOUCH: Final = Source(
    document="IEC 61851-1", clause="non-metal surface that is grasped", basis=Basis.FROM_MEMORY
)
SURFACE: Final = judgement("the contact behind a surface is hotter than the surface")
DAMAGE: Final = judgement("no current through a part that is seen damaged")

STOP: Final = (
    "Reduce or stop the current at the vehicle or charger, from a safe point; then switch off at "
    "the breaker and lock it. Do not pull the plug or connector while it is hot"
)
HEAT: Final = "Heat at a contact makes it worse, faster each time, until it burns"
LOWER: Final = "Set the charger lower, and have the contacts checked with the circuit dead"
ALONE: Final = "a cool surface does not show that the contact behind it is sound"
STOP_SOURCES: Final = {
    Stop.SIGN: judgement("smell, discoloration, smoke or damage ends a test"),
    Stop.TEMPERATURE: STOP_C_BASIS,
    Stop.RISE: STOP_RISE_BASIS,
    Stop.ACCELERATING: FASTER,
}


@dataclass(frozen=True)
class Place:
    """A place whose surface is watched.

    Parameters
    ----------
    check : str
        The check's id.
    part : str
        What is measured, in words.
    is_backed : callable
        Whether other entries show the contact sound, so that a cool surface may be believed.
    settles : str
        What those entries are.
    damage : callable
        The judge of what is seen there: a danger there ends every test.
    is_grasped : bool
        Whether a hand takes hold of it.
    has_terminals : bool
        Whether terminals of the branch circuit lie behind it, with a temperature rating.
    has_like_part : bool
        Whether a like part, as warm as this one should be, is read beside it.
    """

    check: str
    part: str
    is_backed: Callable[[Situation], bool]
    settles: str
    damage: Judge
    is_grasped: bool = False
    has_terminals: bool = False
    has_like_part: bool = False


def warmth_judge(place: Place) -> Judge:
    """Return the judge of a surface under load at a place."""

    def judge(s: Situation) -> Judgement:
        limits = _limits(s, place)
        series = heat_series(s, place.check, has_like_part=place.has_like_part)
        sign = s.choice(f"{place.check}.sign")
        damage = _damage(s, place)
        seen_now = sign if sign not in (None, "none") else damage
        if series is None:
            if sign not in (None, "none"):
                return _stopped(place, Stop.SIGN, ended(place.part, str(sign)), limits)
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
        return _Heated(s, place, series, found, limits).judged(seen_now or "", sign)

    return judge


def _damage(s: Situation, place: Place) -> str:
    """Return what was seen there that no current may flow through; empty when nothing was."""
    found = place.damage(s)
    is_bad = found.verdict is Verdict.OUTSIDE and found.severity is Severity.DANGER
    return found.explanation if is_bad else ""


def _stopped(place: Place, stop: Stop, words: str, limits: tuple[Limit, ...]) -> Judgement:
    return seen(
        False,
        explanation=words,
        source=STOP_SOURCES[stop],
        why=HEAT,
        remedy=STOP,
        severity=Severity.DANGER,
        telling=f"stop: {place.part}",
    ).model_copy(update={"limits": limits})


def _limits(s: Situation, place: Place) -> tuple[Limit, ...]:
    found = [
        at_most(AMBIENT_PROBABLE_K, "K", Force.RECOMMENDATION, LEVELS, of="rise at full current"),
        *_termination(s, place),
    ]
    if place.has_like_part:
        found.append(_like_limit())
    return tuple(found)


def _like_limit() -> Limit:
    return at_most(
        LIKE_POSSIBLE_K, "K", Force.RECOMMENDATION, LEVELS, of="over a like part, same load"
    )


def _termination(s: Situation, place: Place) -> tuple[Limit, ...]:
    """Return the rating of the terminals behind the surface, once breaker and marking are known."""
    rated_a, marked = breaker_a(s), s.choice("run.conductor.terminals")
    if not place.has_terminals or rated_a is None:
        return ()
    marked_c = int(marked) if marked is not None and marked.isdigit() else None
    try:
        rule = termination_column_c(s.code, rated_a, marked_c)
    except OutOfTableError:
        return ()
    of = "terminals, in the end at full current"
    return (at_most(float(rule.value), "°C", Force.CODE_RULE, rule.source, of=of),)


def _within(low: float, high: float) -> Number:
    """Return the number whose interval (k = 2) runs between two bounds."""
    half = max(0.0, high - low) / 2
    return ufloat(low + half, half / COVERAGE) if half > 0 else low


class _Heated:
    """One series with what it says, held against every limit of its place."""

    def __init__(
        self,
        s: Situation,
        place: Place,
        series: HeatSeries,
        found: HeatForecast,
        limits: tuple[Limit, ...],
    ) -> None:
        self.s, self.place, self.series, self.found, self.limits = s, place, series, found, limits
        self.last = series.samples[-1]
        self.full_a = full_current_a(s) or nominal(self.last.current_a)

    def judged(self, seen_now: str, sign: str | None) -> Judgement:
        says = said(self.place.part, self.series, self.found, self.full_a)
        if self.found.stop is not Stop.NONE:
            if seen_now:
                says = ended(self.place.part, seen_now)
            made = _stopped(self.place, self.found.stop, says, self.limits)
        else:
            made = together(self._parts(says, sign))
        figure = heating_curve(self.series, self.found, self.full_a, self._lines(), says)
        if made.severity is Severity.DANGER:
            figure = figure.model_copy(update={"says": made.explanation, "is_settled": True})
        temp_c = amount(nominal(self.last.temp_c), self.series.unit, places=0)
        return made.model_copy(update={"heating": figure, "telling": str(temp_c)})

    def _lines(self) -> list[tuple[str, float, bool]]:
        air_c = nominal(self.last.ambient_c)
        lines = [(f"limit, {AMBIENT_PROBABLE_K:g} K over air", AMBIENT_PROBABLE_K, False)]
        stop_k = min(STOP_RISE_K, TOUCH_C - air_c)
        return [*lines, ("stop", stop_k, True)]

    def _parts(self, says: str, sign: str | None) -> list[Judgement]:
        if self.found.state is not HeatState.FORECAST:
            return [not_measured(says, self.limits), *self._already(), *self._like()]
        at_full = self.found.at_full
        assert at_full is not None
        parts = [self._rise(says, at_full), *self._hot(at_full), *self._like()]
        if self.found.is_still_rising:
            parts.append(self._still_rising())
        if full_current_a(self.s) is None:
            parts.append(not_measured("The charger's full current is missing", self.limits))
        if sign is None:
            parts.append(not_measured(f"{says}. Stop signs: not said yet", self.limits))
            return parts
        return parts + self._doubts()

    # -- the rise --------------------------------------------------------------------------------
    def _rise(self, says: str, at_full: RiseForecast) -> Judgement:
        high_k = at_full.high_k
        assert high_k is not None  # a forecast is closed upward
        rise_k = _within(at_full.low_k, high_k)
        return self._compared(says, rise_k, at_full.value_k, high_k, is_end=True)

    def _compared(
        self, says: str, rise_k: Number, value_k: float, high_k: float, *, is_end: bool = False
    ) -> Judgement:
        severity, more = Severity.CAUTION, ""
        if high_k > PRODUCT_K:
            severity, more = Severity.WARNING, f"; {PRODUCT_K:g} K is the limit of {PRODUCT}"
        if value_k > AMBIENT_MAJOR_K:
            severity, more = Severity.DANGER, "; a major deficiency by the trade's levels"
        return compare(
            rise_k,
            "K",
            self.limits[:1],
            explanation=says + (more if nominal(rise_k) > AMBIENT_PROBABLE_K else ""),
            why=HEAT,
            remedy=STOP if severity is Severity.DANGER else LOWER,
            settles="Measure longer, or read the like part beside it with the same probe",
            severity=severity,
            of="rise at full current",
            sources=(EXPONENTS,),
            is_tracked=is_end,
            at_a=self.full_a,
        )

    def _already(self) -> list[Judgement]:
        """Return a finding where what was read is too warm, whatever the end will be."""
        found, floor_k = self.found, self._floor_k()
        if found.at_full is not None:
            floor_k = max(floor_k, found.at_full.low_k)
        if floor_k <= AMBIENT_PROBABLE_K:
            return []
        says = (
            f"The {self.place.part} ends {floor_k:.0f} K or more over the air at {self.full_a:g} A"
        )
        return [self._compared(says, floor_k, floor_k, floor_k)]

    def _floor_k(self) -> float:
        """Return the warmest reading that stands, never scaled up."""
        floors = [0.0]
        for i, at in enumerate(self.series.samples):
            if i not in self.found.left_out:
                rise_k, current_a = at.temp_c - at.ambient_c, nominal(at.current_a)
                sure_k = nominal(rise_k) - expanded(rise_k)
                scaled = rise_interval_k(sure_k, max(current_a, self.full_a), self.full_a)
                floors.append(nominal(scaled.low_k))
        return max(floors)

    def _hot(self, at_full: RiseForecast) -> list[Judgement]:
        """Return the end at full current against what terminals bear and a hand may grasp."""
        high_k = at_full.high_k
        assert high_k is not None
        air_c = nominal(self.last.ambient_c)
        end_c = _within(air_c + at_full.low_k, air_c + high_k)
        touch = at_most(TOUCH_C, "°C", Force.LISTING, TOUCH, of="grasped surface")
        limits = list(_termination(self.s, self.place))
        if self.place.is_grasped and decide(end_c, (touch,)) is Verdict.OUTSIDE:
            limits.append(touch)  # from memory: it may warn, and proves nothing
        return [
            compare(
                end_c,
                "°C",
                (limit,),
                explanation=f"The {self.place.part} ends at {nominal(end_c):.0f} °C, "
                f"{self.full_a:g} A in air of {air_c:.0f} °C"
                + (", where a hand grasps it" if limit is touch else ""),
                why="The contact inside is hotter than its surface, and what is near it ages",
                remedy=STOP if limit is touch else LOWER,
                severity=Severity.WARNING,
                of=limit.amount.of,
                sources=(SURFACE,),
            )
            for limit in limits
        ]

    def _still_rising(self) -> Judgement:
        per_5_min = 5 * self.found.slope_k_per_min
        return seen(
            False,
            explanation=f"The {self.place.part} still rises {per_5_min:.1f} K in 5 min after half "
            "an hour at this current",
            source=STILL_RISING,
            why=HEAT,
            remedy=LOWER,
            severity=Severity.CAUTION,
        )

    # -- a like part -----------------------------------------------------------------------------
    def _like(self) -> list[Judgement]:
        """Compare with the like part; while the end is open, only what is too much already."""
        bounds = like_difference_k(self.series.samples, self.series.like, self.found)
        if bounds is None:
            return []
        difference_k = _within(*bounds)
        is_settled = self.found.state is HeatState.FORECAST
        if is_settled or decide(difference_k, (_like_limit(),)) is Verdict.OUTSIDE:
            return [self._over_like(difference_k)]
        return []

    def _over_like(self, difference_k: Number) -> Judgement:
        is_major = nominal(difference_k) > LIKE_MAJOR_K
        low_k = nominal(difference_k) - expanded(difference_k)
        high_k = nominal(difference_k) + expanded(difference_k)
        between = f"{low_k:.0f} K to {high_k:.0f} K"
        if low_k < 1:  # the table of levels begins there
            between = f"at most {max(0.0, high_k):.0f} K"
        return compare(
            difference_k,
            "K",
            (_like_limit(),),
            explanation=f"The {self.place.part} is {between} hotter than a like part under the "
            "same load",
            why="Like parts under the same load differ only when one contact is worse",
            remedy=STOP if is_major else "Have both contacts checked with the circuit dead",
            settles="Measure longer, both parts with the same probe",
            severity=Severity.WARNING if is_major else Severity.CAUTION,
            of="over a like part",
            sources=(GROWTH,),
        )

    # -- what a cool surface does not show ---------------------------------------------------------
    def _doubts(self) -> list[Judgement]:
        current_a, doubts = nominal(self.last.current_a), []
        if self.s.choice(f"{self.place.check}.method") in (None, "infrared_metal"):
            doubts.append(("Infrared on bare metal reads low", "Repeat on matte tape", SURFACE))
        if current_a < LEAST_LOAD_RATIO * self.full_a:
            words = f"{current_a:.1f} A is under {100 * LEAST_LOAD_RATIO:g} % of {self.full_a:g} A"
            doubts.append((words, "Repeat at more current", LEAST_LOAD))
        if not self.place.is_backed(self.s):
            doubts.append((f"At the {self.place.part}: {ALONE}", self.place.settles, SURFACE))
        return [
            unsettled(words, settles, severity=Severity.NOTICE, sources=(source,))
            for words, settles, source in doubts
        ]
