"""The equipment grounding conductor: its size by the table, and its ohms by its length."""

from dataclasses import replace
from typing import Final

from checks.check import (
    EVERY,
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
    unsettled,
)
from checks.codes.ampacity import Wiring
from checks.codes.answer import SizeAnswer
from checks.codes.grounding import grounding_size
from checks.electrical.conductor import area_mm2
from checks.electrical.protective import JOINT_ALLOWANCE, expected_ohm, limit_ohm
from checks.errors import ChecksError, NoneLargeEnoughError
from checks.quantity import nominal
from checks.record import Category, InstrumentKind
from checks.stations.circuit_facts import breaker_a, run_length_m
from checks.stations.observing import BESIDE_BUS, INSIDE, LOW_OHMS
from checks.stations.run.metal_path import SHOCK, judge_without_wire, may_have_armor
from checks.stations.run.wiring import (
    MATERIAL_OPTIONS,
    SIZE_OPTIONS,
    required_size,
    wiring,
)
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

REMAKE: Final = "Keep the circuit dead and locked; find the joint along the path and remake it"


def _area_m2(size: str) -> float:
    """Return the area to the nine digits that a limit keeps, so that equal sizes are equal."""
    return float(f"{area_mm2(size) / 1e6:.9g}")


def _needed(s: Situation, material: str, *, is_rounding_excused: bool = False) -> SizeAnswer | str:
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


