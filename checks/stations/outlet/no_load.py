"""Voltage at the outlet without load: the supply's band, ground, neutral and polarity."""

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
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.circuit import supply_band
from checks.errors import OutOfTableError
from checks.quantity import nominal
from checks.record import Category, InstrumentKind
from checks.source import judgement, trade
from checks.stations.circuit_facts import least_to_ground_v, leg_to_ground_v, nominal_v
from checks.stations.outlet.where import is_receptacle, kind
from checks.units import Number
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

BALANCE_RATIO: Final = 0.05
BALANCE: Final = judgement("without load, volts to ground and neutral agree within 5 % of 120 V")
NEUTRAL_GROUND_V: Final = 2.0
NEUTRAL_GROUND: Final = judgement("without load, neutral and ground of an outlet agree within 2 V")
LOST_V: Final = 30.0  # beyond this it is no imbalance but a lost or swapped conductor (judgement)
SLASH: Final = trade(
    "a breaker marked with two voltages is for lines of no more than the lower one to ground, as "
    "NEC 240.85 has it"
)
WITH_NEUTRAL: Final = ("line_neutral", "two_lines_neutral")
# Held against a limit of their own; the others against what these make them out to be.
DIRECT: Final = ("line_line", "line_neutral", "neutral_ground")
NEUTRAL_CONTACT: Final = trade("a receptacle with a contact for a neutral has one behind it")
POINTS: Final = "listed adapter's guarded jacks; hard-wired: leads fitted dead, cover closed"


def reachable(s: Situation) -> str:
    """Return why volts at the outlet cannot be read in this role; empty when they can."""
    if is_receptacle(s) or s.visit.role.opens:
        return ""
    return "the charger is hard-wired, and who inspects opens nothing"


def band_limits(s: Situation, volts: int, of: str) -> tuple[Limit, ...]:
    """Return the band in which the supply should lie; empty where the code has none."""
    try:
        rule = supply_band(s.code, volts)
    except OutOfTableError:
        return ()
    return (
        at_least(rule.value.low_v, "V", rule.force, rule.source, of=of),
        at_most(rule.value.high_v, "V", rule.force, rule.source, of=of),
    )


def _balance_limit(s: Situation) -> Limit:
    volts = BALANCE_RATIO * least_to_ground_v(s)
    return at_most(volts, "V", Force.TRADE_JUDGEMENT, BALANCE, of="difference")


def _neutral_limit() -> Limit:
    return at_most(
        NEUTRAL_GROUND_V, "V", Force.TRADE_JUDGEMENT, NEUTRAL_GROUND, of="neutral to ground"
    )


def _in_band(s: Situation, volts: Number, between: str) -> Judgement:
    point_v = s.point.nominal_v
    try:
        wide = supply_band(s.code, point_v, "utilization", "B").value
    except OutOfTableError as error:
        return not_measured(error.problem)
    is_far = not wide.low_v <= nominal(volts) <= wide.high_v
    return compare(
        volts,
        "V",
        band_limits(s, point_v, between),
        explanation=f"{nominal(volts):.1f} V {between} without load, at a {point_v} V outlet",
        why="High voltage destroys electronics; at low voltage the current stays, power is lost",
        remedy="Do not plug in; find the cause at panel and service, or call the utility"
        if is_far
        else "Read it again at another hour, and tell the utility if it stays",
        severity=Severity.WARNING if is_far else Severity.NOTICE,
        of=between,
    )


def _agrees(s: Situation, volts: Number, expected_v: Number, between: str) -> Judgement:
    difference = volts - expected_v
    size = difference if nominal(difference) >= 0 else -difference
    is_lost = nominal(size) > LOST_V
    return compare(
        size,
        "V",
        (_balance_limit(s),),
        explanation=f"{between} reads {nominal(volts):.1f} V where {nominal(expected_v):.1f} V "
        "fits the other readings" + (": a conductor is lost or swapped" if is_lost else ""),
        why="A lost ground or a swapped conductor puts the case of the charger at line voltage"
        if is_lost
        else "A neutral that wanders is loose somewhere, often at the service",
        remedy="Switch off at the breaker, lock it, and find the conductor; do not plug in"
        if is_lost
        else "Read the same pairs at the panel; have the neutral's joints checked dead",
        severity=Severity.DANGER if is_lost else Severity.CAUTION,
        of=f"{between}, difference",
    )


