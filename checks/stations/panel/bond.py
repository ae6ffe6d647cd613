"""The neutral is bonded to ground once: at the service, or behind a transformer, no more."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.quantity import amount
from checks.record import Category, InstrumentKind
from checks.source import judgement, trade
from checks.stations.observing import BESIDE_BUS, INSIDE, LOW_OHMS, rule_source
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

BONDED_OHM: Final = 0.1
BONDED: Final = judgement("a sound bond from neutral bar to ground bar is under 0.1 Ω")
APART_OHM: Final = 1000.0
APART: Final = judgement("bars that are not bonded read over 1 kΩ with the feeder neutral lifted")


ONCE: Final = trade(
    "a system behind a transformer is bonded once, anywhere from the transformer to its first "
    "disconnect, as NEC 250.30(A)(1) has it"
)
LANDED: Final = trade("a neutral that was lifted is landed and tightened before energising")
FEEDER, TRANSFORMER, UNKNOWN = "feeder", "transformer", "unknown"
BEHIND: Final = When("fed", (TRANSFORMER,))
OPEN_FAULT: Final = "Without its bond a fault finds no way back and the breaker does not open"
HIGH_OHMS: Final = "Measure with a meter that reads kilohms more closely"
TWICE: Final = "A second bond sends neutral current through grounding conductors and metal parts"


def _is_fed(s: Situation) -> bool:
    """Return whether the panel comes after other equipment, so that what feeds it decides."""
    return not s.panel.is_service_equipment


def _has_bond_here(s: Situation) -> bool:
    """Return whether the one bond is to be here: at the service, or where a transformer's is."""
    if s.panel.is_service_equipment:
        return True
    behind = s.choice("panel.neutral_bond.fed") == TRANSFORMER
    return behind and s.choice("panel.neutral_bond.bond") == "present"


def _judge(s: Situation) -> Judgement:
    bond, fed = s.choice("panel.neutral_bond.bond"), s.choice("panel.neutral_bond.fed")
    limit = _limit(s)
    if bond is None:
        return not_measured(
            "Look for the bonding screw or strap: the neutral "
            f"{'must be bonded here' if _has_bond_here(s) else 'is bonded once, here or upstream'}",
            (limit,),
        )
    if bond == "closed":
        return unsettled(
            "The bond of the neutral was not seen: the panel stays on and closed",
            "See it once the panel may be switched off; live, the loop from line to ground tells "
            "whether a fault finds its way back",
            why=OPEN_FAULT,
            remedy="Agree with the owner when the panel can be off",
            limits=(limit,),
            sources=(rule_source(s, "neutral bond"),),
        )
    is_present = bond == "present"
    if s.panel.is_service_equipment:
        return together((_at_service(s, is_present=is_present), _judge_reading(s, limit)))
    parts = [_fed_unknown(limit)]
    if fed in (FEEDER, TRANSFORMER):
        here = _behind_transformer if fed == TRANSFORMER else _after_service
        parts = [here(s, is_present=is_present), _judge_reading(s, limit)]
    if s.yes("panel.neutral_bond.is_lifted") is not True:
        return together(parts)
    is_landed = s.yes("panel.neutral_bond.is_landed")
    if is_landed is not None:
        return together((*parts, _judge_landed(is_landed=is_landed)))
    found = together(parts)
    if found.verdict is Verdict.OUTSIDE:
        return found
    # nothing is energised before it is said
    return not_measured("Still open: feeder neutral landed again", (limit,), (LANDED,))


def _limit(s: Situation) -> Limit:
    if _has_bond_here(s):
        return at_most(BONDED_OHM, "Ω", Force.TRADE_JUDGEMENT, BONDED, of="neutral to ground bar")
    return at_least(APART_OHM, "kΩ", Force.TRADE_JUDGEMENT, APART, of="neutral to ground bar")


def _at_service(s: Situation, *, is_present: bool) -> Judgement:
    return seen(
        is_present,
        explanation=f"The bond is {'present' if is_present else 'absent'} at service equipment",
        source=rule_source(s, "neutral bond"),
        why=OPEN_FAULT,
        remedy="Dead and locked: fit the main bonding jumper that belongs to the panel",
        severity=Severity.DANGER,
    )


def _after_service(s: Situation, *, is_present: bool) -> Judgement:
    return seen(
        not is_present,
        explanation=f"The bond is {'present' if is_present else 'absent'} at a panel after the "
        "service",
        source=rule_source(s, "neutral bond"),
        why=TWICE,
        remedy="Dead and locked: see at the service that its bond is there, then remove the "
        "bonding screw or strap here and separate the bars",
        severity=Severity.WARNING,
    )


def _behind_transformer(s: Situation, *, is_present: bool) -> Judgement:
    """Judge the first disconnect behind a transformer: one bond, here or at the transformer."""
    other = s.choice("panel.neutral_bond.at_transformer")
    if other is None:
        return not_measured("Still open: the bond at the transformer")
    if other == "unseen":
        return unsettled(
            f"The bond is {'present' if is_present else 'absent'} here; the "
            "transformer that feeds it could not be looked into",
            "See the transformer's own enclosure once it may be opened dead: one bond in all",
            why=TWICE if is_present else OPEN_FAULT,
            remedy="Change nothing here before the transformer was looked at",
            severity=Severity.WARNING,
            sources=(ONCE,),
        )
    is_there = other == "present"
    if is_present != is_there:
        return seen(
            True,
            explanation="The one bond of what the transformer feeds is "
            f"{'here' if is_present else 'at the transformer'}",
            source=ONCE,
        )
    return seen(
        False,
        explanation="What the transformer feeds is bonded twice, here and at the transformer"
        if is_present
        else "What the transformer feeds is bonded neither here nor at the transformer",
        source=ONCE,
        why=TWICE if is_present else OPEN_FAULT,
        remedy="Dead and locked: leave the one bond where the grounding electrode conductor is "
        "connected, and remove the other"
        if is_present
        else "Keep everything it feeds off and locked; have a bonding jumper sized and fitted at "
        "one point from the transformer to its first disconnect",
        severity=Severity.WARNING if is_present else Severity.DANGER,
    )


