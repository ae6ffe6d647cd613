"""Insulation of the run by itself: a low reading through a receptacle may be the receptacle's."""

from typing import Final

from checks.check import (
    Check,
    CircuitState,
    Situation,
    YesNo,
    compare,
    not_measured,
)
from checks.quantity import amount
from checks.record import VisitKind
from checks.stations.outlet.where import receptacle_only
from checks.stations.run.dead_tests import judge_insulation, least_insulation, no_short
from checks.stations.run.insulated import TESTER_CAUTION, lowest_ohms, megohms
from checks.verdict import Judgement, Severity, Verdict

CHECK: Final = "run.insulation_alone"


def _applies(s: Situation) -> str:
    """Return why it has no place here: only what was low with the outlet on is read without it."""
    is_low = judge_insulation(s).verdict is Verdict.OUTSIDE
    return receptacle_only(s) or ("" if is_low else "the insulation was not found low")


def _is_ohms(s: Situation) -> bool:
    return s.choice("run.insulation.place") == "electronic"


def _is_megohms(s: Situation) -> bool:
    return not _is_ohms(s)


def _judge(s: Situation) -> Judgement:
    unit, name = ("kΩ", "lowest_ohm") if _is_ohms(s) else ("MΩ", "lowest")
    limit = no_short(s) if _is_ohms(s) else least_insulation(s)
    if s.yes(f"{CHECK}.is_off") is False:
        return not_measured("Take the receptacle off its conductors first, then test", (limit,))
    lowest = s.measured(f"{CHECK}.{name}")
    if lowest is None or s.yes(f"{CHECK}.is_off") is None:
        return not_measured("Say that the receptacle is off, and what is read then", (limit,))
    return compare(
        lowest,
        unit,
        (limit,),
        explanation=f"With the receptacle off the lowest pair reads {amount(lowest, unit)}",
        why="What leaks in the run stays when the receptacle is renewed",
        remedy="Keep the circuit dead and locked; find the wet or damaged stretch and replace it, "
        "then test again",
        severity=Severity.WARNING,
    )


CHECKS: Final = (
    Check(
        id=CHECK,
        title="Insulation, outlet off",
        how="Still dead, locked and proved. Take the conductors off the receptacle, hold their "
        "ends apart and dry, and read every pair once more, as before. What is sound now leaked "
        "at the outlet; what stays low leaks in the run. Discharge; the torque of the outlet is "
        "asked for after it.",
        inputs=(
            YesNo("is_off", "Receptacle off, ends apart", good=True),
            megohms(
                "lowest",
                "Lowest of all pairs",
                "At the same test voltage. Over range: the highest the tester shows",
                where=_is_megohms,
            ),
            lowest_ohms(
                "lowest_ohm",
                "Ohms alone: no test voltage through a breaker's electronics",
                where=_is_ohms,
            ),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        kinds=(VisitKind.SERVICE_CALL,),
        applies=_applies,
        cautions=(TESTER_CAUTION,),
    ),
)
