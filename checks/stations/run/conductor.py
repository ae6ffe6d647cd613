"""The conductors as built, against the charger's load and the breaker that protects them."""

from dataclasses import replace
from typing import Final

from checks.check import (
    Check,
    Choice,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    together,
    unsettled,
)
from checks.codes.ampacity import Ampacity, Wiring, conductor_ampacity
from checks.codes.answer import Worked
from checks.codes.circuit import required_circuit_a
from checks.codes.sizing import largest_continuous_load_a, overcurrent_allowed_a
from checks.errors import OutOfTableError
from checks.quantity import rounded_down
from checks.source import trade
from checks.stations.circuit_facts import breaker_a, charger_load_a
from checks.stations.run.cable import HOT, judge_aluminum, judge_cable, judge_rating, judge_wet
from checks.stations.run.wiring import (
    INSULATED,
    INSULATION_OPTIONS,
    MATERIAL_OPTIONS,
    METHOD_OPTIONS,
    SIZE_OPTIONS,
    TERMINAL_OPTIONS,
    UNNAMED,
    required_size,
    wiring,
)
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least

USUAL_TERMINALS_C: Final = 75
HOT_TERMINALS: Final = trade(
    "terminals of breakers and receptacles are for 60 or 75 °C; what a lug is marked is its own"
)


def _limits(s: Situation) -> tuple[Limit, ...]:
    """Return what the conductor must carry, and the breaker it must be allowed."""
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    limits = []
    if load_a is not None:
        limits.append(
            at_least(
                load_a,
                "A",
                Force.CODE_RULE,
                s.code.overcurrent.continuous_ratio.source,
                of="continuous load of the charger",
                working=required_circuit_a(s.code, load_a).working,
            )
        )
    if rated_a is not None:
        limits.append(
            at_least(
                rated_a,
                "A",
                Force.CODE_RULE,
                s.code.overcurrent.next_size_up_a.source,
                of="breaker, as installed",
            )
        )
    return tuple(limits)


def _judge(s: Situation) -> Judgement:
    limits = _limits(s)
    if not limits:
        return not_measured("Record the charger's current and the breaker first")
    built = wiring(s)
    if built is None:
        return not_measured("Read size, material, insulation, cable and terminals", limits)
    wrong_place = judge_wet(s, built)
    if wrong_place is not None:
        return wrong_place
    try:
        parts = _parts(s, built)
    except OutOfTableError as error:
        return unsettled(
            error.problem,
            "The authority having jurisdiction or an engineer decides",
            remedy=error.remedy,
            why=HOT,
            limits=limits,
        )
    about_cable = (*judge_cable(s, built), *judge_rating(s, built))
    return together(
        (*parts, *about_cable, *_judge_hot_terminals(s, built), *judge_aluminum(s, built))
    )


def _parts(s: Situation, built: Wiring) -> tuple[Judgement, ...]:
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    circuit_a = rated_a
    if circuit_a is None:
        circuit_a = required_circuit_a(s.code, load_a or 0.0).value
    ampacity = conductor_ampacity(s.code, built, circuit_a)
    parts = []
    if load_a is None:
        parts.append(not_measured("The charger's current is not recorded yet: read its label"))
    else:
        parts.append(_judge_load(s, built, ampacity, load_a))
    if rated_a is None:
        parts.append(not_measured("The breaker's rating is not recorded yet"))
    else:
        parts.append(_judge_device(s, built, ampacity, rated_a))
    return tuple(parts)


def _judge_load(s: Situation, built: Wiring, ampacity: Ampacity, load_a: float) -> Judgement:
    most = largest_continuous_load_a(s.code, ampacity)
    limit = at_least(
        load_a,
        "A",
        most.force,
        most.source,
        of="continuous load of the charger",
        working=most.working,
    )
    return compare(
        most.value,
        "A",
        (limit,),
        explanation=f"{built.size} {built.material} carries {most.value:.4g} A continuously here; "
        f"the charger draws {load_a:g} A",
        why=HOT,
        remedy=_remedy(s, built, ampacity),
        severity=Severity.WARNING,
        telling=built.size,
        working=most.working,
        sources=most.sources,
    )


def _judge_device(s: Situation, built: Wiring, ampacity: Ampacity, rated_a: float) -> Judgement:
    most = _largest_device(s, built, ampacity)
    limit = at_least(
        rated_a, "A", most.force, most.source, of="breaker, as installed", working=most.working
    )
    return compare(
        most.value,
        "A",
        (limit,),
        explanation=f"{built.size} {built.material} may be protected by {most.value:g} A at most "
        f"here; the breaker is {rated_a:g} A",
        why="The breaker lets through more than the conductor bears before it trips",
        remedy=_remedy(s, built, ampacity),
        severity=Severity.WARNING,
        telling=built.size,
        working=most.working,
        sources=most.sources,
    )


