"""The equipment grounding conductor: its size by the table."""

from dataclasses import replace
from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Situation,
    When,
    compare,
    not_measured,
    unsettled,
)
from checks.codes.ampacity import Wiring
from checks.codes.answer import SizeAnswer
from checks.codes.grounding import grounding_size
from checks.electrical.conductor import area_mm2
from checks.errors import ChecksError, NoneLargeEnoughError
from checks.stations.circuit_facts import breaker_a
from checks.stations.run.metal_path import SHOCK, judge_without_wire, may_have_armor
from checks.stations.run.wiring import (
    MATERIAL_OPTIONS,
    SIZE_OPTIONS,
    required_size,
    wiring,
)
from checks.verdict import Force, Judgement, Limit, Severity, at_least


def area_m2(size: str) -> float:
    """Return the area to the nine digits that a limit keeps, so that equal sizes are equal."""
    return float(f"{area_mm2(size) / 1e6:.9g}")


def needed_size(
    s: Situation, material: str, *, is_rounding_excused: bool = False
) -> SizeAnswer | str:
    """Return the least size, or the words for why there is none."""
    rated_a, built = breaker_a(s), wiring(s)
    if rated_a is None:
        return "Record the breaker's rating first"
    if built is None:
        return f"Record the conductors first, as the grounding conductor grows with them{_least(s)}"
    # insulation that is unfit for a wet place is the conductors' finding; their size is theirs dry
    insulation = s.code.conductors.insulation_c.get(built.insulation)
    if built.is_wet and insulation is not None and insulation.value[1] is None:
        built = replace(built, is_wet=False)
    try:
        return grounding_size(
            s.code,
            rated_a,
            material,
            installed_size=built.size,
            required_size=_required(s, built),
            is_rounding_excused=is_rounding_excused,
        )
    except ChecksError as error:
        return f"{error.problem}. {error.remedy}"


def _required(s: Situation, built: Wiring) -> str | None:
    """Return the size that would do; nothing where none does, so that none was enlarged."""
    try:
        answer = required_size(s, built)
    except NoneLargeEnoughError:
        return None
    return None if answer is None else answer.size


def _least(s: Situation) -> str:
    """Return what the breaker alone asks for, in words to follow a sentence."""
    try:
        alone = grounding_size(s.code, breaker_a(s) or 0.0, "copper")
    except ChecksError:
        return ""
    return f"; by the breaker alone: {alone.size} copper"


def size_limit(needed: SizeAnswer, material: str) -> Limit:
    """Return the least area that a grounding conductor of this metal must have [m²]."""
    return at_least(
        area_m2(needed.size),
        "mm²",
        Force.CODE_RULE,
        needed.source,
        of=f"{needed.size} {material}",
        working=needed.working,
    )


def _judge_size(s: Situation) -> Judgement:
    kind = s.choice("run.grounding_conductor.kind")
    if kind not in (None, "wire"):
        return judge_without_wire(s, kind)
    size, material = (
        s.choice("run.grounding_conductor.size"),
        s.choice("run.grounding_conductor.material"),
    )
    needed = needed_size(s, material or "copper")
    if isinstance(needed, str):
        return not_measured(needed)
    limit = size_limit(needed, material or "copper")
    if kind is None or size is None or material is None:
        return not_measured(f"Of copper at least {_copper(s)}", (limit,) if material else ())
    remedy, severity = _mending(s, size, material, needed.size)
    return _judge_rounding(s, size, material, limit) or compare(
        area_m2(size),
        "mm²",
        (limit,),
        explanation=f"Grounding conductor {size} {material}; a {breaker_a(s):g} A breaker and "
        f"these conductors ask for {needed.size} {material} or larger",
        why="A grounding conductor that is too small may burn open before the breaker trips",
        remedy=remedy,
        severity=severity,
        telling=size,
        working=needed.working,
        sources=needed.sources,
    )


def _mending(s: Situation, size: str, material: str, needed: str) -> tuple[str, Severity]:
    """Return what to do where it is too small, and how bad that is.

    What the breaker asks for knows no exception; what enlarged conductors ask beyond that does:
    NEC 250.122(B).
    """
    alone = grounding_size(s.code, breaker_a(s) or 0.0, material)
    if area_m2(size) < area_m2(alone.size):
        return f"Pull a grounding conductor of {needed} {material} or larger", Severity.WARNING
    return (
        f"Pull a grounding conductor of {needed} {material} or larger, or have a qualified person "
        "show, where the code lets one, that this one carries the fault current",
        Severity.CAUTION,
    )


def _judge_rounding(s: Situation, size: str, material: str, limit: Limit) -> Judgement | None:
    """Return what is left open where only the rounding of the printed areas parts two sizes."""
    excused = needed_size(s, material, is_rounding_excused=True)
    if isinstance(excused, str) or not area_m2(excused.size) <= area_m2(size) < limit.value:
        return None
    return unsettled(
        f"Grounding conductor {size} {material}: it grew by as many gauge numbers as the circuit "
        f"conductors, yet the areas as the table rounds them ask for {limit.amount.of}",
        "Ask the authority having jurisdiction whether the rounding of the table counts",
        why=SHOCK,
        remedy="Record the authority's answer, or pull the larger size",
        severity=Severity.NOTICE,
        limits=(limit,),
        sources=excused.sources,
        working=excused.working,
    )


def _copper(s: Situation) -> str:
    needed = needed_size(s, "copper")
    return needed if isinstance(needed, str) else needed.size


WIRE: Final = When("kind", ("wire",))
CHECKS: Final = (
    Check(
        id="run.grounding_conductor",
        title="Grounding conductor",
        quantity="Grounding",
        how="Read the print on the grounding conductor where it shows, or see which raceway serves "
        "instead. At an open end only while the circuit is dead, locked and proved.",
        inputs=(
            Choice(
                "kind",
                "What grounds it",
                options=(
                    Option("wire", "A wire with the circuit"),
                    Option("raceway", "Rigid metal raceway"),
                    Option(
                        "armor",
                        "Armor with bonding strip",
                        "A bare strip lies under the armor all along, and the fittings are listed",
                        where=may_have_armor,
                    ),
                    Option("flexible", "Flexible metal only"),
                    Option("none", "Nothing"),
                ),
            ),
            Choice("size", "Size", options=SIZE_OPTIONS, when=WIRE),
            Choice("material", "Metal", options=MATERIAL_OPTIONS, when=WIRE),
        ),
        judge=_judge_size,
    ),
)
