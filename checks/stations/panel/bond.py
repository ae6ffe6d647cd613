"""The neutral is bonded to ground once: at the service equipment, and at no panel after it."""

from typing import Final

from checks.check import (
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
from checks.source import judgement
from checks.stations.observing import BESIDE_BUS, INSIDE, rule_source
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

BONDED_OHM: Final = 0.1
BONDED: Final = judgement("a sound bond from neutral bar to ground bar is under 0.1 Ω")
APART_OHM: Final = 1000.0
APART: Final = judgement("bars that are not bonded read over 1 kΩ with the feeder neutral lifted")


def _judge(s: Situation) -> Judgement:
    wanted, limit = s.panel.is_service_equipment, _limit(s)
    bond = s.choice("panel.neutral_bond.bond")
    if bond is None:
        need = "must be bonded here" if wanted else "must not be bonded here"
        return not_measured(f"Look for the bonding screw or strap: the neutral {need}", (limit,))
    if bond == "closed":
        return unsettled(
            "The bond of the neutral was not seen: the panel stays on and closed",
            "See it once the panel may be switched off; live, the loop from line to ground tells "
            "whether a fault finds its way back",
            why="Without its bond a fault finds no way back and the breaker does not open",
            remedy="Agree with the owner when the panel can be off",
            limits=(limit,),
            sources=(rule_source(s, "neutral bond"),),
        )
    return together((_judge_seen(s, bond == "present", wanted), _judge_reading(s, limit)))


def _limit(s: Situation) -> Limit:
    if s.panel.is_service_equipment:
        return at_most(BONDED_OHM, "Ω", Force.TRADE_JUDGEMENT, BONDED, of="neutral to ground bar")
    return at_least(APART_OHM, "kΩ", Force.TRADE_JUDGEMENT, APART, of="neutral to ground bar")


def _judge_seen(s: Situation, present: bool, wanted: bool) -> Judgement:
    place = "service equipment" if wanted else "a panel after the service"
    is_good = present == wanted
    return seen(
        is_good,
        explanation=f"The bond is {'present' if present else 'absent'} at {place}",
        source=rule_source(s, "neutral bond"),
        why="Without its bond a fault finds no way back and the breaker does not open"
        if wanted
        else "A second bond sends neutral current through grounding conductors and metal parts",
        remedy="Dead and locked: fit the main bonding jumper that belongs to the panel"
        if wanted
        else "Dead and locked: remove the bonding screw or strap and separate the bars",
        severity=Severity.DANGER if wanted else Severity.WARNING,
    )


def _judge_reading(s: Situation, limit: Limit) -> Judgement:
    reading, wanted = s.choice("panel.neutral_bond.reading"), s.panel.is_service_equipment
    if not wanted and s.yes("panel.neutral_bond.is_lifted") is not True:
        if reading is None:
            return not_measured("Still open: neutral bar to ground bar", (limit,))
        return unsettled(
            "The feeder neutral was not lifted: the meter sees the bond at the service through it",
            "Dead and locked: lift the feeder neutral and measure again",
            limits=(limit,),
        )
    if reading == "open":
        return _judge_open(s, wanted)
    ohm = s.measured("panel.neutral_bond.ohm")
    if ohm is None:
        return not_measured("Still open: neutral bar to ground bar", (limit,))
    symbol = "Ω" if wanted else "kΩ"
    return compare(
        ohm,
        symbol,
        (limit,),
        explanation=f"From neutral bar to ground bar: {amount(ohm, symbol)}",
        why="A poor bond does not clear a fault"
        if wanted
        else "Somewhere after this panel neutral and ground touch",
        remedy="Dead and locked: clean and tighten the bond"
        if wanted
        else "Dead and locked: take branch neutrals off one by one until the reading opens",
        severity=Severity.WARNING,
    )


def _judge_open(s: Situation, wanted: bool) -> Judgement:
    return seen(
        not wanted,
        explanation="No connection from neutral bar to ground bar",
        source=BONDED if wanted else APART,
        why="Without its bond a fault finds no way back and the breaker does not open",
        remedy="Dead and locked: fit the main bonding jumper that belongs to the panel",
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
            YesNo(
                "is_lifted",
                "Feeder neutral lifted",
                optional=True,
                help="Only at a panel that is not the service equipment",
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
                when=When("reading", ("value",)),
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
