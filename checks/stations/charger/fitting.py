"""The charger as its maker wants it fitted: instructions, clearance, sun, entries, markings."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Measurement,
    Option,
    Rating,
    Situation,
    YesNo,
    compare,
    not_measured,
    together,
    unsettled,
)
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.stations.circuit_facts import location
from checks.stations.observing import Sign, rule_source, signs_of
from checks.stations.outlet.where import fixed_only
from checks.units import Dimension
from checks.verdict import Force, Judgement, Severity, at_least

CHECK: Final = "charger.fitting"
OUTDOORS: Final = ("outdoors", "rooftop")
SIGNS: Final = (
    Sign(
        YesNo("is_followed", "Fitted as instructed", good=True),
        "listed use",
        "It is not fitted as its instructions say, or they are not at hand",
        "Its listing holds only as its instructions say",
        "Get the instructions, and have it fitted as they say, dead and locked",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_sealed", "Entries and gasket tight", good=True),
        "listed use",
        "An entry is open or the gasket is not in place",
        "Water and insects get in and bridge live parts",
        "With the circuit dead and locked, have entries sealed and the gasket seated",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_drain_open", "Drain open", good=True, optional=True),
        "listed use",
        "The drain is closed",
        "Water that condenses inside stays there",
        "With the circuit dead and locked, have the drain opened",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_marked", "Markings, warnings legible", good=True),
        "listed charger",
        "Markings or warnings are missing or cannot be read",
        "Volts, current and the ventilation it needs are known from them alone",
        "Have the markings replaced by its maker",
        Severity.NOTICE,
    ),
)


def _sun(s: Situation) -> Judgement | None:
    """Judge direct sun, where it can reach the charger."""
    place, told = location(s), s.choice(f"{CHECK}.sun")
    source = rule_source(s, "listed use")
    if told is None or place is None:
        missing = "What it says on sun" if told is None else "Where it is, at the surroundings,"
        return not_measured(f"{missing} is missing", sources=(source,))
    if told == "forbidden" and place in OUTDOORS:
        return unsettled(
            "Its maker forbids direct sun, and it is outdoors",
            "See at noon in summer whether it stands in the shade",
            why="In the sun it heats beyond what it is tested for, and lowers its current",
            remedy="Shade it, or move it",
            sources=(source,),
        )
    return None


def _clearance(s: Situation) -> Judgement:
    asked_m, clear_m = s.rating(f"{CHECK}.asked"), s.measured(f"{CHECK}.clear")
    source = rule_source(s, "listed use")
    if asked_m is None:
        return not_measured("The clearance its instructions ask for is missing", sources=(source,))
    limit = at_least(asked_m, "m", Force.LISTING, source, of="clear around it")
    if clear_m is None:
        return not_measured("The clearance is missing", (limit,))
    return compare(
        clear_m,
        "m",
        (limit,),
        explanation=f"{amount(clear_m, 'm')} clear around it",
        why="It gives its heat to the air around it",
        remedy="Clear the space around it, or move it",
        severity=Severity.CAUTION,
        of="clear around it",
    )


def _judge(s: Situation) -> Judgement:
    sun, clearance = _sun(s), _clearance(s)
    parts = (*signs_of(s, CHECK, SIGNS), clearance, *((sun,) if sun else ()))
    return together(parts, good=f"Fitted as its instructions say; {clearance.explanation}")


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id=CHECK,
        title="As its maker wants it fitted",
        quantity="Clearance",
        how="With its instructions at hand look from outside at entries, gasket, drain and "
        "markings; measure the least clear space around it.",
        inputs=(
            *(sign.input for sign in SIGNS),
            Rating(
                "asked",
                "Clearance asked for",
                dimension=Dimension.LENGTH,
                units=("m", "in"),
                plausible=(0.0, 1.5),
                help="By its instructions; 0 where they ask for none",
            ),
            Measurement(
                "clear",
                "Least clear space",
                dimension=Dimension.LENGTH,
                units=("m", "in"),
                plausible=(0.0, 5.0),
                instruments=(InstrumentKind.TAPE,),
                access_point="charger's case to what is nearest",
                against=EVERY,
            ),
            Choice(
                "sun",
                "Direct sun",
                options=(
                    Option("allowed", "Allowed or not named"),
                    Option("forbidden", "Forbidden by its maker"),
                ),
            ),
        ),
        judge=_judge,
        applies=fixed_only,
    ),
)
