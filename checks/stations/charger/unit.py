"""The unit itself: damage, mounting, ventilation."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
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
from checks.codes.answer import Outcome
from checks.codes.place import storage_height_m, ventilation_m3_per_min, ventilation_required
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.stations.circuit_facts import OUTDOORS, breaker_a, location, nominal_v
from checks.stations.observing import DAMAGED, SEEN, Sign, sees, signs_of
from checks.stations.outlet.where import fixed_only
from checks.units import Dimension
from checks.verdict import Judgement, Severity, at_least

OUT: Final = "Switch it off at the breaker, lock it, keep it out of use until it is replaced"
DAMAGE_SIGNS: Final = (
    Sign(
        YesNo("is_case_broken", "Case cracked, open or loose", good=False, says=DAMAGED),
        "integrity",
        "The case is cracked, open or loose",
        "Water gets in, and live parts may be touched",
        OUT,
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_cable_cut", "Cable cut, crushed, pulled", good=False, says=DAMAGED),
        "integrity",
        "The cable is cut, crushed or pulled out of its entry",
        "The cable is handled every day, wet or dry",
        OUT,
        Severity.DANGER,
    ),
    Sign(
        YesNo("has_heat_marks", "Heat marks or burnt smell", good=False, says=SEEN),
        "integrity",
        "Heat marks or a burnt smell at the charger",
        "A joint inside has overheated and will again",
        OUT,
        Severity.DANGER,
    ),
    Sign(
        YesNo("has_water", "Water or insects inside", good=False, says=SEEN),
        "integrity",
        "Water or insects in the charger",
        "They bridge the parts that measure and switch",
        OUT,
        Severity.WARNING,
    ),
)
FIXED: Final = Sign(
    YesNo("is_fixed", "Fixed, does not move", good=True),
    "listed use",
    "The charger is not fixed as its instructions say",
    "The pull of the cable works its wiring loose",
    "Fix it to the structure as its instructions say, dead and locked",
    Severity.CAUTION,
)


def _height(s: Situation) -> Judgement:
    place = location(s)
    if place is None:
        return not_measured("Where the charging point is, is missing, at the surroundings")
    rule = storage_height_m(s.code, is_outdoors=place in OUTDOORS)
    limit = at_least(rule.value, "m", rule.force, rule.source, of="stored connector above floor")
    if s.yes("charger.mounting.is_marked_lower"):
        return seen(
            True, explanation="Listed and marked for the height it is at", source=rule.source
        ).model_copy(update={"limits": (limit,)})
    height_m = s.measured("charger.mounting.height")
    if height_m is None:
        return not_measured("The height of the stored connector is missing", (limit,))
    return compare(
        height_m,
        "m",
        (limit,),
        explanation=f"The connector is stored {amount(height_m, 'm')} above the floor: {place}",
        why="Low down it lies in water, snow and vapors, and in the way of the car",
        remedy="Move holder or charger up",
        severity=Severity.CAUTION,
        of="stored connector above floor",
    )


def _judge_mounting(s: Situation) -> Judgement:
    return together((*signs_of(s, "charger.mounting", (FIXED,)), _height(s)))


def _indoors_only(s: Situation) -> str:
    return "the charging point is outdoors" if location(s) in OUTDOORS else ""


GAS: Final = "Some batteries give off gas that burns"
LISTED_WITHOUT: Final = {"not_required": True, "required": False, "not_seen": None}


def _judge_ventilation(s: Situation) -> Judgement:
    place, marking = location(s), s.choice("charger.ventilation.marking")
    if place is None or marking is None:
        missing = (
            "The place of the charging point" if place is None else "The marking on ventilation"
        )
        return not_measured(f"{missing} is missing")
    ruling = ventilation_required(
        s.code, is_indoors=place not in OUTDOORS, is_listed_without=LISTED_WITHOUT[marking]
    )
    if ruling.outcome is Outcome.READ_TWO_WAYS:
        return unsettled(
            f"In a place recorded as {place}: {ruling.why}",
            "Read the instructions, or ask the maker",
            why=GAS,
            remedy="Keep it unused indoors until the marking is known",
            sources=ruling.sources,
        )
    if ruling.outcome is Outcome.NO:
        return seen(True, explanation=f"{place.capitalize()}: {ruling.why}", source=ruling.source)
    interlocked = s.yes("charger.ventilation.is_interlocked")
    if interlocked is None:
        return not_measured(f"Still open: does it run, interlocked, {_rate(s)}")
    return seen(
        interlocked,
        explanation=f"{place.capitalize()}: ventilation is required, and "
        + ("runs, interlocked, for the whole charge" if interlocked else "is not interlocked"),
        source=ruling.source,
        why=GAS,
        remedy=f"Keep it unused indoors until ventilation runs, interlocked, {_rate(s)}",
    )


def _rate(s: Situation) -> str:
    """Return how much ventilation one vehicle needs here, in words to follow a sentence."""
    circuit_a = breaker_a(s)
    if circuit_a is None:
        return "at the rate that the breaker asks for"
    rate = ventilation_m3_per_min(s.code, nominal_v(s), circuit_a)
    return f"at {rate.value:.1f} m³/min or more a vehicle ({rate.sources[0]})"


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.damage",
        title="Damage at the charger",
        how="With the charge ended, look at case, window, cable over its whole length, and smell.",
        inputs=tuple(sign.input for sign in DAMAGE_SIGNS),
        judge=sees("charger.damage", DAMAGE_SIGNS, "Case, cable and entries are whole"),
        gates=True,
        cautions=(
            Caution(
                Severity.DANGER, "Wet, burnt or cut: touch nothing, switch off at the breaker."
            ),
        ),
        no_limit_because="damage is seen, not measured",
    ),
    Check(
        id="charger.mounting",
        touches=True,
        title="Mounting and storage height",
        quantity="Height",
        how="Try to move it by hand; measure from the floor to the connector in its holder.",
        inputs=(
            FIXED.input,
            Measurement(
                "height",
                "Stored connector, height",
                dimension=Dimension.LENGTH,
                units=("m", "in", "ft"),
                plausible=(0.1, 2.5),
                instruments=(InstrumentKind.TAPE,),
                access_point="floor to the lowest point of the stored connector",
                against=EVERY,
            ),
            YesNo("is_marked_lower", "Marked for a lower height", optional=True),
        ),
        judge=_judge_mounting,
        applies=fixed_only,
    ),
    Check(
        id="charger.ventilation",
        title="Ventilation",
        how="Read the marking on ventilation on plate or instructions.",
        inputs=(
            Choice(
                "marking",
                "Marking",
                options=(
                    Option("not_required", "Ventilation not required"),
                    Option("required", "Ventilation required"),
                    Option("not_seen", "Not found"),
                ),
            ),
            YesNo(
                "is_interlocked",
                "It runs, interlocked",
                good=True,
                when=When("marking", ("required",)),
            ),
        ),
        judge=_judge_ventilation,
        applies=_indoors_only,
    ),
)