def _neutral_to_ground(volts: Number) -> Judgement:
    is_lost = nominal(volts) > LOST_V
    return compare(
        volts,
        "V",
        (_neutral_limit(),),
        explanation=f"Neutral to ground reads {nominal(volts):.1f} V without load",
        why="Neutral and line may be swapped, or the neutral or the ground is open",
        remedy="Switch off at the breaker, lock it, and find the conductor; do not plug in",
        severity=Severity.DANGER if is_lost else Severity.CAUTION,
        of="neutral to ground",
    )


def _limits(s: Situation) -> tuple[Limit, ...]:
    main = "line to neutral" if s.point.level == 1 else "line to line"
    has_neutral = s.choice("outlet.no_load_voltage.conductors") in WITH_NEUTRAL
    neutral = (_neutral_limit(),) if has_neutral else ()
    return (*band_limits(s, s.point.nominal_v, main), _balance_limit(s), *neutral)


def _two_wire(s: Situation) -> list[Judgement] | None:
    main = s.measured("outlet.no_load_voltage.line_neutral")
    line = s.measured("outlet.no_load_voltage.line_ground")
    neutral = s.measured("outlet.no_load_voltage.neutral_ground")
    if main is None or line is None or neutral is None:
        return None
    return [
        _in_band(s, main, "line to neutral"),
        _agrees(s, line, main + neutral, "Line to ground"),
        _neutral_to_ground(neutral),
    ]


def _two_lines(s: Situation) -> list[Judgement] | None:
    main = s.measured("outlet.no_load_voltage.line_line")
    grounds = (
        s.measured("outlet.no_load_voltage.l1_ground"),
        s.measured("outlet.no_load_voltage.l2_ground"),
    )
    if main is None or None in grounds:
        return None
    return [
        _in_band(s, main, "line to line"),
        *(_agrees(s, v, _share(s, main, v), f"L{i} to ground") for i, v in enumerate(grounds, 1)),
    ]


def _share(s: Situation, main: Number, leg: Number | None) -> Number:
    """Return what a leg should read, from the volts between the lines."""
    return main * leg_to_ground_v(s, leg) / nominal_v(s)


def _neutral_of_two(s: Situation) -> list[Judgement] | None:
    main = s.measured("outlet.no_load_voltage.line_line")
    legs = (
        s.measured("outlet.no_load_voltage.l1_neutral"),
        s.measured("outlet.no_load_voltage.l2_neutral"),
    )
    between = s.measured("outlet.no_load_voltage.neutral_ground")
    if main is None or between is None or None in legs:
        return None
    return [
        *(_agrees(s, v, _share(s, main, v), f"L{i} to neutral") for i, v in enumerate(legs, 1)),
        _neutral_to_ground(between),
    ]


def _judge_no_load(s: Situation) -> Judgement:
    wires = s.choice("outlet.no_load_voltage.conductors")
    if wires is None:
        return not_measured("The volts without load are missing", _limits(s))
    if (wires == "line_neutral") != (s.point.level == 1):
        return seen(
            False,
            explanation=f"The outlet should bring {s.point.nominal_v} V, and has "
            + ("one line and neutral" if wires == "line_neutral" else "two lines"),
            source=judgement("Level 1 goes on one line and neutral, Level 2 on two lines"),
            why="The wrong voltage destroys what is plugged in, or cannot charge",
            remedy="Do not plug in; compare the installation as recorded with what is there",
        )
    groups = [_two_wire(s)] if wires == "line_neutral" else [_two_lines(s)]
    if wires == "two_lines_neutral":
        groups.append(_neutral_of_two(s))
    parts = [part for group in groups for part in group or ()]
    if None in groups:
        parts.append(not_measured("Every pair of conductors is read", _limits(s)))
    parts += [*_high_leg(s), *_empty_contact(s, wires)]
    return together(parts, good=f"{parts[0].explanation}; ground and polarity agree with it")


