"""The supply with no charger drawing: volts at the service, and whether its legs agree."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Measurement,
    Situation,
    Where,
    compare,
    everywhere,
    not_measured,
    together,
)
from checks.codes.circuit import supply_band
from checks.electrical.supply import GROUND, SYSTEMS, nominal_between_v
from checks.quantity import amount, nominal
from checks.record import Category, InstrumentKind
from checks.stations.circuit_facts import has_line_3
from checks.stations.service_neutral import REMEDY, WHY, difference_limit, difference_v
from checks.units import Number
from checks.verdict import (
    Judgement,
    Limit,
    Severity,
    VoltageStep,
    at_least,
    at_most,
)

# Input, its two conductors, and its words; the third line only where the supply has one.
PLACES: Final = (
    ("l1_l2", ("L1", "L2"), "line 1 to line 2"),
    ("l2_l3", ("L2", "L3"), "line 2 to line 3"),
    ("l3_l1", ("L3", "L1"), "line 3 to line 1"),
    ("l1_n", ("L1", GROUND), "line 1 to neutral"),
    ("l2_n", ("L2", GROUND), "line 2 to neutral"),
    ("l3_n", ("L3", GROUND), "line 3 to neutral"),
)


def _limits(s: Situation, nominal_volts: int, of: str) -> tuple[Limit, Limit]:
    rule = supply_band(s.code, nominal_volts)
    low, high = rule.value.low_v, rule.value.high_v
    return (
        at_least(low, "V", rule.force, rule.source, of=of),
        at_most(high, "V", rule.force, rule.source, of=of),
    )


def _judge(s: Situation) -> Judgement:
    system = SYSTEMS[s.visit.system]
    parts: list[Judgement] = []
    missing: list[Limit] = []
    for name, (first, second), words in PLACES:
        if not {first, second} <= {*system.lines, GROUND}:
            continue
        volts = round(nominal_between_v(system, first, second))
        value = s.measured(f"service.supply_voltage.{name}")
        if value is None:
            missing += _limits(s, volts, words)
            continue
        parts.append(_judge_volts(s, value, words, _limits(s, volts, words), volts))
    if missing:
        words = "Measure line to line and each line to neutral, no charger drawing"
        parts.append(not_measured(words, missing))
    difference = difference_v(s)
    if difference is not None:
        parts.append(_judge_neutral(s, difference))
    judged = together(parts)
    lines = s.measured("service.supply_voltage.l1_l2")
    if lines is None:
        return judged
    shown = amount(lines, "V").value
    step = VoltageStep(label="Service", no_load_v=shown)
    return judged.model_copy(update={"steps": (step,), "telling": f"{shown} V"})


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
        of=words,
    )


def _judge_neutral(s: Situation, difference: Number) -> Judgement:
    return compare(
        difference,
        "V",
        (difference_limit(s),),
        explanation=f"The legs to neutral differ by {nominal(difference):.1f} V",
        why=WHY,
        remedy=REMEDY,
        severity=Severity.DANGER,
        settles="Repeat with a large load on one leg: a bad neutral makes the legs move apart",
    )


def _volts(name: str, label: str, highest: float, where: Where = everywhere) -> Measurement:
    return Measurement(
        name,
        label,
        units=("V",),
        plausible=(90.0, highest),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_IV,
        access_point="guarded test points on the load side of the main",
        where=where,
        against=(label.lower(),),
    )


CHECKS: Final = (
    Check(
        id="service.supply_voltage",
        title="Supply voltage",
        quantity="Supply",
        how="With no charger drawing, measure line to line and each line to neutral at guarded "
        "test points on the load side of the main. Where there are none, leave it out and say so.",
        inputs=(
            _volts("l1_l2", "Line 1 to line 2", 280.0),
            _volts("l1_n", "Line 1 to neutral", 150.0),
            _volts("l2_n", "Line 2 to neutral", 220.0),
            _volts("l3_n", "Line 3 to neutral", 150.0, has_line_3),
            _volts("l2_l3", "Line 2 to line 3", 280.0, has_line_3),
            _volts("l3_l1", "Line 3 to line 1", 280.0, has_line_3),
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
