"""A series of a surface under load, held against every limit of its place."""

from dataclasses import replace
from typing import Final

from uncertainties import ufloat

from checks.check import Situation, compare, not_measured, seen, together, unsettled
from checks.electrical.heat_forecast import STILL_RISING, HeatForecast, HeatState, RiseForecast
from checks.electrical.heat_forecast_signs import FASTER
from checks.electrical.heat_forecast_stop import (
    STOP_C,
    STOP_C_BASIS,
    STOP_RISE_BASIS,
    STOP_RISE_K,
    Stop,
)
from checks.electrical.heating import EXPONENTS, rise_interval_k
from checks.electrical.like_part import GROWTH, like_difference_k
from checks.electrical.thermography import (
    AMBIENT_MAJOR_K,
    AMBIENT_PROBABLE_K,
    LEAST_LOAD,
    LIKE_MAJOR_K,
)
from checks.quantity import COVERAGE, amount, expanded, nominal
from checks.record import Attachment
from checks.source import Basis, Source, judgement
from checks.stations.circuit_facts import full_current_a
from checks.stations.warmth.misread import beyond_full, cold_words, judged_at_a, too_cold
from checks.stations.warmth.place import ALONE, SURFACE, Place, like_limit, termination_limits
from checks.stations.warmth.series import HeatSeries, heating_curve, is_full, is_too_little
from checks.stations.warmth.words import ended, said
from checks.units import Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_most, decide

PRODUCT_K: Final = 30.0
PRODUCT: Final = Source(document="UL 498", clause="temperature rise", basis=Basis.FROM_MEMORY)
TOUCH_C: Final = 60.0
TOUCH: Final = Source(
    document="IEC 61851-1", clause="non-metal surface that is grasped", basis=Basis.FROM_MEMORY
)

STOP: Final = (
    "Reduce or stop the current at the vehicle or charger, from a safe point; then switch off at "
    "the breaker and lock it. Do not pull the plug or connector while it is hot"
)
HEAT: Final = "Heat at a contact makes it worse, faster each time, until it burns"
LONGER: Final = "Measure longer, or read the like part beside it with the same probe"
MORE: Final = "Repeat at full current, or read the like part beside it with the same probe"
LOWER: Final = "Set the charger lower, and have the contacts checked with the circuit dead"
STOP_SOURCES: Final = {
    Stop.SIGN: judgement("smell, discoloration, smoke or damage ends a test"),
    Stop.TEMPERATURE: STOP_C_BASIS,
    Stop.RISE: STOP_RISE_BASIS,
    Stop.ACCELERATING: FASTER,
}


def stopped(place: Place, stop: Stop, words: str, limits: tuple[Limit, ...]) -> Judgement:
    """Return the danger that ends a test, with the words for what ended it."""
    return seen(
        False,
        explanation=words,
        source=STOP_SOURCES[stop],
        why=HEAT,
        remedy=STOP,
        severity=Severity.DANGER,
        telling=f"stop: {place.part}",
    ).model_copy(update={"limits": limits})


def _within(low: float, high: float) -> Number:
    """Return the number whose interval (k = 2) runs between two bounds."""
    half = max(0.0, high - low) / 2
    return ufloat(low + half, half / COVERAGE) if half > 0 else low


STANDBY_K: Final = 6.0
STANDBY: Final = judgement(
    "without load what is in a case warms it by 6 K at most; a contact warms at least as the "
    "current does"
)


