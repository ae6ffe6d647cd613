"""Whether the circuit is the charger's own, and what else hangs on it where it is not."""

from math import inf
from typing import Final

from checks.check import (
    Check,
    Rating,
    Situation,
    When,
    Words,
    YesNo,
    compare,
    known_part,
    not_measured,
    seen,
    together,
)
from checks.codes.answer import Outcome
from checks.codes.circuit import individual_circuit_required, required_circuit_a
from checks.electrical.breaker import MODEL, Spread, frame, trip_spread_s
from checks.electrical.shared_circuit import HOUSEHOLD_SOURCE, tripping_loads
from checks.errors import ChecksError
from checks.stations.circuit_facts import breaker_a, charger_load_a, nominal_v
from checks.verdict import Force, Judgement, Limit, Severity, at_most

MINUTE_S: Final = 60.0
HOUR_S: Final = 3600.0
SOONEST: Final = 3  # loads that are named; the others stand in the working

REMEDY: Final = (
    "Keep the other loads off while charging, set a lower charging current where the charger has "
    "one, or install a circuit of its own"
)


def _limits(s: Situation) -> tuple[Limit, ...]:
    rated_a = breaker_a(s)
    if rated_a is None:
        return ()
    source = s.code.overcurrent.continuous_ratio.source
    return (at_most(rated_a, "A", Force.CODE_RULE, source, of="the breaker"),)


def _judge(s: Situation) -> Judgement:
    alone = s.yes("run.dedicated.is_alone")
    if alone is None:
        return not_measured(
            "Turn the breaker off and find out what else goes dead with it", _limits(s)
        )
    if alone:
        return seen(
            True,
            explanation="The circuit supplies this outlet and nothing else",
            source=s.code.charging.individual_above_a.source,
        )
    load_a = charger_load_a(s)
    judged = together((_judge_rule(s, load_a or 0.0), _judge_sum(s, load_a)))
    return judged if load_a is None else _with_household(s, judged, load_a)


def _with_household(s: Situation, judged: Judgement, load_a: float) -> Judgement:
    """Add which household loads trip the breaker beside a Level 1 charger, and how soon."""
    rated_a = breaker_a(s)
    if rated_a is None or s.point.level != 1:
        return judged
    try:
        tripping = tripping_loads(rated_a, load_a)
    except ChecksError:  # beyond what the model knows
        return judged
    lines = tuple(f"{name}: {_trip_words(spread)}" for name, spread in tripping.items())
    if not lines:
        return judged
    soonest = "; ".join(list(tripping)[:SOONEST])
    return judged.model_copy(
        update={
            "explanation": f"{judged.explanation}. Beside {load_a:g} A the breaker trips soonest "
            f"on: {soonest}",
            "working": (*judged.working, f"switched on beside {load_a:g} A, warm from it:", *lines),
            "sources": tuple(
                dict.fromkeys((*judged.sources, HOUSEHOLD_SOURCE, MODEL, frame(rated_a).source))
            ),
        }
    )


def _trip_words(spread: Spread) -> str:
    """Say when a breaker trips, with the spread from an early to a late one."""
    if spread.fast_s == inf:
        return "no breaker of this rating is expected to trip"
    if spread.nominal_s == inf:
        return f"an early breaker trips after {_time(spread.fast_s)}, a usual one holds"
    time, fast = _time(spread.nominal_s), _time(spread.fast_s)
    if spread.slow_s == inf:
        return f"trips after about {time}, an early one after {fast}, a late one holds"
    slow = _time(spread.slow_s)
    return f"trips after about {time}, an early one after {fast}, a late one after {slow}"


def _time(seconds: float) -> str:
    if seconds < MINUTE_S:
        return f"{seconds:.0f} s"
    if seconds < HOUR_S:
        return f"{seconds / MINUTE_S:.0f} min"
    return f"{seconds / HOUR_S:.1f} h"


def _sum_words(rated_a: float, load_a: float, other_a: float) -> str:
    """Say what the breaker does with the sum that is really drawn."""
    try:
        spread = trip_spread_s(rated_a, (load_a, other_a), before_a=load_a)
    except ChecksError:
        return "more than it is rated" if load_a + other_a > rated_a else "no more than it is rated"
    return _trip_words(spread)


def _judge_rule(s: Situation, load_a: float) -> Judgement:
    ruling = individual_circuit_required(s.code, load_a, nominal_v(s))
    what = s.words("run.dedicated.what")
    others = f" (also on it: {what})" if what else ""
    return seen(
        ruling.outcome is Outcome.NO,
        explanation=f"The circuit is shared{others}. {ruling.why}",
        source=ruling.source,
        why="Other loads add to a current that already lasts for hours",
        remedy="Install a branch circuit that supplies this outlet only",
        severity=Severity.WARNING,
    )


def _judge_sum(s: Situation, load_a: float | None) -> Judgement:
    limits, other_a = _limits(s), s.rating("run.dedicated.other_a")
    if not limits:
        return not_measured("Still open: the breaker's rating and the sum of the other loads")
    if other_a is None:
        missing = "Still open: the sum of the other loads"
        return known_part(_judge_drawn(s, limits, load_a or 0.0, 0.0), missing)
    missing = "The charger's current is not recorded" if load_a is None else ""
    return known_part(_judge_drawn(s, limits, load_a or 0.0, other_a), missing)


def _judge_drawn(
    s: Situation, limits: tuple[Limit, ...], load_a: float, other_a: float
) -> Judgement:
    """Judge the charger and the other loads together; 0 A of one that is not recorded."""
    needed = required_circuit_a(s.code, load_a)
    drawn_a, rated_a = load_a + other_a, limits[0].value
    total_a = needed.value + other_a
    words = f"{drawn_a:g} A on {rated_a:g} A"
    if load_a and other_a:
        words = (
            f"Charger {load_a:g} A and {other_a:g} A of other loads draw {drawn_a:g} A on "
            f"{rated_a:g} A: {_sum_words(rated_a, load_a, other_a)}; with the charger as a "
            f"continuous load they count {total_a:g} A"
        )
    return compare(
        total_a,
        "A",
        limits,
        explanation=words,
        why="An overloaded circuit trips at night, or heats every joint along it",
        remedy=REMEDY,
        severity=Severity.WARNING if drawn_a > rated_a else Severity.CAUTION,
        working=(*needed.working, f"{needed.value:g} A + {other_a:g} A = {total_a:g} A"),
    )


SHARED: Final = When("is_alone", ("no",))
CHECKS: Final = (
    Check(
        id="run.dedicated",
        title="Circuit of its own",
        quantity="Other loads",
        how="In service: end any charge and, with nobody relying on it, switch its breaker off or "
        "have it switched; see what else goes dead: outlets, lights, door openers. New, off or "
        "tripped: follow it by plan and eye from panel to end, and energise nothing for this. Add "
        "up what runs at the same time.",
        inputs=(
            YesNo("is_alone", "Charger's own circuit", good=True),
            Words("what", "What else", when=SHARED, optional=True),
            Rating(
                "other_a",
                "Sum of the other loads",
                units=("A",),
                plausible=(0.1, 60.0),
                when=SHARED,
                help="What may run at the same time, from nameplates",
            ),
        ),
        judge=_judge,
    ),
)