def _largest_device(s: Situation, built: Wiring, ampacity: Ampacity) -> Worked:
    # the next size up is not for a circuit with more outlets than the charger's
    shared = s.yes("run.dedicated.is_alone") is False
    return overcurrent_allowed_a(s.code, built, ampacity, is_shared_by_receptacles=shared)


def _remedy(s: Situation, built: Wiring, ampacity: Ampacity) -> str:
    """Return what brings load and breaker both to what the conductor bears."""
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    most_a, least = largest_continuous_load_a(s.code, ampacity).value, _least(s, built)
    device_a = rated_a
    if rated_a is not None:
        device_a = min(rated_a, _largest_device(s, built, ampacity).value)
        most_a = min(most_a, device_a / s.code.overcurrent.continuous_ratio.value)
    set_a = rounded_down(most_a)
    if device_a == rated_a:
        return (
            f"Set the charger to {set_a:g} A or less where the setting is locked, or pull {least}"
        )
    if load_a is not None and load_a <= most_a:
        return f"Fit a listed breaker of at most {device_a:g} A, or pull {least}"
    return (
        f"Fit a listed breaker of at most {device_a:g} A and set the charger to {set_a:g} A or "
        f"less where the setting is locked, or pull {least}"
    )


def _judge_hot_terminals(s: Situation, built: Wiring) -> tuple[Judgement, ...]:
    """Return what is open where only terminals for 90 °C let the conductors carry it."""
    if built.marked_c is None or built.marked_c <= USUAL_TERMINALS_C:
        return ()
    usual = _parts(s, replace(built, marked_c=USUAL_TERMINALS_C))
    if all(part.verdict is not Verdict.OUTSIDE for part in usual):
        return ()
    return (
        unsettled(
            f"{built.size} {built.material} carries this only with {built.marked_c} °C terminals",
            "Find 90 °C in the listing of breaker and outlet: on a lug, AL9CU speaks of the lug "
            "alone",
            why=HOT,
            remedy="Count with 75 °C: pull "
            f"{_least(s, replace(built, marked_c=USUAL_TERMINALS_C))}",
            sources=(HOT_TERMINALS,),
        ),
    )


def _least(s: Situation, built: Wiring) -> str:
    """Return the size that would do, in words."""
    try:
        answer = required_size(s, built)
    except OutOfTableError:
        answer = None
    return "larger conductors" if answer is None else f"{answer.size} {built.material} or larger"


CHECKS: Final = (
    Check(
        id="run.conductor",
        title="Conductors",
        how="Read the print on the cable where it shows: size, metal, letters. At an open end, and "
        "for the temperature marked at both terminals, only while the circuit is dead, locked and "
        "proved. Take the hottest place along the run and count the conductors that carry current "
        "there.",
        inputs=(
            Choice("size", "Size", options=SIZE_OPTIONS),
            Choice("material", "Metal", options=MATERIAL_OPTIONS),
            Choice("method", "Cable or raceway", options=METHOD_OPTIONS),
            Choice(
                "insulation",
                "Insulation",
                options=INSULATION_OPTIONS,
                when=When("method", UNNAMED),
            ),
            YesNo(
                "is_in_insulation",
                "In thermal insulation",
                help="Any part that touches it; where more than two cables touch there, count the "
                "conductors of all of them",
                when=When("method", INSULATED),
            ),
            YesNo(
                "is_wet",
                "Any part in a wet place",
                help="Outdoors in the weather, in raceway outdoors, or underground",
            ),
            Choice(
                "terminals",
                "Lowest terminal marking",
                options=TERMINAL_OPTIONS,
                help="The lower of both ends; unmarked where you cannot read one",
            ),
            Rating(
                "ambient",
                "Hottest air along the run",
                dimension=Dimension.TEMPERATURE,
                units=("°C", "°F"),
                plausible=(10.0, 60.0),
                help="A design figure for the hottest time of year, such as an attic in summer",
            ),
            Rating(
                "carrying",
                "Current-carrying conductors",
                dimension=Dimension.COUNT,
                units=("pcs",),
                plausible=(2.0, 20.0),
                help="In the same raceway or cable; grounding conductors are not counted",
            ),
            YesNo(
                "is_marked_al",
                "Both ends marked AL",
                good=True,
                when=When("material", ("aluminum",)),
            ),
        ),
        judge=_judge,
    ),
)
