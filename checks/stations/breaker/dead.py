"""The circuit made dead: locked and tagged, and the absence of voltage proved."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Measurement,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.quantity import Dimension, Number, amount
from checks.record import Category, InstrumentKind, Reading
from checks.source import judgement, trade
from checks.stations.circuit_facts import volts_to_ground_v
from checks.stations.observing import Sign, signs_of
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

LOCKOUT: Final = trade("lock, tag and one key with the person who works, as electrical safety asks")
SOURCES: Final = trade("every source that can feed the circuit is isolated, not the utility alone")

LOCK_SIGNS: Final = (
    Sign(
        YesNo("is_off", "Charge ended, breaker off", good=True),
        LOCKOUT,
        "The breaker is not off",
        "A circuit that can be on is not dead",
        "End the charge at the vehicle, then switch the breaker off",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_locked", "Lock on the breaker", good=True),
        LOCKOUT,
        "No lock holds the breaker off",
        "Anyone may switch it on while hands are in the circuit",
        "Fit a breaker lock; where none fits, leave the circuit closed and get the fitting lock",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_tagged", "Tag with name and date", good=True),
        LOCKOUT,
        "No tag says who works here",
        "A lock without a name gets cut off",
        "Hang a tag with your name, the date and how to reach you",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_key_kept", "The only key is with me", good=True),
        LOCKOUT,
        "The key is not with the person who works",
        "Whoever holds the key can end the protection",
        "Keep the only key on you until the work is closed",
        Severity.DANGER,
    ),
)
OTHER_SOURCES: Final = Sign(
    YesNo(
        "are_sources_isolated",
        "Every other source isolated",
        good=True,
        help="Solar, battery, generator, exporting vehicle: isolated and locked. Yes as well where "
        "you looked and there is none",
    ),
    SOURCES,
    "Another source can still feed this circuit",
    "A battery, an inverter or an exporting vehicle keeps a circuit alive with the main off",
    "Isolate and lock every source that is recorded at the service, and unplug the vehicle",
    Severity.DANGER,
)


def _judge_lock(s: Situation) -> Judgement:
    parts = signs_of(s, "breaker.lock_and_tag", (*LOCK_SIGNS, OTHER_SOURCES))
    return together(
        parts,
        good=f"Breaker off, locked and tagged; the key is with the worker; {_other_sources(s)}",
    )


def _other_sources(s: Situation) -> str:
    present = s.yes("service.other_sources.is_present")
    if present is None:
        return "other sources isolated, though not yet recorded at the service"
    return "the other source is isolated" if present else "no other source feeds the service"


DEAD_BELOW_V: Final = 3.0
DEAD: Final = judgement("a dead circuit reads under 3 V; induced voltage dies on a low-ohm meter")
PROVES_RATIO: Final = 0.8
PROVES: Final = judgement("a known source proves a meter from 80 % of the volts to ground upward")
ANOTHER: Final = "Take a meter that proves itself; treat the circuit as energised until then"


def _proof_limit(s: Situation) -> Limit:
    least_v = PROVES_RATIO * volts_to_ground_v(s)
    return at_least(least_v, "V", Force.TRADE_JUDGEMENT, PROVES, of="known source")


def _dead_limit() -> Limit:
    return at_most(DEAD_BELOW_V, "V", Force.TRADE_JUDGEMENT, DEAD, of="any two conductors")


def _judge_absence(s: Situation) -> Judgement:
    proof, dead = _proof_limit(s), _dead_limit()
    before = s.measured("breaker.absence_of_voltage.known_before")
    highest = s.measured("breaker.absence_of_voltage.highest")
    after = s.measured("breaker.absence_of_voltage.known_after")
    every = s.yes("breaker.absence_of_voltage.is_every_pair")
    if before is None or highest is None or after is None or every is None:
        return not_measured(
            "Prove the meter on a known source, test every pair, prove the meter again",
            (proof, dead),
        )
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
    # what was measured comes first, and the meter's proof after it
    parts = (_judge_highest(highest, dead), *proofs, _judge_pairs(every), _judge_meter(s))
    return together(parts, telling="dead")


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
        source=LOCKOUT,
        why="One leg can stay live through a stuck pole or a second source",
        remedy="Test each line to each other, to neutral and to ground",
        severity=Severity.DANGER,
    )


def _judge_meter(s: Situation) -> Judgement:
    entry = s.entry("breaker.absence_of_voltage")
    readings = [a for a in entry.answers if isinstance(a, Reading)] if entry else []
    meters = [s.instrument(r) for r in readings]
    named = [m for m in meters if m is not None]
    if len(named) < len(readings):
        return not_measured("Name the meter that every reading was taken with")
    is_one = len({m.id for m in named}) == 1
    is_fit = all(m.category.covers(Category.CAT_III) for m in named)
    words = "One meter, of a fit category, took all three readings"
    if not is_one:
        words = "The meter that was proved is not the one that tested"
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


def _volts(name: str, label: str, where: str, highest_v: float, help_text: str) -> Measurement:
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
    )


CHECKS: Final = (
    Check(
        id="breaker.lock_and_tag",
        title="Lock and tag",
        how="End the charge at the vehicle and unplug it. Switch the breaker off, fit the lock, "
        "hang the tag, keep the key. Look for other sources, and isolate and lock each.",
        inputs=(*(sign.input for sign in LOCK_SIGNS), OTHER_SOURCES.input),
        judge=_judge_lock,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        proves=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Off is not dead. No cover comes off before it is locked and tagged, and no "
                "conductor is touched before it is proved.",
            ),
        ),
    ),
    Check(
        id="breaker.absence_of_voltage",
        title="Absence of voltage",
        how="Prove the meter on a known source. At the outlet, and again wherever you will touch "
        "this circuit, test each line to each other line, to neutral and to ground. Prove the "
        "meter again. Enter the highest reading of all pairs.",
        inputs=(
            _volts(
                "known_before",
                "Known source, before",
                "proving unit or a known live receptacle",
                1000.0,
                "Same kind of voltage as the circuit's",
            ),
            YesNo("is_every_pair", "Every pair tested", good=True),
            _volts(
                "highest",
                "Highest of all pairs",
                "contacts or terminals of the outlet, and wherever you will touch this circuit",
                30.0,
                "Tens of volts on a plain meter are often induced: use its low-impedance range",
            ),
            _volts(
                "known_after",
                "Known source, after",
                "the same known source",
                1000.0,
                "The meter may have failed during the test",
            ),
        ),
        judge=_judge_absence,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        proves=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Treat every conductor as live until this test stands, and wear what the hazard "
                "asks for. Behind the panel's cover bus and line side stay live.",
            ),
        ),
    ),
)
