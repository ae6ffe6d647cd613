"""The terminals inside the panel: what is burnt and where, what moves, what shares a screw."""

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
    unsettled,
)
from checks.record import VisitKind
from checks.stations.observing import BESIDE_BUS, INSIDE, SEEN, Sign, rule_source, signs_of
from checks.verdict import Judgement, Severity

TERMINALS: Final = "panel.terminals"


def _is_call(s: Situation) -> bool:
    """Return whether what is in use is looked at, and not what was just tightened."""
    return s.visit.kind is VisitKind.SERVICE_CALL


def _is_fed_call(s: Situation) -> bool:
    """Return whether the lugs can be dead: those of service equipment stay live."""
    return _is_call(s) and not s.panel.is_service_equipment


NEUTRALS: Final = Choice(
    "neutrals",
    "Neutrals tried by hand",
    options=(
        Option("tried", "Tried", "Each clamped first, none carries current"),
        Option("left", "Not tried"),
    ),
    where=_is_call,
    help="Of the branch circuits only, not the service's or the feeder's",
)
FEEDER: Final = Choice(
    "feeder",
    "Feeder at its lugs",
    options=(
        Option("dead", "Proved dead at the lugs", "Off and locked at its source"),
        Option("live", "Not off at its source", "The lugs are not touched"),
    ),
    where=_is_fed_call,
    help="A main that is off in here leaves its lugs live: bus dead says nothing of them",
)
SIGNS: Final = (
    Sign(
        YesNo(
            "has_heat_marks",
            "Heat marks on bus or lugs",
            good=False,
            says=SEEN,
            help="At breaker terminals and the neutral bar as well",
        ),
        "integrity",
        "Bus, lugs or terminals show heat marks",
        "A joint has burnt there, and a charger's long load feeds it",
        "Keep the panel dead; have the burnt part and what was in it replaced",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_neutral_loose",
            "A neutral moves by hand",
            good=False,
            says=("Moves", "Held firm"),
            where=_is_call,
            when=When("neutrals", ("tried",)),
            help="Bus proved dead: hold each beside its screw; turn no screw",
        ),
        "torque",
        "A neutral moves in its terminal",
        "It burns its bar under load, and once it lets go puts up to 240 V on 120 V equipment",
        "Keep the panel dead; cut the wire back to sound metal, land it anew and tighten it to its "
        "label; replace a bar or screw that is burnt",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_lug_loose",
            "A feeder lug moves by hand",
            good=False,
            says=("Moves", "Held firm"),
            where=_is_fed_call,
            when=When("feeder", ("dead",)),
            help="Hold each beside its screw; turn no screw",
        ),
        "torque",
        "A feeder conductor moves in its lug",
        "All that the panel feeds heats this joint, the charger for hours",
        "Keep the panel dead; cut the conductor back to sound metal, land it anew and tighten it "
        "to its label; replace a lug that is burnt by the maker's part",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_double_tapped",
            "Two wires under one terminal",
            good=False,
            says=("Two wires", "One each"),
        ),
        "one conductor",
        "Two conductors share a terminal that is not identified for two",
        "Neither is held well, and one worked on loosens the other",
        "Dead and locked: give each conductor a terminal of its own, or a listed pigtail",
        Severity.CAUTION,
    ),
    Sign(
        YesNo(
            "is_neutral_shared",
            "Two neutrals under one screw",
            good=False,
            says=("Two neutrals", "One each"),
        ),
        "one conductor",
        "Two neutrals share a screw",
        "A neutral that lets go puts up to 240 V on 120 V equipment",
        "Dead and locked: give each neutral a screw of its own",
        Severity.WARNING,
    ),
)

# By the place of the deepest mark: what is said, and what is done about it.
PLACES: Final = {
    "breaker": (
        "The deepest mark is at a breaker's terminal",
        "Replace that breaker by one listed for the panel, and cut its wire back to sound metal",
    ),
    "bus": (
        "The deepest mark is where a breaker sits on the bus",
        "Keep the panel dead; replace breaker and burnt bus together, by the panel maker's part; "
        "nothing is filed clean, and no breaker goes on a burnt stab again",
    ),
    "neutral": (
        "The deepest mark is at the neutral bar",
        "Replace the burnt bar by the panel maker's part, and cut each wire back to sound metal",
    ),
    "main": (
        "The deepest mark is at the main or feeder lugs",
        "Have the supply cut off ahead of them, at service equipment by the utility; then replace "
        "lugs or main by the maker's part",
    ),
    "other": (
        "The deepest mark is elsewhere in the panel",
        "Find whose circuit it is, keep it off and locked as well, and replace what is burnt",
    ),
}


LEFT: Final = {
    "is_neutral_loose": (
        NEUTRALS,
        "tried",
        "No neutral was tried by hand",
        "Have each neutral tightened to its label with the panel dead",
    ),
    "is_lug_loose": (
        FEEDER,
        "dead",
        "The feeder is not off at its source: its lugs were not tried",
        "Have the feeder switched off and locked at its source, and its lugs proved dead",
    ),
}


def _tried(s: Situation, sign: Sign) -> tuple[Judgement, ...]:
    """Return what a sign says; where it takes a hand, that none was laid on is no good sign."""
    name = sign.input.name
    if name not in LEFT or not sign.input.where(s):
        return signs_of(s, TERMINALS, (sign,))
    asked, tried, words, settles = LEFT[name]
    said = s.choice(f"{TERMINALS}.{asked.name}")
    is_answered = s.yes(f"{TERMINALS}.{name}") is not None
    if said == tried or (said is None and is_answered):  # a record from before it was asked
        return signs_of(s, TERMINALS, (sign,))
    source = (rule_source(s, sign.rule),)
    if said is None:
        return (not_measured(f"Still open: {asked.label}", sources=source),)
    return (unsettled(words, settles, severity=Severity.NOTICE, sources=source),)


def _judge(s: Situation) -> Judgement:
    parts = tuple(part for sign in SIGNS for part in _tried(s, sign))
    place = s.choice(f"{TERMINALS}.place")
    if place is not None:
        words, remedy = PLACES[place]
        burnt = seen(
            False,
            explanation=words,
            source=rule_source(s, "integrity"),
            why=SIGNS[0].why,
            remedy=remedy,
            severity=Severity.DANGER,
        )
        parts = (parts[0], burnt, *parts[1:])
    return together(parts, good="No heat marks, one conductor a terminal")


CHECKS: Final = (
    Check(
        id=TERMINALS,
        title="Terminals, double taps",
        how="Look at bus and lugs, at each breaker terminal and at the neutral bar; turn nothing. "
        "Where the panel may not be off, leave this out and say why. What stays live behind its "
        "barriers is looked at from outside them, and not touched.",
        inputs=(
            SIGNS[0].input,
            Choice(
                "place",
                "Deepest mark",
                options=(
                    Option("breaker", "At a breaker's terminal"),
                    Option("bus", "Where it sits on the bus"),
                    Option("neutral", "At the neutral bar"),
                    Option("main", "At main or feeder lugs"),
                    Option("other", "Elsewhere in the panel"),
                ),
                when=When("has_heat_marks", ("yes",)),
            ),
            NEUTRALS,
            SIGNS[1].input,
            FEEDER,
            *(sign.input for sign in SIGNS[2:]),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        needs=(INSIDE,),
        cautions=(
            BESIDE_BUS,
            Caution(
                Severity.DANGER,
                "A neutral may carry current of another circuit though the bus is dead: clamp it "
                "first, and never move one that does, nor the neutral of service or feeder.",
            ),
        ),
        no_limit_because="what is seen has no number; the rule is the code's own words",
    ),
)