class Heated:
    """One series with what it says, held against every limit of its place."""

    def __init__(
        self,
        s: Situation,
        place: Place,
        series: HeatSeries,
        found: HeatForecast,
        limits: tuple[Limit, ...],
    ) -> None:
        self.s, self.place, self.series, self.limits = s, place, series, limits
        self.last = series.samples[-1]
        self.full_a = judged_at_a(s, series)
        self.is_too_little = is_too_little(nominal(self.last.current_a), self.full_a)
        self.found = replace(found, at_full=None) if self.is_too_little else found

    def judged(self, seen_now: str, sign: str | None) -> Judgement:
        """Return the one judgement, with the curve to draw.

        Parameters
        ----------
        seen_now : str
            The stop sign, or the damage, that is seen there; empty without.
        sign : str or None
            The answer on stop signs, where there is one.
        """
        cold = cold_words(self.place.part, self.series)
        says = cold or said(self.place.part, self.series, self.found, self.full_a)
        if self.found.stop is not Stop.NONE:
            if seen_now:
                says = ended(self.place.part, seen_now)
            made = stopped(self.place, self.found.stop, says, self.limits)
        else:
            made = together(
                [
                    *(self._cold(cold) if cold else self._parts(says, sign)),
                    *beyond_full(self.s, self.series, self.limits),
                ]
            )
        figure = heating_curve(self.series, self.found, self.full_a, self._lines(), says)
        if made.severity is Severity.DANGER:
            figure = figure.model_copy(update={"says": made.explanation, "is_settled": True})
        temp_c = amount(nominal(self.last.temp_c), self.series.unit, places=0)
        return made.model_copy(update={"heating": figure, "telling": str(temp_c)})

    def _lines(self) -> list[tuple[str, float, bool]]:
        air_c = nominal(self.last.ambient_c)
        lines = [(f"limit, {AMBIENT_PROBABLE_K:g} K over air", AMBIENT_PROBABLE_K, False)]
        stop_k = min(STOP_RISE_K, STOP_C - air_c)
        return [*lines, ("stop", stop_k, True)]

    def _parts(self, says: str, sign: str | None) -> list[Judgement]:
        at_full = self.found.at_full
        if self.found.state is not HeatState.FORECAST or at_full is None:
            sources = (LEAST_LOAD,) if self.is_too_little else ()
            missing = not_measured(says, self.limits, sources)
            return [missing, *self._already(), *self._like()]
        parts = [self._rise(says, at_full), *self._hot(at_full), *self._like()]
        if self.found.is_still_rising:
            parts.append(self._still_rising())
        if full_current_a(self.s) is None:
            parts.append(not_measured("The charger's full current is missing", self.limits))
        if sign is None:
            parts.append(not_measured(f"{says}. Stop signs: not said yet", self.limits))
            return parts
        return parts + self._doubts(says if parts[0].verdict is Verdict.WITHIN else "")

    def _cold(self, words: str) -> list[Judgement]:
        return [too_cold(words, self.limits), *self._already()]

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
            severity = Severity.WARNING
            if self._is_receptacle():
                more = f"; {PRODUCT_K:g} K is the limit of {PRODUCT}"
        if value_k > AMBIENT_MAJOR_K:
            severity, more = Severity.DANGER, "; a major deficiency by the trade's levels"
        return compare(
            rise_k,
            "K",
            self.limits[:1],
            explanation=says + (more if nominal(rise_k) > AMBIENT_PROBABLE_K else ""),
            why=HEAT,
            remedy=STOP if severity is Severity.DANGER else LOWER,
            settles=LONGER if is_full(nominal(self.last.current_a), self.full_a) else MORE,
            severity=severity,
            of="rise at full current",
            sources=(EXPONENTS, *((STANDBY,) if self.is_too_little else ())),
            is_tracked=is_end,
            at_a=self.full_a,
        )

    def _is_receptacle(self) -> bool:
        is_plugged_in = self.s.point.attachment is Attachment.RECEPTACLE
        return is_plugged_in and self.place.has_terminals

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
        read_k = min(floor_k, max(nominal(x.temp_c - x.ambient_c) for x in self.series.samples))
        return [self._compared(says, floor_k, read_k, floor_k)]

    def _floor_k(self) -> float:
        """Return the least that it ends at, by the warmest reading that stands.

        Scaled up from too little current only, as that is and after what stands there without any:
        a part that is warm already is not loaded more to see.
        """
        floors = [0.0]
        for i, at in enumerate(self.series.samples):
            if i not in self.found.left_out:
                rise_k, current_a = at.temp_c - at.ambient_c, nominal(at.current_a)
                sure_k = nominal(rise_k) - expanded(rise_k)
                scaled = rise_interval_k(sure_k, max(current_a, self.full_a), self.full_a)
                floors.append(nominal(scaled.low_k))
                if self.is_too_little and current_a > 0 and sure_k > STANDBY_K:
                    floors.append((sure_k - STANDBY_K) * self.full_a / current_a)
        return max(floors)

    def _hot(self, at_full: RiseForecast) -> list[Judgement]:
        """Return the end at full current against what terminals bear and a hand may grasp."""
        high_k = at_full.high_k
        assert high_k is not None
        air_c = nominal(self.last.ambient_c)
        end_c = _within(air_c + at_full.low_k, air_c + high_k)
        touch = at_most(TOUCH_C, "°C", Force.LISTING, TOUCH, of="grasped surface")
        limits = list(termination_limits(self.s, self.place))
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
        is_like_hotter = nominal(difference_k) < 0
        difference_k = -difference_k if is_like_hotter else difference_k
        is_settled = self.found.state is HeatState.FORECAST and self.found.at_full is not None
        if is_settled or decide(difference_k, (like_limit(),)) is Verdict.OUTSIDE:
            return [self._over_like(difference_k, is_like_hotter)]
        return []

    def _over_like(self, difference_k: Number, is_like_hotter: bool) -> Judgement:
        is_major = nominal(difference_k) > LIKE_MAJOR_K
        low_k = nominal(difference_k) - expanded(difference_k)
        high_k = nominal(difference_k) + expanded(difference_k)
        between = f"{low_k:.0f} K to {high_k:.0f} K"
        if low_k < 1:  # the table of levels begins there
            between = f"at most {high_k:.0f} K"
        return compare(
            difference_k,
            "K",
            (like_limit(),),
            explanation=f"The like part is {between} hotter than the {self.place.part} under the "
            "same load"
            if is_like_hotter
            else f"The {self.place.part} is {between} hotter than a like part under the same load",
            why="Like parts under the same load differ only when one contact is worse",
            remedy=STOP if is_major else "Have both contacts checked with the circuit dead",
            settles="Measure longer, both parts with the same probe",
            severity=Severity.WARNING if is_major else Severity.CAUTION,
            of="over a like part",
            sources=(GROWTH,),
        )

    # -- what a cool surface does not show ---------------------------------------------------------
    def _doubts(self, says: str) -> list[Judgement]:
        doubts = []
        if self.s.choice(f"{self.place.check}.method") in (None, "infrared_metal"):
            doubts.append(("Infrared on bare metal reads low", "Repeat on matte tape", SURFACE))
        if not self.place.is_backed(self.s):
            doubts.append((f"At the {self.place.part}: {ALONE}", self.place.settles, SURFACE))
        return [
            unsettled(
                f"{says}. {words}" if says and i == 0 else words,  # where it ends is said as well
                settles,
                severity=Severity.NOTICE,
                sources=(source,),
            )
            for i, (words, settles, source) in enumerate(doubts)
        ]
