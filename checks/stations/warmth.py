"""Surface temperature under load: what it can show, and what it never shows alone."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from uncertainties import ufloat

from checks.check import (
    Judge,
    Situation,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.electrical.heating import EXPONENTS, rise_interval_k
from checks.electrical.thermography import (
    AMBIENT_MAJOR_K,
    LEAST_LOAD,
    LEAST_LOAD_RATIO,
    LEVELS,
    LIKE_MAJOR_K,
    LIKE_POSSIBLE_K,
)
from checks.quantity import SQRT_3, Number, nominal
from checks.source import Basis, Source, judgement
from checks.stations.circuit_facts import full_current_a
from checks.stations.warmth_inputs import TOUCH_C
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_most, decide

COOL_K: Final = 20.0
COOL: Final = judgement(
    "a sound plug, cover or handle stays within 20 K of the air at full current"
)
PRODUCT_K: Final = 30.0
PRODUCT: Final = Source(document="UL 498", clause="temperature rise", basis=Basis.FROM_MEMORY)
TOUCH: Final = Source(
    document="IEC 61851-1", clause="non-metal surface that is grasped", basis=Basis.FROM_MEMORY
)
STEADY_S: Final = 30 * 60.0
STEADY: Final = judgement("a surface is judged after 30 minutes at a steady current")

STOP: Final = (
    "Reduce or stop the current at the vehicle or charger, from a safe point; then switch off at "
    "the breaker and lock it. Do not pull the plug or connector while it is hot"
)
HEAT: Final = "Heat at a contact makes it worse, faster each time, until it burns"
ALONE: Final = "a cool surface does not show that the contact behind it is sound"


@dataclass(frozen=True)
class Place:
    """A place whose surface is measured.

    Parameters
    ----------
    check : str
        The check's id.
    part : str
        What is measured, in words.
    is_grasped : bool
        Whether a hand takes hold of it.
    is_backed : callable
        Whether other entries show the contact sound, so that a cool surface may be believed.
    settles : str
        What those entries are.
    has_like_part : bool
        Whether a like part, as warm as this one should be, is measured beside it.
    """

    check: str
    part: str
    is_grasped: bool
    is_backed: Callable[[Situation], bool]
    settles: str
    has_like_part: bool = False


def warmth_judge(place: Place) -> Judge:
    """Return the judge of a surface temperature at a place."""

    def judge(s: Situation) -> Judgement:
        sign = s.choice(f"{place.check}.sign")
        if sign not in (None, "none"):
            return _stopped(place, str(sign))
        surface_c = s.measured(f"{place.check}.surface")
        ambient_c = s.measured(f"{place.check}.ambient")
        current_a = s.measured(f"{place.check}.current")
        full_a = full_current_a(s)
        if sign is None or surface_c is None or ambient_c is None:
            return not_measured("Stop sign, surface and air temperature are missing", _limits())
        if current_a is None or nominal(current_a) <= 0 or full_a is None:
            return not_measured("Current, and the charger's full current, are missing", _limits())
        rise_k = _at_full_k(surface_c - ambient_c, current_a, full_a)
        parts = [_rise(place, rise_k, full_a), *_touch(place, surface_c)]
        like_c = s.measured(f"{place.check}.like_part") if place.has_like_part else None
        if like_c is not None:
            parts.append(_like(place, surface_c - like_c))
        parts += _doubts(s, place, nominal(current_a), full_a)
        return together(parts, telling=f"{nominal(surface_c):.0f} °C")

    return judge


def _stopped(place: Place, sign: str) -> Judgement:
    return seen(
        False,
        explanation=f"Stop sign at the {place.part}: {sign}",
        source=judgement("smell, discoloration or an accelerating rise ends a test"),
        why=HEAT,
        remedy=STOP,
        severity=Severity.DANGER,
    ).model_copy(update={"limits": _limits()})


def _limits() -> tuple[Limit, ...]:
    return (
        at_most(COOL_K, "K", Force.TRADE_JUDGEMENT, COOL, of="rise at full current"),
        at_most(AMBIENT_MAJOR_K, "K", Force.RECOMMENDATION, LEVELS, of="rise at full current"),
    )


def _at_full_k(rise_k: Number, current_a: Number, full_a: float) -> Number:
    """Return the rise at full current, the range of exponents carried as its uncertainty."""
    low_k, high_k = rise_interval_k(rise_k, current_a, full_a)
    half_k = abs(nominal(high_k) - nominal(low_k)) / 2
    middle_k = (low_k + high_k) / 2
    return middle_k + ufloat(0.0, half_k / SQRT_3) if half_k > 0 else middle_k


def _rise(place: Place, rise_k: Number, full_a: float) -> Judgement:
    size_k = nominal(rise_k)
    severity = Severity.CAUTION
    more = ""
    if size_k > PRODUCT_K:
        severity = Severity.WARNING
        more = f", above the {PRODUCT_K:g} K of {PRODUCT}"
    if size_k > AMBIENT_MAJOR_K:
        severity = Severity.DANGER
        more = ", a major deficiency by the trade's levels"
    return compare(
        rise_k,
        "K",
        _limits(),
        explanation=f"The {place.part} rises {size_k:.0f} K over the air at {full_a:g} A{more}",
        why=HEAT,
        remedy=STOP
        if severity is Severity.DANGER
        else "Set the charger lower, and have the contacts checked with the circuit dead",
        severity=severity,
        of="rise at full current",
        sources=(EXPONENTS,),
        is_tracked=True,
        at_a=full_a,
    )


def _touch(place: Place, surface_c: Number) -> list[Judgement]:
    """Return a finding where a grasped surface is too hot; the recalled limit proves none."""
    limit = at_most(TOUCH_C, "°C", Force.LISTING, TOUCH, of="grasped surface")
    if not place.is_grasped or decide(surface_c, (limit,)) is not Verdict.OUTSIDE:
        return []
    return [
        compare(
            surface_c,
            "°C",
            (limit,),
            explanation=f"The {place.part} is {nominal(surface_c):.0f} °C where a hand grasps it",
            why="It burns the hand, and the contact inside is hotter still",
            remedy=STOP,
            severity=Severity.WARNING,
            of="grasped surface",
        )
    ]


def _like(place: Place, difference_k: Number) -> Judgement:
    limit = at_most(
        LIKE_POSSIBLE_K, "K", Force.RECOMMENDATION, LEVELS, of="over a like part, same load"
    )
    is_major = nominal(difference_k) > LIKE_MAJOR_K
    return compare(
        difference_k,
        "K",
        (limit,),
        explanation=f"The {place.part} is {nominal(difference_k):.0f} K hotter than a like part",
        why="Like parts under the same load differ only when one contact is worse",
        remedy=STOP if is_major else "Have both contacts checked with the circuit dead",
        severity=Severity.WARNING if is_major else Severity.CAUTION,
        of="over a like part",
    )


def _doubts(s: Situation, place: Place, current_a: float, full_a: float) -> list[Judgement]:
    """Return why a cool surface may not be believed; they never hide a hot one."""
    minutes_s = s.rating(f"{place.check}.minutes")
    method = s.choice(f"{place.check}.method")
    if minutes_s is None or method is None:
        return [not_measured("Method and minutes at this current are missing", _limits())]
    doubts = []
    if method == "infrared_metal":
        doubts.append(("Infrared on bare metal reads low", "Repeat on matte tape", COOL))
    if minutes_s < STEADY_S:
        doubts.append(
            (f"After {minutes_s / 60:g} min it still warms", "Read after 30 minutes", STEADY)
        )
    if current_a < LEAST_LOAD_RATIO * full_a:
        doubts.append(
            (
                f"{current_a:.1f} A is under {100 * LEAST_LOAD_RATIO:g} % of {full_a:g} A",
                "Repeat at more current",
                LEAST_LOAD,
            )
        )
    if not place.is_backed(s):
        doubts.append((f"At the {place.part}: {ALONE}", place.settles, COOL))
    return [
        unsettled(words, settles, severity=Severity.NOTICE, sources=(source,))
        for words, settles, source in doubts
    ]
