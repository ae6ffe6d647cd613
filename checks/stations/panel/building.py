"""A panel that something else feeds: the ground of its feeder by size, and its own building."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    CircuitState,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.grounding import grounding_size
from checks.errors import ChecksError
from checks.source import trade
from checks.stations.observing import BESIDE_BUS, INSIDE, Sign, signs_of
from checks.stations.panel.feeder import PULL_FIRST, TRANSFORMER
from checks.stations.run.grounding import area_m2, size_limit
from checks.stations.run.wiring import MATERIAL_OPTIONS, SIZE_OPTIONS
from checks.verdict import Judgement, Severity, Verdict

GROUND_CHECK: Final = "panel.feeder_ground"
BUILDING: Final = "panel.separate_building"
IN_ITS_OWN: Final = When("is_separate", ("yes",))
DERIVED: Final = trade(
    "the ground that comes with a transformer goes by the conductors behind it, not by a breaker"
)
ENLARGED: Final = "what was enlarged for length asks for a ground enlarged as much"


def _fed_only(s: Situation) -> str:
    return "this panel is the service equipment" if s.panel.is_service_equipment else ""


def _by_wire_only(s: Situation) -> str:
    is_wire = s.choice("panel.neutral_bond.ground") == "wire"
    return _fed_only(s) or ("" if is_wire else "no grounding wire of a feeder is recorded")


def _is_ahead_here(s: Situation) -> bool:
    """Return whether a main in this panel hides the feeder's own breaker from its rating."""
    return s.choice("panel.rating.ahead") == "main"


def _feeder_breaker_a(s: Situation) -> float | None:
    if _is_ahead_here(s):
        return s.rating(f"{GROUND_CHECK}.breaker_a")
    is_feeder = s.choice("panel.rating.ahead") == "feeder"
    return s.rating("panel.rating.main_a") if is_feeder else None


def _judge_ground_size(s: Situation) -> Judgement:
    if s.choice("panel.neutral_bond.fed") == TRANSFORMER:
        return unsettled(
            "A ground that comes with a transformer goes by the size of the conductors behind it, "
            "not by a breaker",
            "Hold it against the code's table of supply-side bonding jumpers, which is not kept "
            "here",
            severity=Severity.NOTICE,
            sources=(DERIVED,),
        )
    breaker_a, material = _feeder_breaker_a(s), s.choice(f"{GROUND_CHECK}.material")
    if breaker_a is None:
        return not_measured("Record what is ahead of the bus at the panel's rating first")
    try:
        needed = grounding_size(s.code, breaker_a, material or "copper")
    except ChecksError as error:
        return not_measured(f"{error.problem}. {error.remedy}")
    limit = size_limit(needed, material or "copper")
    size, is_enlarged = s.choice(f"{GROUND_CHECK}.size"), s.yes(f"{GROUND_CHECK}.is_enlarged")
    if size is None or material is None or is_enlarged is None:
        return not_measured(
            f"By a feeder breaker of {breaker_a:g} A at least {limit.amount.of}",
            (limit,) if material else (),
        )
    judged = compare(
        area_m2(size),
        "mm²",
        (limit,),
        explanation=f"The feeder's ground is {size} {material}; its breaker of {breaker_a:g} A "
        f"asks for {limit.amount.of} or larger",
        why="A grounding conductor that is too small may burn open before the breaker trips",
        remedy=PULL_FIRST,
        severity=Severity.WARNING,
        telling=size,
        working=needed.working,
        sources=needed.sources,
    )
    if judged.verdict is Verdict.OUTSIDE or not is_enlarged:
        return judged
    return unsettled(
        f"{judged.explanation}; {ENLARGED}",
        "Reckon it in proportion to the areas of the feeder's conductors, as installed and as "
        "needed",
        limits=(limit,),
        sources=needed.sources,
    )


SIGNS: Final = (
    Sign(
        YesNo("has_electrode", "Grounding electrode there", good=True, when=IN_ITS_OWN),
        trade(
            "a separate building that a feeder supplies has a grounding electrode, as NEC "
            "250.32(A) has it"
        ),
        "No grounding electrode is connected at the separate building",
        "Lightning and a fault of the line above lift everything metal in the building",
        "Have an electrode system connected to the panel's ground bar; it replaces no grounding "
        "conductor of the feeder",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("has_disconnect", "Disconnect at the building", good=True, when=IN_ITS_OWN),
        trade("what supplies a separate building can be switched off there, as NEC 225.31 has it"),
        "Nothing at the separate building switches off what feeds it",
        "In a fire or a fault nobody there can switch it off",
        "Have a disconnect fitted at the building, readily accessible",
        Severity.CAUTION,
    ),
)


def _judge_building(s: Situation) -> Judgement:
    is_separate = s.yes(f"{BUILDING}.is_separate")
    if is_separate is None:
        return not_measured("Say whether the panel stands in a building of its own")
    if not is_separate:
        return seen(
            True,
            explanation="The panel stands in the building of the service",
            source=trade("within one building the electrode and disconnect of the service serve"),
        )
    return together(
        signs_of(s, BUILDING, SIGNS), good="The separate building has electrode and disconnect"
    )


CHECKS: Final = (
    Check(
        id=BUILDING,
        title="Separate building",
        how="See whether the panel stands in another building than the service; where it does, "
        "look for its grounding electrode and for what switches the building off.",
        inputs=(
            YesNo("is_separate", "In a separate building"),
            *(sign.input for sign in SIGNS),
        ),
        judge=_judge_building,
        applies=_fed_only,
        no_limit_because="an electrode or a disconnect is there or not, with no number to it",
    ),
    Check(
        id=GROUND_CHECK,
        title="Ground of the feeder, size",
        how="With the panel's bus proved dead read the print on the grounding wire that comes with "
        "the feeder, where it lands on the ground bar.",
        inputs=(
            Rating("breaker_a", "Feeder's breaker", plausible=(15.0, 800.0), where=_is_ahead_here),
            Choice("size", "Size", options=SIZE_OPTIONS),
            Choice("material", "Metal", options=MATERIAL_OPTIONS),
            YesNo(
                "is_enlarged",
                "Feeder enlarged for length",
                good=False,
                says=("Enlarged", "Not enlarged"),
                help="Its lines larger than its breaker asks for",
            ),
        ),
        judge=_judge_ground_size,
        state=CircuitState.DEAD,
        opens=True,
        needs=(INSIDE,),
        applies=_by_wire_only,
        cautions=(BESIDE_BUS,),
    ),
)