def _limit(needed: SizeAnswer, material: str) -> Limit:
    return at_least(
        _area_m2(needed.size),
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
    needed = _needed(s, material or "copper")
    if isinstance(needed, str):
        return not_measured(needed)
    limit = _limit(needed, material or "copper")
    if kind is None or size is None or material is None:
        return not_measured(f"Of copper at least {_copper(s)}", (limit,) if material else ())
    remedy, severity = _mending(s, size, material, needed.size)
    return _judge_rounding(s, size, material, limit) or compare(
        _area_m2(size),
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
    if _area_m2(size) < _area_m2(alone.size):
        return f"Pull a grounding conductor of {needed} {material} or larger", Severity.WARNING
    return (
        f"Pull a grounding conductor of {needed} {material} or larger, or have a qualified person "
        "show, where the code lets one, that this one carries the fault current",
        Severity.CAUTION,
    )


def _judge_rounding(s: Situation, size: str, material: str, limit: Limit) -> Judgement | None:
    """Return what is left open where only the rounding of the printed areas parts two sizes."""
    excused = _needed(s, material, is_rounding_excused=True)
    if isinstance(excused, str) or not _area_m2(excused.size) <= _area_m2(size) < limit.value:
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
    needed = _needed(s, "copper")
    return needed if isinstance(needed, str) else needed.size


# -- ohms, dead ---------------------------------------------------------------------------------
OHM_CHECK: Final = "run.protective_conductor"
FROM: Final = {"panel": "ground bar", "closed": "panel enclosure"}


def _path(s: Situation) -> tuple[str, str] | str:
    """Return size and metal that the path should be as good as, or what is missing."""
    kind = s.choice("run.grounding_conductor.kind")
    if kind is None:
        return "Record the grounding conductor first"
    size = s.choice("run.grounding_conductor.size")
    material = s.choice("run.grounding_conductor.material")
    if kind == "wire":
        if size is None or material is None:
            return "Record the grounding conductor's size and metal first"
        return size, material
    # a raceway that replaces a wire must be at least as good as that wire
    needed = _needed(s, "copper")
    return needed if isinstance(needed, str) else (needed.size, "copper")


def _ohm_limit(s: Situation) -> tuple[Limit, Number] | str:
    """Return the limit and the expected ohms with the length's uncertainty, or what is missing."""
    path, length_m = _path(s), run_length_m(s)
    if isinstance(path, str):
        return path
    if length_m is None:
        return "Record the run's length first"
    expected = expected_ohm(*path, length_m)
    limit = at_most(
        nominal(limit_ohm(*path, length_m)),
        "Ω",
        Force.TRADE_JUDGEMENT,
        JOINT_ALLOWANCE,
        of=f"{nominal(length_m):.4g} m of {' '.join(path)} and its joints",
        working=(f"metal alone at 20 °C: {nominal(expected):.3f} Ω", str(JOINT_ALLOWANCE)),
    )
    return limit, expected


def _judge_ohm(s: Situation) -> Judgement:
    if s.choice("run.grounding_conductor.kind") == "none":
        return judge_without_wire(s, "none")
    found = _ohm_limit(s)
    limits = () if isinstance(found, str) else (found[0],)
    reading = s.choice("run.protective_conductor.reading")
    if reading == "open":
        return _judge_open(limits)
    ohm = s.measured("run.protective_conductor.ohm")
    if isinstance(found, str):
        return not_measured(found)
    nulled = s.yes("run.protective_conductor.are_leads_nulled")
    place = s.choice("run.protective_conductor.place")
    if place is None:
        return not_measured("Say where the lead begins: ground bar or closed panel", limits)
    if ohm is None or nulled is None:
        return not_measured("Measure from the panel to the outlet's ground", limits)
    if not nulled:
        return not_measured("The reading holds the leads as well: null them and repeat", limits)
    limit, expected = found
    # the limit follows the length, so the length's uncertainty is carried by the value
    value = ohm - (expected - nominal(expected))
    judged = compare(
        value,
        "Ω",
        (limit,),
        explanation=f"{nominal(ohm):.3f} Ω from {FROM[place]} to outlet; the metal of this length "
        f"explains {nominal(expected):.3f} Ω",
        why=SHOCK,
        remedy=REMAKE,
        severity=Severity.WARNING,
        settles=LOW_OHMS,
    )
    is_armor = s.choice("run.grounding_conductor.kind") == "armor"
    return _beyond_copper(judged) if is_armor and judged.verdict is Verdict.OUTSIDE else judged


def _beyond_copper(judged: Judgement) -> Judgement:
    """Return what is open where armor resists more than the copper it stands for: it may."""
    return unsettled(
        judged.explanation,
        "Hold it against what the cable's maker says its armor and strip have on this length",
        why=SHOCK,
        remedy=REMAKE,
        limits=judged.limits,
    ).model_copy(update={"measured": judged.measured, "telling": judged.telling})


def _judge_open(limits: tuple[Limit, ...]) -> Judgement:
    judged = seen(
        False,
        explanation="No continuity from the panel to the outlet's ground",
        source=JOINT_ALLOWANCE,
        why=SHOCK,
        remedy=REMAKE,
        severity=Severity.DANGER,
    )
    return judged.model_copy(update={"limits": limits})


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
    Check(
        id=OHM_CHECK,
        title="Protective conductor, ohms",
        quantity="Grounding",
        how="Dead, locked and proved. Null the leads. Measure by a long lead from the panel to the "
        "grounding contact or terminal of the outlet: from its ground bar, or with the panel "
        "closed from bare metal of its enclosure. A water pipe or rod is no place for the lead.",
        inputs=(
            Choice(
                "place",
                "The lead begins at",
                options=(
                    Option("panel", "Ground bar, panel dead", needs=(INSIDE,)),
                    Option(
                        "closed",
                        "Enclosure, panel closed",
                        "Bare metal: a cover screw, not paint",
                    ),
                ),
            ),
            YesNo("are_leads_nulled", "Leads nulled", good=True),
            Choice(
                "reading",
                "Meter",
                options=(Option("value", "Shows a value"), Option("open", "Over range")),
            ),
            Measurement(
                "ohm",
                "Resistance",
                dimension=Dimension.RESISTANCE,
                units=("Ω", "mΩ"),
                plausible=(0.005, 2.0),
                instruments=(InstrumentKind.LOW_OHM, InstrumentKind.MULTIMETER),
                category=Category.CAT_III,
                access_point="from where the lead begins to ground of the outlet",
                against=EVERY,
                when=When("reading", ("value",)),
            ),
        ),
        judge=_judge_ohm,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        cautions=(BESIDE_BUS,),
    ),
)