def _fed_unknown(limit: Limit) -> Judgement:
    return unsettled(
        "What feeds this panel is not known: after the service no bond belongs here, behind a "
        "transformer it may be the only one",
        "Follow the feeder to where it begins",
        why=OPEN_FAULT,
        remedy="Remove and fit no bond before it is known what feeds the panel",
        severity=Severity.WARNING,
        limits=(limit,),
        sources=(ONCE,),
    )


def _judge_reading(s: Situation, limit: Limit) -> Judgement:
    reading, is_here = s.choice("panel.neutral_bond.reading"), _has_bond_here(s)
    if not is_here and s.yes("panel.neutral_bond.is_lifted") is not True:
        if reading is None:
            return not_measured("Still open: neutral bar to ground bar", (limit,))
        return unsettled(
            "The feeder neutral was not lifted: the meter sees the bond upstream through it",
            "Dead and locked: lift the feeder neutral and measure again",
            limits=(limit,),
        )
    if reading == "open":
        return _judge_open(is_here=is_here)
    ohm = s.measured("panel.neutral_bond.ohm")
    if ohm is None:
        return not_measured("Still open: neutral bar to ground bar", (limit,))
    symbol = "Ω" if is_here else "kΩ"
    return compare(
        ohm,
        symbol,
        (limit,),
        explanation=f"From neutral bar to ground bar: {amount(ohm, symbol)}",
        why="A poor bond does not clear a fault"
        if is_here
        else "Somewhere after this panel neutral and ground touch",
        remedy="Dead and locked: clean and tighten the bond"
        if is_here
        else "Dead and locked: take branch neutrals off one by one until the reading opens",
        severity=Severity.WARNING,
        settles=LOW_OHMS if is_here else HIGH_OHMS,
    )


def _judge_landed(*, is_landed: bool) -> Judgement:
    """Judge the feeder neutral that was lifted for the reading."""
    return seen(
        is_landed,
        explanation="The feeder neutral is landed again"
        if is_landed
        else "The feeder neutral was lifted and is not landed again",
        source=LANDED,
        why="With an open neutral what is made for 120 V gets up to line-to-line voltage, and "
        "burns",
        remedy="Dead and locked: land the feeder neutral and tighten it to its label before "
        "anything is energised",
        severity=Severity.DANGER,
    )


def _judge_open(*, is_here: bool) -> Judgement:
    return seen(
        not is_here,
        explanation="No connection from neutral bar to ground bar",
        source=BONDED if is_here else APART,
        why=OPEN_FAULT,
        remedy="Dead and locked: fit the bonding jumper that belongs here",
        severity=Severity.DANGER,
    )


CHECKS: Final = (
    Check(
        id="panel.neutral_bond",
        title="Neutral bonded once",
        how="With the panel's bus proved dead look for the bonding screw, strap or jumper. Measure "
        "from neutral bar to ground bar; at a panel fed by a feeder, lift the feeder neutral "
        "first, and land it again, tightened to its label, before anything is energised.",
        inputs=(
            Choice(
                "bond",
                "Bonding screw or strap",
                options=(
                    Option("present", "Present", needs=(INSIDE,)),
                    Option("absent", "Absent", needs=(INSIDE,)),
                    Option("closed", "Not seen", "The panel stays on and closed", ends=True),
                ),
            ),
            Choice(
                "fed",
                "What feeds this panel",
                options=(
                    Option(FEEDER, "A feeder of the service"),
                    Option(TRANSFORMER, "A transformer", "The first disconnect behind it"),
                    Option(UNKNOWN, "Not known"),
                ),
                where=_is_fed,
            ),
            Choice(
                "at_transformer",
                "Bond at the transformer",
                options=(
                    Option("present", "Present"),
                    Option("absent", "Absent"),
                    Option("unseen", "Not seen", "Its enclosure stays closed"),
                ),
                when=BEHIND,
            ),
            YesNo(
                "is_lifted",
                "Feeder neutral lifted",
                optional=True,
                where=_is_fed,
                help="Not needed where the one bond is here, behind a transformer",
            ),
            Choice(
                "reading",
                "Meter, neutral to ground bar",
                options=(Option("value", "Shows a value"), Option("open", "Over range")),
            ),
            Measurement(
                "ohm",
                "Resistance",
                dimension=Dimension.RESISTANCE,
                units=("Ω", "mΩ", "kΩ"),
                plausible=(0.001, 1e6),
                instruments=(InstrumentKind.LOW_OHM, InstrumentKind.MULTIMETER),
                category=Category.CAT_III,
                access_point="neutral bar to ground bar, panel dead",
                against=EVERY,
                when=When("reading", ("value",)),
            ),
            YesNo(
                "is_landed",
                "Feeder neutral landed again",
                good=True,
                where=_is_fed,
                when=When("is_lifted", ("yes",)),
                help="And tightened to its label",
            ),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        cautions=(
            BESIDE_BUS,
            Caution(
                Severity.DANGER,
                "A feeder neutral may carry current of another circuit: clamp it first, and never "
                "lift one that does.",
            ),
        ),
    ),
)
