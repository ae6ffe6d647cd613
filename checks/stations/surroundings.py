"""The surroundings of a charging point and what is checked there."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.record import ChargerForm
from checks.source import trade
from checks.stations.circuit_facts import OUTDOORS, is_dwelling
from checks.stations.observing import Sign, signs_of
from checks.verdict import Judgement, Severity

# What a code distinguishes; the identities are those its ground-fault rules are written with.
LOCATIONS: Final = (
    Option("garage", "Garage"),
    Option("outdoors", "Outdoors"),
    Option("accessory building", "Shed or other outbuilding"),
    Option("basement", "Basement"),
    Option("laundry area", "Laundry area"),
    Option("damp or wet indoors", "Damp or wet room"),
    Option("service bay", "Service bay, repair garage"),
    Option("rooftop", "Rooftop, open parking deck"),
    Option("dry indoors", "Dry room"),
)
HAZARDS: Final = {
    "none": "None near",
    "fuel": "Fuel dispensing",
    "gas": "Gas meter, regulator or vent",
    "vapor": "Paint, solvents, vapors",
}
SPACES: Final = {
    "outside": "Outside, as drawn or ruled",
    "inside": "Inside",
    "unknown": "Not known yet",
}
SETTLED: Final = trade(
    "an area drawing, the authority having jurisdiction or an engineer says how far a classified "
    "space reaches"
)
WEATHER: Final = trade("in the open nothing stays dry; under a roof it is damp at best")


def _weather(place: str, wetness: str) -> Judgement:
    is_odd = (place in OUTDOORS and wetness == "dry") or (
        place == "damp or wet indoors" and wetness == "dry"
    )
    if is_odd:
        return unsettled(
            f"{place.capitalize()}, and yet dry",
            "Look where rain, spray and condensation reach it, and record damp or wet",
            sources=(WEATHER,),
        )
    return seen(True, explanation=f"{place.capitalize()}, {wetness}", source=WEATHER)


def _hazard(s: Situation, hazard: str) -> Judgement:
    """Judge what is flammable near: only who decides on it says that a place lies outside."""
    if hazard == "none":
        source = trade("no source of flammable gas or vapor in reach")
        return seen(True, explanation="Nothing flammable near", source=source)
    near, space = HAZARDS[hazard], s.choice("surroundings.place.space")
    if space == "outside":
        words = f"{near} near; the charging point lies outside its classified space"
        return seen(True, explanation=words, source=SETTLED)
    is_inside = space == "inside"
    return seen(
        False,
        explanation=f"{near} near; the charging point lies inside its classified space"
        if is_inside
        else f"{near} near; how far its classified space reaches is not known",
        source=s.code.installation.seen["classified place"].source,
        why="A contact that opens under load, or a switch, ignites gas and vapor",
        remedy="Energise nothing and do not charge there, and have what is live switched off from "
        "where no gas or vapor is; have the charger moved out of that space"
        if is_inside
        else "Energise nothing and do not charge there until an area drawing, the authority having "
        "jurisdiction or an engineer says that it lies outside the classified space",
        severity=Severity.WARNING,
    )


def _judge_place(s: Situation) -> Judgement:
    place = s.choice("surroundings.place.location")
    wetness = s.choice("surroundings.place.wetness")
    hazard = s.choice("surroundings.place.hazard")
    parts = []
    if place is not None and wetness is not None:
        parts.append(_weather(place, wetness))
    if hazard is not None:
        parts.append(_hazard(s, hazard))
    if place is None or wetness is None or hazard is None:
        parts.append(not_measured("Place, wetness and hazards near decide what is asked here"))
    return together(parts)


def _fixed_only(s: Situation) -> str:
    fixed = s.point.charger_form is ChargerForm.FIXED
    return "" if fixed else "a cord set hangs where it is used"


def _judge_impact(s: Situation) -> Judgement:
    rule = s.code.installation.seen["vehicle impact"]
    exposed = s.yes("surroundings.vehicle_impact.is_exposed")
    guard = s.choice("surroundings.vehicle_impact.guard")
    if exposed is None or (exposed and guard is None):
        return not_measured("Whether a vehicle can hit it, and what guards it, is missing")
    if not exposed or guard != "none":
        words = "No vehicle can reach it" if not exposed else f"Guarded by {guard}"
        return seen(
            True, explanation=words, source=trade("a guard that stops a vehicle at walking pace")
        )
    return seen(
        False,
        explanation="A vehicle can hit it, and nothing guards it",
        source=rule.source,
        why="A hit charger stands there with live conductors torn loose",
        remedy="Fit a bollard or wheel stop, or move it out of the way"
        if not is_dwelling(s)
        else "Fit a wheel stop or post, or mount it above bumper height beside the lane",
        severity=Severity.CAUTION,
    )


REACH_SIGNS: Final = (
    Sign(
        YesNo("is_reached", "Reaches without strain", good=True, says=("No strain", "Strained")),
        trade("a cable that hangs tight pulls the connector out of its seat"),
        "The cable reaches the inlet only under strain",
        "A pulled connector touches on part of its contacts and overheats",
        "Park the other way round, or have charger or holder moved",
        Severity.CAUTION,
    ),
    Sign(
        YesNo(
            "is_crossing", "Lies across a way", good=False, says=("Across a way", "Clear of ways")
        ),
        trade("a cable across a way is tripped over and driven over"),
        "The cable lies across a walkway or lane",
        "Someone trips, and a cable that is driven over breaks inside",
        "Lead it overhead or along the wall, or have the charger moved",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_coiled", "Left coiled while charging", good=False, says=("Coiled", "Laid out")),
        trade("a coil under load cannot shed its heat"),
        "The cable is left coiled while charging",
        "A coiled cable overheats at a current that it carries laid out",
        "Lay it out loosely before charging",
        Severity.CAUTION,
    ),
)


def _judge_reach(s: Situation) -> Judgement:
    signs = REACH_SIGNS if s.point.may_have_vehicle else REACH_SIGNS[1:]
    return together(
        signs_of(s, "surroundings.reach", signs), good="The cable reaches, and lies in no way"
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="surroundings.place",
        title="Place",
        how="See where the charging point is, how wet it gets, and what flammable is near.",
        inputs=(
            Choice("location", "Where", options=LOCATIONS),
            Choice(
                "wetness",
                "How wet",
                options=(
                    Option("dry", "Dry"),
                    Option("damp", "Damp, under a roof"),
                    Option("wet", "Wet, rain or spray"),
                ),
            ),
            Choice(
                "hazard",
                "Flammables near",
                options=tuple(Option(value, label) for value, label in HAZARDS.items()),
            ),
            Choice(
                "space",
                "Against its classified space",
                options=tuple(Option(value, label) for value, label in SPACES.items()),
                when=When("hazard", tuple(h for h in HAZARDS if h != "none")),
                help="How far it reaches stands on an area drawing, or the authority having "
                "jurisdiction or an engineer says it. The eye does not tell.",
            ),
        ),
        judge=_judge_place,
        gates=True,
        no_limit_because="it is what other checks compute their limits from",
    ),
    Check(
        id="surroundings.vehicle_impact",
        title="Guard against vehicles",
        how="Follow the wheels: can a vehicle that misses the brake hit charger, box or panel?",
        inputs=(
            YesNo(
                "is_exposed",
                "A vehicle can hit it",
                good=False,
                says=("Can be hit", "Out of reach"),
            ),
            Choice(
                "guard",
                "Guarded by",
                options=(
                    Option("bollard", "Bollard or post"),
                    Option("wheel stop", "Wheel stop or curb"),
                    Option("height", "Height or a wall"),
                    Option("none", "Nothing"),
                ),
                when=When("is_exposed", ("yes",)),
            ),
        ),
        judge=_judge_impact,
        applies=_fixed_only,
        no_limit_because="a guard is there or not, with no number to hold it against",
    ),
    Check(
        id="surroundings.reach",
        touches=True,
        title="Reach and way of the cable",
        how="Lead the cable to the inlet as it is used every day.",
        inputs=tuple(sign.input for sign in REACH_SIGNS),
        judge=_judge_reach,
    ),
)