def _high_leg(s: Situation) -> list[Judgement]:
    """Return what is open where one line of the circuit is the high leg of a delta."""
    legs = (
        s.measured("outlet.no_load_voltage.l1_ground"),
        s.measured("outlet.no_load_voltage.l2_ground"),
    )
    for i, leg in enumerate(legs, 1):
        volts = leg_to_ground_v(s, leg)
        if leg is not None and volts > least_to_ground_v(s):
            return [
                unsettled(
                    f"L{i} is the high leg, {volts:g} V to ground: a breaker marked 120/240 V is "
                    "not made for it, and a charger that watches its ground may refuse",
                    "Read the volts on the breaker, 240 V without a slash, and what the charger's "
                    "instructions say of such a supply",
                    why="A breaker may fail to open a fault to ground at more volts than it is for",
                    remedy="Have the circuit moved to the two lines of 120 V to ground, or a "
                    "breaker for 240 V to ground fitted",
                    sources=(SLASH,),
                )
            ]
    return []


def _empty_contact(s: Situation, wires: str) -> list[Judgement]:
    """Return what is open where a receptacle has a contact for a neutral that is not there."""
    found = kind(s)
    if wires != "two_lines" or found is None or not found.has_neutral:
        return []
    return [
        unsettled(
            f"The {found.name} has a contact for a neutral, and no neutral is behind it",
            "Ask the authority having jurisdiction whether it may stay so, marked for charging "
            "only",
            why="The charger needs none; what else fits the receptacle may get 240 V across its "
            "120 V parts",
            remedy="Have a neutral connected, or a receptacle without that contact fitted",
            sources=(NEUTRAL_CONTACT,),
        )
    ]


def _volts(name: str, label: str, high_v: float, wires: tuple[str, ...]) -> Measurement:
    return Measurement(
        name,
        label,
        plausible=(0.0, high_v),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_III,
        access_point=POINTS,
        when=When("conductors", wires),
        against=(label.lower(),) if name in DIRECT else (),
    )


LINES: Final = ("two_lines", "two_lines_neutral")
CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.no_load_voltage",
        title="Volts without load",
        quantity="No load",
        how=(
            "With nothing drawing current, read every pair of conductors with one meter; at a "
            "hard-wired charger fit fused leads while it is dead, and close it again. A "
            "low-impedance setting tells a real voltage from an induced one, but trips a "
            "ground-fault device when it goes from line to ground."
        ),
        inputs=(
            Choice(
                "conductors",
                "Conductors at the outlet",
                options=(
                    Option("line_neutral", "Line, neutral, ground"),
                    Option("two_lines", "Two lines, ground"),
                    Option("two_lines_neutral", "Two lines, neutral, ground"),
                ),
            ),
            _volts("line_line", "Line to line", 300.0, LINES),
            _volts("l1_ground", "L1 to ground", 150.0, LINES),
            _volts("l2_ground", "L2 to ground", 150.0, LINES),
            _volts("l1_neutral", "L1 to neutral", 150.0, ("two_lines_neutral",)),
            _volts("l2_neutral", "L2 to neutral", 150.0, ("two_lines_neutral",)),
            _volts("line_neutral", "Line to neutral", 150.0, ("line_neutral",)),
            _volts("line_ground", "Line to ground", 150.0, ("line_neutral",)),
            _volts("neutral_ground", "Neutral to ground", 10.0, WITH_NEUTRAL),
        ),
        judge=_judge_no_load,
        state=CircuitState.ENERGISED,
        gates=True,
        applies=reachable,
        cautions=(
            Caution(
                Severity.DANGER,
                "Live conductors: gloves and eye protection, leads of CAT III or more, guarded "
                "points only.",
            ),
        ),
        tells=True,
    ),
)
