"""Neutral bar to ground bar by the meter: joined where the bond is, apart everywhere else."""

from typing import Final

from checks.check import Situation, compare, not_measured, seen, unsettled
from checks.quantity import amount
from checks.source import judgement
from checks.stations.observing import LOW_OHMS
from checks.stations.panel.feeder import TRANSFORMER
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

BONDED_OHM: Final = 0.1
BONDED: Final = judgement("a sound bond from neutral bar to ground bar is under 0.1 Ω")
APART_OHM: Final = 1000.0
APART: Final = judgement("bars that are not bonded read over 1 kΩ with the feeder neutral lifted")
OPEN_FAULT: Final = "Without its bond a fault finds no way back and the breaker does not open"
HIGH_OHMS: Final = "Measure with a meter that reads kilohms more closely"


def has_bond_here(s: Situation) -> bool:
    """Return whether the one bond is to be here: at the service, or where a transformer's is."""
    if s.panel.is_service_equipment:
        return True
    behind = s.choice("panel.neutral_bond.fed") == TRANSFORMER
    return behind and s.choice("panel.neutral_bond.bond") == "present"


def bar_limit(s: Situation) -> Limit:
    """Return what neutral bar to ground bar is held against in this panel."""
    if has_bond_here(s):
        return at_most(BONDED_OHM, "Ω", Force.TRADE_JUDGEMENT, BONDED, of="neutral to ground bar")
    return at_least(APART_OHM, "kΩ", Force.TRADE_JUDGEMENT, APART, of="neutral to ground bar")


def judge_reading(s: Situation, limit: Limit) -> Judgement:
    """Judge what the meter shows from neutral bar to ground bar."""
    reading, is_here = s.choice("panel.neutral_bond.reading"), has_bond_here(s)
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


def _judge_open(*, is_here: bool) -> Judgement:
    return seen(
        not is_here,
        explanation="No connection from neutral bar to ground bar",
        source=BONDED if is_here else APART,
        why=OPEN_FAULT,
        remedy="Dead and locked: fit the bonding jumper that belongs here",
        severity=Severity.DANGER,
    )
