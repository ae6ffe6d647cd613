"""The breaker against the charger's continuous load, its poles, and what it looks like."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    Words,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.circuit import is_standard, next_standard_a, required_circuit_a
from checks.errors import OutOfTableError
from checks.source import trade
from checks.stations import line_share
from checks.stations.circuit_facts import breaker_a, charger_load_a, circuit_poles, nominal_v
from checks.stations.observing import DAMAGED, SEEN, Sign, sees
from checks.verdict import Judgement, Limit, Severity, at_least

POLES: Final = trade("a breaker opens every ungrounded conductor of its circuit")


def _limits(s: Situation, load_a: float) -> tuple[Limit, ...]:
    least = required_circuit_a(s.code, load_a)
    return (
        at_least(
            least.value,
            "A",
            least.force,
            least.source,
            of="breaker for the charger's load",
            working=(*least.working, *_next_up(s, least.value)),
        ),
    )


def _next_up(s: Situation, amps: float) -> tuple[str, ...]:
    try:
        return next_standard_a(s.code, amps).working
    except OutOfTableError as error:
        return (error.problem,)


def _judge(s: Situation) -> Judgement:
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    limits = () if load_a is None else _limits(s, load_a)
    if rated_a is None:
        return not_measured("Read the number on the breaker's handle", limits)
    parts = [_judge_poles(s), _judge_standard(s, rated_a)]
    if load_a is None:
        parts.append(not_measured("The charger's current is not recorded yet: read its label"))
    else:
        parts.append(
            compare(
                rated_a,
                "A",
                limits,
                explanation=f"The breaker is {rated_a:g} A; the charger's continuous load of "
                f"{load_a:g} A asks for {limits[0].value:g} A or more",
                why="A breaker that carries more than its continuous share runs hot and trips, "
                "and its terminals age",
                remedy="Set the charger's current down to what the circuit may carry, or install "
                "a circuit that fits the charger",
                severity=Severity.WARNING,
            )
        )
    return together(parts, telling=f"{rated_a:g} A")


def _judge_poles(s: Situation) -> Judgement:
    poles, needed = s.choice("breaker.rating.poles"), circuit_poles(s)
    if poles is None:
        return not_measured(f"Still open: how many poles; this circuit needs {needed}")
    words = f"A {poles}-pole breaker feeds a {nominal_v(s):g} V outlet, which takes {needed}-pole"
    if int(poles) > needed:
        return unsettled(
            words,
            "See whether it feeds two circuits that share a neutral, as such a breaker must",
            why="Opening a shared neutral puts up to 240 V on what hangs on the other circuit",
            remedy="Follow the other pole's conductor before anything is changed",
            sources=(POLES,),
        )
    return seen(
        int(poles) == needed,
        explanation=words,
        source=POLES,
        why="A conductor that stays live with the breaker off is taken for dead",
        remedy=f"Install a listed {needed}-pole breaker; handle-tied singles are for the "
        "authority having jurisdiction to judge",
        severity=Severity.DANGER,
    )


def _judge_standard(s: Situation, rated_a: float) -> Judgement:
    is_good = is_standard(s.code, rated_a)
    return seen(
        is_good,
        explanation=f"{rated_a:g} A is {'a' if is_good else 'not a'} standard rating",
        source=s.code.overcurrent.standard_a.source,
        why="A number that no breaker carries was misread, or the device is not what it seems",
        remedy="Read the handle again and photograph it",
        severity=Severity.CAUTION,
    )


CONDITION: Final = "breaker.condition"
SIGNS: Final = (
    Sign(
        YesNo("has_heat_marks", "Heat marks or burnt smell", good=False, says=SEEN),
        "integrity",
        "The breaker or its place shows heat marks",
        "Heat marks are what a joint that burns leaves before it fails",
        "Keep it off, locked and tagged; replace breaker and damaged bus parts before any use",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_damaged", "Cracked, loose or broken", good=False, says=DAMAGED),
        "integrity",
        "The breaker is cracked, loose in its place or broken",
        "A damaged breaker may not open a fault",
        "Keep it off, locked and tagged, and replace it",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_tripped_unknown",
            "Tripped, cause not known",
            good=False,
            says=("Cause not known", "Not so"),
        ),
        trade("a breaker that tripped stays off until the cause is found"),
        "The breaker has tripped and the cause is not known",
        "Closing onto a fault feeds it again",
        "Leave it off until insulation, ground fault and load have been checked",
        Severity.WARNING,
    ),
)

CHECKS: Final = (
    Check(
        id="breaker.rating",
        title="Breaker rating",
        quantity="Rating",
        how="Read the rating on the handle, count the poles, and read the numbers of the spaces "
        "that it takes. Touch nothing inside.",
        inputs=(
            Rating("rated_a", "Breaker rating", plausible=(10.0, 200.0), against=EVERY),
            Choice("poles", "Poles", options=(Option("1", "1 pole"), Option("2", "2 poles"))),
            line_share.INPUT,
            Words(
                "spaces",
                "Its spaces in the panel",
                optional=True,
                help="As numbered on the panel, such as 14-16: the directory line is made of it",
            ),
        ),
        judge=_judge,
        tells=True,
    ),
    Check(
        id=CONDITION,
        title="Breaker condition",
        how="Look at the breaker and smell, from outside the covers that are on. Compare the "
        "color of its face with its neighbors'.",
        inputs=tuple(sign.input for sign in SIGNS),
        judge=sees(CONDITION, SIGNS, "No heat marks, no damage, no trip left unexplained"),
        gates=True,
        no_limit_because="damage is seen; no number tells it from soundness",
    ),
)
