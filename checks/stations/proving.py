"""Absence of voltage: the meter proved, every pair tested, the meter proved again."""

from collections.abc import Sequence
from typing import Final

from checks.check import (
    AnyInput,
    Measurement,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.quantity import amount
from checks.record import Category, InstrumentKind, Reading
from checks.source import judgement, trade
from checks.stations.circuit_facts import least_to_ground_v
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

VERIFIED: Final = trade("prove the meter, test every pair, prove it again, before a hand goes in")
DEAD_BELOW_V: Final = 3.0
DEAD: Final = judgement("a dead circuit reads under 3 V; induced voltage dies on a low-ohm meter")
KNOWN_SOURCE: Final = "known source"
ANY_TWO: Final = "any two conductors"
PROVES_RATIO: Final = 0.8
PROVES: Final = judgement(
    "a known source proves a meter from 80 % of the least volts to ground upward"
)
ANOTHER: Final = "Take a meter that proves itself; treat the circuit as energised until then"


def proof_limit(s: Situation) -> Limit:
    """Return the least volts of a source that proves a meter here."""
    least_v = PROVES_RATIO * least_to_ground_v(s)
    return at_least(least_v, "V", Force.TRADE_JUDGEMENT, PROVES, of=KNOWN_SOURCE)


def dead_limit() -> Limit:
    """Return the most volts that may be left between any two conductors."""
    return at_most(DEAD_BELOW_V, "V", Force.TRADE_JUDGEMENT, DEAD, of=ANY_TWO)


def proving_parts(s: Situation, check: str) -> tuple[Judgement, ...]:
    """Return what each step of proving says; what was measured first, the meter's proof after it.

    Parameters
    ----------
    s : Situation
        What was recorded.
    check : str
        The check, whose inputs are those of `proving_inputs`.
    """
    proof, dead = proof_limit(s), dead_limit()
    before, highest = s.measured(f"{check}.known_before"), s.measured(f"{check}.highest")
    after, every = s.measured(f"{check}.known_after"), s.yes(f"{check}.is_every_pair")
    if before is None or highest is None or after is None or every is None:
        words = "Prove the meter on a known source, test every pair, prove the meter again"
        return (not_measured(words, (proof, dead)),)
    proofs = [
        compare(
            value,
            "V",
            (proof,),
            explanation=f"The known source reads {amount(value, 'V')} {when} the test",
            why="A meter that does not show a live source does not show a live conductor either",
            remedy=ANOTHER,
            severity=Severity.DANGER,
        )
        for value, when in ((before, "before"), (after, "after"))
    ]
    return (_judge_highest(highest, dead), *proofs, _judge_pairs(every), _judge_meter(s, check))


def proved_dead(parts: Sequence[Judgement]) -> Judgement:
    """Return the one judgement; only where every part is good does it tell that it is dead.

    Its number is then what is left between the conductors: the volts of the known source, large on
    the page of a dead circuit, would be taken for its own.
    """
    judged, left = together(parts), parts[0]
    if judged.verdict is not Verdict.WITHIN:
        return judged
    first = {"measured": left.measured, "margin": left.margin, "telling": "dead"}
    limits = tuple(dict.fromkeys((*left.limits, *judged.limits)))
    return judged.model_copy(update={**first, "limits": limits})


def _judge_highest(highest: Number, dead: Limit) -> Judgement:
    return compare(
        highest,
        "V",
        (dead,),
        explanation=f"The highest reading between any two conductors is {amount(highest, 'V')}",
        why="The circuit may be live, fed from another source, or the breaker mislabelled",
        remedy="Touch nothing and back away; from a safe point find the source, isolate and lock "
        "it, then test again",
        severity=Severity.DANGER,
        settles="Test again with a low-impedance meter, which shows no induced voltage",
        telling="live",
    )


def _judge_pairs(every: bool) -> Judgement:
    return seen(
        every,
        explanation="Every pair tested" if every else "Not every pair of conductors was tested",
        source=VERIFIED,
        why="One leg can stay live through a stuck pole or a second source",
        remedy="Test each line to each other, to neutral and to ground",
        severity=Severity.DANGER,
    )


def _judge_meter(s: Situation, check: str) -> Judgement:
    entry = s.entry(check)
    readings = [a for a in entry.answers if isinstance(a, Reading)] if entry else []
    meters = [s.instrument(r) for r in readings]
    named = [m for m in meters if m is not None]
    if len(named) < len(readings):
        return not_measured("Name the meter that every reading was taken with")
    is_one = len({m.id for m in named}) == 1
    is_kind = all(m.kind is InstrumentKind.MULTIMETER for m in named)
    is_fit = is_kind and all(m.category.covers(Category.CAT_III) for m in named)
    words = "One meter, of a fit category, took all three readings"
    if not is_one:
        words = "The meter that was proved is not the one that tested"
    elif not is_kind:
        words = f"The {named[0].kind} took it; here it takes a multimeter"
    elif not is_fit:
        words = f"The meter is {named[0].category}; here it takes {Category.CAT_III} or better"
    return seen(
        is_one and is_fit,
        explanation=words,
        source=trade("the meter that is proved is the one that tests; IEC 61010 categories"),
        why="A meter that is not fit for the place can burst in the hand",
        remedy="Repeat all three steps with one meter of the right category",
        severity=Severity.DANGER,
    )


def proving_inputs(where: str) -> tuple[AnyInput, ...]:
    """Return the inputs of the three steps.

    Parameters
    ----------
    where : str
        Where the probes go for the test itself.
    """
    return (
        _volts(
            "known_before",
            "Known source, before",
            "proving unit or a known live receptacle",
            1000.0,
            "Same kind of voltage as the circuit's",
            KNOWN_SOURCE,
        ),
        YesNo("is_every_pair", "Every pair tested", good=True),
        _volts(
            "highest",
            "Highest of all pairs",
            where,
            30.0,
            "Tens of volts on a plain meter are often induced: use its low-impedance range",
            ANY_TWO,
        ),
        _volts(
            "known_after",
            "Known source, after",
            "the same known source",
            1000.0,
            "The meter may have failed during the test",
            KNOWN_SOURCE,
        ),
    )


def _volts(
    name: str, label: str, where: str, highest_v: float, help_text: str, against: str
) -> Measurement:
    return Measurement(
        name,
        label,
        help=help_text,
        dimension=Dimension.VOLTAGE,
        units=("V",),
        plausible=(0.0, highest_v),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_III,
        access_point=where,
        against=(against,),
    )
