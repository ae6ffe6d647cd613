"""What the run passes through: sun, walls that hold fire back, joints that move; its colors."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    seen,
    together,
)
from checks.electrical.conductor import SIZES
from checks.record import VisitKind
from checks.source import trade
from checks.stations.observing import Sign, rule_source, signs_of
from checks.stations.run.wiring import method
from checks.verdict import Judgement, Severity

WORK: Final = (VisitKind.COMMISSIONING, VisitKind.SITE_RECORD)
CHECK: Final = "run.passage"
SUN: Final = trade("plastic and jackets in the sun are marked sunlight resistant")
SUNNY: Final = YesNo("is_in_sun", "Any part in the sun")
SUN_SIGN: Final = Sign(
    YesNo("is_sun_marked", "Marked for sunlight", good=True, when=When("is_in_sun", ("yes",))),
    SUN,
    "What lies in the sun is not marked for it",
    "Sun makes plastic brittle, and it cracks at the first blow",
    "Sleeve it, or replace that part with what is marked for sunlight",
    Severity.CAUTION,
)
FIRE: Final = YesNo("is_through_rated", "Through a fire-rated wall")
FIRE_SIGN: Final = Sign(
    YesNo(
        "is_sealed",
        "Opening sealed again",
        good=True,
        when=When("is_through_rated", ("yes",)),
        help="Garage separation, fire wall, ceiling membrane: by a listed method",
    ),
    "fire-stopping",
    "An opening through a fire-rated wall or ceiling is not sealed",
    "Fire and smoke go through it into the rooms beside and above",
    "Seal it with a listed system for that wall and that raceway",
    Severity.WARNING,
)
JOINT: Final = YesNo("crosses_joint", "Across a joint that moves")
JOINT_SIGN: Final = Sign(
    YesNo(
        "has_expansion",
        "Expansion fitting there",
        good=True,
        when=When("crosses_joint", ("yes",)),
        help="Expansion or seismic joint of a building, long plastic conduit in the sun, ground "
        "that settles",
    ),
    trade("a raceway across a joint that moves, or in ground that settles, is able to give"),
    "The run crosses a joint that moves, without a fitting that gives",
    "Conduit is pulled out of its boxes, and the conductors carry the strain",
    "Dead and locked: fit an expansion or deflection fitting",
    Severity.CAUTION,
)
PAIRS: Final = ((FIRE, FIRE_SIGN), (JOINT, JOINT_SIGN))


def _sun(s: Situation) -> tuple[Judgement, ...]:
    sunny, known = s.yes("run.passage.is_in_sun"), method(s)
    if sunny is None:
        return (not_measured("Still open: any part in the sun", sources=(SUN,)),)
    if not sunny or (known is not None and known.is_sunproof):
        return ()
    if known is not None and known.dry is not None:
        return (
            seen(
                False,
                explanation=f"{known.words} lies in the open",
                source=known.dry,
                why="It bears neither sun nor rain",
                remedy="Replace that part with a wiring method for the open",
            ),
        )
    return signs_of(s, CHECK, (SUN_SIGN,))


def _judge(s: Situation) -> Judgement:
    parts = list(_sun(s))
    for question, sign in PAIRS:
        answer = s.yes(f"{CHECK}.{question.name}")
        if answer is None:
            parts.append(not_measured(f"Still open: {question.label}"))
        elif answer:
            parts += signs_of(s, CHECK, (sign,))
    good = "The run suits what it passes through"
    return together(parts, good=good) if parts else _nothing(good)


def _nothing(good: str) -> Judgement:
    return seen(True, explanation=good, source=trade("neither sun, fire walls nor moving joints"))


COLORS: Final = "run.identification"
ENDS: Final = "ends"
RIGHT: Final = "color"
# From this size on a conductor may be identified at its ends alone (NEC 200.6, 250.119).
ENDS_FROM: Final = "4 AWG"
TOLD: Final = {
    RIGHT: "told by its color",
    ENDS: "marked at its ends",
    "none": "no such wire here",
    "wrong": "not told by its color",
}


def _judge_color(s: Situation, name: str, size: str | None) -> Judgement:
    source, conductor = rule_source(s, "identification"), name.capitalize()
    said = s.choice(f"{COLORS}.{name}")
    if said is None:
        return not_measured(f"Still open: {name}", sources=(source,))
    if said == ENDS and size is None:
        return not_measured("Record the conductor's size first", sources=(source,))
    is_small = said == ENDS and size in SIZES and SIZES.index(size) < SIZES.index(ENDS_FROM)
    told = f"{size}, marked at its ends only" if is_small else TOLD[said]
    return seen(
        said != "wrong" and not is_small,
        explanation=f"{conductor}: {told}",
        source=source,
        why="Who works here next takes a line for a neutral or a ground",
        remedy="Dead and locked: identify it as its size allows, or replace it",
        severity=Severity.CAUTION,
    )


def _judge_colors(s: Situation) -> Judgement:
    neutral = _judge_color(s, "neutral", s.choice("run.conductor.size"))
    ground = _judge_color(s, "ground", s.choice("run.grounding_conductor.size"))
    return together((neutral, ground))


CHECKS: Final = (
    Check(
        id=CHECK,
        title="What it passes through",
        how="Walk the run again with the building in mind: sun, fire-rated walls, joints.",
        inputs=(SUNNY, SUN_SIGN.input, FIRE, FIRE_SIGN.input, JOINT, JOINT_SIGN.input),
        judge=_judge,
        kinds=WORK,
    ),
    Check(
        id=COLORS,
        cautions=(
            Caution(
                Severity.WARNING,
                "Only in a box that is proved dead and locked; touch no other circuit's wires.",
            ),
        ),
        title="Colors of the conductors",
        how="In the opened box at the outlet, look at neutral and equipment grounding conductor.",
        inputs=(
            Choice(
                "neutral",
                "Neutral",
                options=(
                    Option(RIGHT, "White or gray throughout"),
                    Option(ENDS, "Marked at its ends"),
                    Option("none", "No neutral here"),
                    Option("wrong", "Another color, unmarked"),
                ),
            ),
            Choice(
                "ground",
                "Ground",
                options=(
                    Option(RIGHT, "Bare or green throughout"),
                    Option(ENDS, "Marked at its ends"),
                    Option("none", "Raceway, no wire"),
                    Option("wrong", "Another color, unmarked"),
                ),
            ),
        ),
        judge=_judge_colors,
        state=CircuitState.DEAD,
        opens=True,
        kinds=WORK,
    ),
)
