"""The supply with no charger drawing: volts at the service, and whether its legs agree."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Measurement,
    Situation,
    compare,
    not_measured,
    together,
)
from checks.codes.circuit import supply_band
from checks.quantity import Number, amount, nominal
from checks.record import Category, InstrumentKind, SupplySystem
from checks.source import judgement
from checks.stations.circuit_facts import volts_to_ground_v
from checks.verdict import (
    Force,
    Judgement,
    Limit,
    Severity,
    VoltageStep,
    at_least,
    at_most,
)

LEG_NOMINAL_V: Final = 120
UNEQUAL_RATIO: Final = 0.05
UNEQUAL: Final = judgement("legs to neutral that differ by more than 5 % point to a bad neutral")
LEGS: Final = ("l1_n", "l2_n")
THIRD_LINE: Final = {
    "l3_n": "line 3 to neutral",
    "l2_l3": "line 2 to line 3",
    "l3_l1": "line 3 to line 1",
}


def _limits(s: Situation, nominal_volts: int) -> tuple[Limit, Limit]:
    rule = supply_band(s.code, nominal_volts)
    low, high = rule.value.low_v, rule.value.high_v
    return (
        at_least(low, "V", rule.force, rule.source, of=f"{nominal_volts} V supply"),
        at_most(high, "V", rule.force, rule.source, of=f"{nominal_volts} V supply"),
    )


def _judge(s: Situation) -> Judgement:
    between, to_neutral = _limits(s, s.visit.system.level_2_v), _limits(s, LEG_NOMINAL_V)
    across = s.measured("service.supply_voltage.l1_l2")
    legs = [s.measured(f"service.supply_voltage.{name}") for name in LEGS]
    if across is None or legs[0] is None or legs[1] is None:
        return not_measured(
            "Measure line to line and each line to neutral, no charger drawing",
            (*between, *to_neutral),
        )
    parts = [_judge_volts(s, across, "line to line", between, s.visit.system.level_2_v)]
    if s.visit.system is SupplySystem.WYE_208:
        for name, words in THIRD_LINE.items():
            value = s.measured(f"service.supply_voltage.{name}")
            if value is not None:
                is_leg = name == "l3_n"
                volts = LEG_NOMINAL_V if is_leg else s.visit.system.level_2_v
                limits = to_neutral if is_leg else between
                parts.append(_judge_volts(s, value, words, limits, volts))
    for value, words in zip(legs, ("line 1 to neutral", "line 2 to neutral"), strict=True):
        parts.append(_judge_volts(s, value, words, to_neutral, LEG_NOMINAL_V))
    parts.append(_judge_neutral(s, legs[0] - legs[1]))
    judged = together(parts)
    shown = amount(across, "V")
    step = VoltageStep(label="Service", no_load_v=shown.value)
    return judged.model_copy(update={"steps": (step,), "telling": f"{shown.value} V"})


def _judge_volts(
    s: Situation, value: Number, words: str, limits: tuple[Limit, Limit], nominal_volts: int
) -> Judgement:
    wide = supply_band(s.code, nominal_volts, "service", "B").value
    is_far = not wide.low_v <= nominal(value) <= wide.high_v
    return compare(
        value,
        "V",
        limits,
        explanation=f"Supply, {words}: {nominal(value):.1f} V",
        why="Outside its range the charger may refuse, and everything else on it suffers",
        remedy="Have the utility record the supply before the charger is blamed"
        if not is_far
        else "Keep the charger off and call the utility",
        severity=Severity.WARNING if is_far else Severity.CAUTION,
    )


def _judge_neutral(s: Situation, difference: Number) -> Judgement:
    apart = difference if nominal(difference) >= 0 else -difference
    limit = at_most(
        UNEQUAL_RATIO * volts_to_ground_v(s),
        "V",
        Force.TRADE_JUDGEMENT,
        UNEQUAL,
        of="difference of the legs",
    )
    return compare(
        apart,
        "V",
        (limit,),
        explanation=f"The two legs to neutral differ by {nominal(apart):.1f} V",
        why="A loose service neutral drives one leg up and the other down, and burns",
        remedy="Keep the charger off; have the utility check the neutral at once",
        severity=Severity.DANGER,
        settles="Repeat with a large load on one leg: a bad neutral makes the legs move apart",
    )


def _volts(name: str, label: str, highest: float, *, optional: bool = False) -> Measurement:
    return Measurement(
        name,
        label,
        units=("V",),
        plausible=(90.0, highest),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_IV,
        access_point="guarded test points on the load side of the main",
        optional=optional,
        help="Three-phase supply only" if optional else "",
    )


CHECKS: Final = (
    Check(
        id="service.supply_voltage",
        title="Supply voltage",
        how="With no charger drawing, measure line to line and each line to neutral at guarded "
        "test points on the load side of the main. Where there are none, leave it out and say so.",
        inputs=(
            _volts("l1_l2", "Line 1 to line 2", 280.0),
            _volts("l1_n", "Line 1 to neutral", 150.0),
            _volts("l2_n", "Line 2 to neutral", 150.0),
            _volts("l3_n", "Line 3 to neutral", 150.0, optional=True),
            _volts("l2_l3", "Line 2 to line 3", 280.0, optional=True),
            _volts("l3_l1", "Line 3 to line 1", 280.0, optional=True),
        ),
        judge=_judge,
        state=CircuitState.ENERGISED,
        opens=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Fault energy is greatest here. CAT IV meter and leads, protective wear for the "
                "hazard, one hand, no bare live part within reach; otherwise do not measure here.",
            ),
        ),
    ),
)
