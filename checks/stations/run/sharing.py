"""Whether the circuit is the charger's own, and what else hangs on it where it is not."""

from typing import Final

from checks.check import (
    Check,
    Rating,
    Situation,
    When,
    Words,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.codes.answer import Outcome
from checks.codes.circuit import individual_circuit_required, required_circuit_a
from checks.stations.circuit_facts import breaker_a, charger_load_a, nominal_v
from checks.verdict import Force, Judgement, Limit, Severity, at_most

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
    if load_a is None:
        return together(
            (_judge_rule(s, 0.0), not_measured("The charger's current is not recorded"))
        )
    return together((_judge_rule(s, load_a), _judge_sum(s, load_a)))


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


def _judge_sum(s: Situation, load_a: float) -> Judgement:
    limits, other_a = _limits(s), s.rating("run.dedicated.other_a")
    if other_a is None or not limits:
        return not_measured("Still open: the breaker's rating and the sum of the other loads")
    needed = required_circuit_a(s.code, load_a)
    drawn_a, rated_a = load_a + other_a, limits[0].value
    trips = f"more than the {rated_a:g} A breaker holds: it will trip"
    fits = f"against a breaker of {rated_a:g} A"
    total_a = needed.value + other_a
    return compare(
        total_a,
        "A",
        limits,
        explanation=f"Charger {load_a:g} A and {other_a:g} A of other loads draw {drawn_a:g} A, "
        f"{trips if drawn_a > rated_a else fits}; with the charger as a continuous load they "
        f"count {total_a:g} A",
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
        how="End any charge. With nobody relying on the circuit, switch its breaker off and see "
        "what else goes dead: outlets, lights, door openers. Add up what runs at the same time.",
        inputs=(
            YesNo("is_alone", "Nothing else on this circuit", good=True),
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
