"""The charger's plate and its setting, against circuit, receptacle and place."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    When,
    Words,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.circuit import largest_charger_a
from checks.codes.receptacle import plug_load_limit_a
from checks.source import Basis, Source
from checks.stations.circuit_facts import OUTDOORS, breaker_a, location
from checks.stations.observing import rule_source
from checks.stations.outlet.where import is_receptacle, kind
from checks.verdict import Force, Judgement, Limit, Severity, at_most

# Enclosure types, and how wet the places may be that each is made for.
ENCLOSURES: Final = {
    "type_1": ("dry",),
    "type_2": ("dry", "damp"),
    "type_3r": ("dry", "damp", "wet"),
    "type_4": ("dry", "damp", "wet"),
}
INDOORS: Final = ("type_1", "type_2")
NEMA_250: Final = Source(document="NEMA 250", clause="enclosure types", basis=Basis.COMMON_PRACTICE)


# What the plate may say of the supply, and the nominal volts that it is made for.
SUPPLIES: Final = {
    "120": (120,),
    "208": (208,),
    "240": (240,),
    "208-240": (208, 240),
    "120-240": (120, 208, 240),
}


def _supply(s: Situation) -> Judgement:
    rule = s.code.installation.seen["listed use"]
    volts, here_v = s.choice("charger.nameplate.volts"), s.point.nominal_v
    if volts is None:
        return not_measured("The rated volts are missing", sources=(rule.source,))
    return seen(
        here_v in SUPPLIES[volts],
        explanation=f"Made for {volts} V, at a {here_v} V outlet",
        source=rule.source,
        why="On the wrong voltage it fails, or burns",
        remedy="Do not energize it here; install one that is made for this supply",
    )


def _listing(s: Situation) -> Judgement:
    listed = s.yes("charger.nameplate.is_listed")
    rule = s.code.installation.seen["listed charger"]
    if listed is None:
        return not_measured("The listing mark has not been looked for", sources=(rule.source,))
    return seen(
        listed,
        explanation="The listing mark of a recognized laboratory is on it"
        if listed
        else "No listing mark of a recognized laboratory is on it",
        source=rule.source,
        why="Its ground-fault and heat protection was never tested by an independent laboratory",
        remedy="Take it out of use; install a listed charger",
    )


def _enclosure(s: Situation) -> Judgement:
    enclosure, place = (
        s.choice("charger.nameplate.enclosure"),
        s.choice("surroundings.place.wetness"),
    )
    if enclosure is None or place is None:
        missing = "The enclosure type" if enclosure is None else "The wetness of the place"
        return not_measured(f"{missing} is missing")
    if enclosure == "unmarked":
        return unsettled(
            f"No enclosure type is marked, in a {place} place",
            "Read the instructions for the places it is made for",
            sources=(NEMA_250,),
        )
    indoors = _indoors_only(s, enclosure)
    if indoors is not None:
        return indoors
    return seen(
        place in ENCLOSURES[enclosure],
        explanation=f"Enclosure {_words(enclosure)} in a {place} place",
        source=NEMA_250,
        why="Water gets in and bridges live parts",
        remedy="Move it to a dry place, or install one whose enclosure is made for this place",
        severity=Severity.WARNING if place == "wet" else Severity.CAUTION,
    )


def _indoors_only(s: Situation, enclosure: str) -> Judgement | None:
    """Return what is to say where an enclosure made for indoors is not surely there."""
    place = location(s)
    if enclosure not in INDOORS or (place is not None and place not in OUTDOORS):
        return None
    if place is None:
        return not_measured("Where it is, is missing", sources=(NEMA_250,))
    return seen(
        False,
        explanation=f"Enclosure {_words(enclosure)} is made for indoors and stands outdoors",
        source=NEMA_250,
        why="Driven rain, sun and condensation get in and bridge live parts, roof or not",
        remedy="Keep it off; move it indoors, or install one whose enclosure is made for outdoors",
    )


def _words(enclosure: str) -> str:
    return enclosure.replace("_", " ").replace("3r", "3R")


def _judge_nameplate(s: Situation) -> Judgement:
    rated_a = s.rating("charger.nameplate.rated_a")
    parts = [_listing(s), _supply(s), _enclosure(s)]
    if rated_a is None:
        parts.append(not_measured("The rated current is missing"))
    return together(parts, good=f"Listed, {rated_a or 0:g} A, enclosure fit for the place")


def _setting_limits(s: Situation) -> tuple[Limit, ...]:
    limits = []
    rated_a, amps, found = s.rating("charger.nameplate.rated_a"), breaker_a(s), kind(s)
    if amps is not None:
        limits.append(largest_charger_a(s.code, amps).at_most("A", of="by the breaker"))
    if amps is not None and found is not None and is_receptacle(s):
        plug = plug_load_limit_a(s.code, found.name, amps)
        limits.append(plug.at_most("A", of="by the receptacle"))
    if rated_a is not None:
        source = rule_source(s, "listed use")
        limits.append(at_most(rated_a, "A", Force.LISTING, source, of="by the nameplate"))
    return tuple(limits)


ACCESS: Final = {
    "tool": "behind a cover that a tool opens",
    "locked": "behind a lock",
    "password": "behind a password for the installer",
    "open": "open to anyone",
}


def _missing(s: Situation) -> str:
    lacking: dict[str, object] = {
        "its setting": s.rating("charger.configuration.configured_a"),
        "who may change it": s.choice("charger.configuration.access"),
        "the rated current, at its nameplate": s.rating("charger.nameplate.rated_a"),
        "the breaker's rating, at the breaker": breaker_a(s),
    }
    if is_receptacle(s):
        lacking["the receptacle, at the outlet"] = kind(s)
    return ", ".join(words for words, value in lacking.items() if value is None)


def _setting(s: Situation, amps: float, limits: tuple[Limit, ...]) -> Judgement:
    breaker = breaker_a(s)
    is_over = breaker is not None and amps > breaker
    return compare(
        amps,
        "A",
        limits,
        explanation=f"Set to {amps:g} A",
        why="Charging lasts for hours: breaker, conductors and contacts are sized for a quarter "
        "more than the current",
        remedy="Stop charging, and have it set to the lowest of these limits",
        severity=Severity.DANGER if is_over else Severity.WARNING,
        of="setting",
    )


def _kept(s: Situation, configured_a: float, rated_a: float, access: str) -> list[Judgement]:
    """Judge what keeps a setting below the nameplate where it is."""
    rule = s.code.installation.seen["adjusted rating"]
    if configured_a >= rated_a or access == "fixed":
        return []
    labelled = s.yes("charger.configuration.is_label_adjusted")
    parts = [
        seen(
            access != "open",
            explanation=f"The setting is {ACCESS[access]}",
            source=rule.source,
            why=f"Set back to {rated_a:g} A by anyone, it overloads a circuit made for "
            f"{configured_a:g} A",
            remedy="Restrict access to the setting, or size the circuit for the nameplate",
        )
    ]
    if labelled is None:
        parts.append(not_measured("Whether the label shows the adjusted rating is missing"))
    else:
        parts.append(
            seen(
                labelled,
                explanation="The label shows the adjusted rating"
                if labelled
                else "The label does not show the adjusted rating",
                source=rule.source,
                why="The next one to work on it trusts the label",
                remedy="Mark the adjusted rating durably on the label",
                severity=Severity.CAUTION,
            )
        )
    return parts


def _judge_configuration(s: Situation) -> Judgement:
    limits, missing = _setting_limits(s), _missing(s)
    configured_a = s.rating("charger.configuration.configured_a")
    access = s.choice("charger.configuration.access")
    rated_a = s.rating("charger.nameplate.rated_a")
    parts = []
    if configured_a is not None and limits:
        parts.append(_setting(s, configured_a, limits))
    if configured_a is not None and rated_a is not None and access is not None:
        parts += _kept(s, configured_a, rated_a, access)
    if missing:
        parts.append(not_measured(f"Missing: {missing}", limits))
    judged = together(parts)
    return (
        judged
        if configured_a is None
        else judged.model_copy(update={"telling": f"{configured_a:g} A"})
    )


def _amps(name: str, label: str, against: tuple[str, ...] = ()) -> Rating:
    return Rating(name, label, plausible=(6.0, 80.0), against=against)


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.nameplate",
        title="Nameplate and listing",
        how="Read the plate and photograph it: current, volts, listing mark, serial, enclosure.",
        inputs=(
            _amps("rated_a", "Rated current"),
            Choice(
                "volts",
                "Rated volts",
                options=tuple(Option(volts, f"{volts} V") for volts in SUPPLIES),
            ),
            YesNo("is_listed", "Listing mark seen", good=True),
            Choice(
                "enclosure",
                "Enclosure type",
                options=(
                    Option("type_1", "Type 1, indoors"),
                    Option("type_2", "Type 2, indoors, drip-proof"),
                    Option("type_3r", "Type 3, 3R, 3S or 3X"),
                    Option("type_4", "Type 4, 4X or 6"),
                    Option("unmarked", "Not marked"),
                ),
            ),
            Words("model", "Model", optional=True),
            Words("serial", "Serial number", optional=True),
            Words("firmware", "Firmware", optional=True),
        ),
        judge=_judge_nameplate,
    ),
    Check(
        id="charger.configuration",
        title="Current setting",
        quantity="Setting",
        how=(
            "Read the current it is set to, from switch, display or commissioning software, and "
            "see who could change it. What counts is the setting, not what a vehicle draws today. "
            "Where only its display shows it, come back once it is energised."
        ),
        inputs=(
            _amps("configured_a", "Set to", EVERY),
            Choice(
                "access",
                "The setting can be changed",
                options=(
                    Option("fixed", "Not at all"),
                    Option("tool", "Behind a tool-opened cover"),
                    Option("locked", "Behind a lock"),
                    Option("password", "With installer's password"),
                    Option("open", "By anyone"),
                ),
            ),
            YesNo(
                "is_label_adjusted",
                "Label shows this rating",
                good=True,
                optional=True,
                when=When("access", ("tool", "locked", "password", "open")),
                help="The adjusted one; asked where it is set below its nameplate",
            ),
        ),
        judge=_judge_configuration,
        tells=True,
    ),
)
