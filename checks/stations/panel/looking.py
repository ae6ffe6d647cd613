"""The panel as it looks: breakers listed for it, its condition, directory, working space."""

from typing import Final

from checks.check import (
    Caution,
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
)
from checks.codes.place import WorkingSpace, working_space
from checks.errors import OutOfTableError
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.stations.circuit_facts import volts_to_ground_v
from checks.stations.observing import SEEN, Sign, sees, signs_of
from checks.stations.panel import terminals
from checks.units import Dimension
from checks.verdict import Judgement, Limit, Severity, at_least

LISTED: Final = "panel.breaker_listed"
LISTED_SIGNS: Final = (
    Sign(
        YesNo("is_on_label", "Type is on the panel's label", good=True),
        "listed use",
        "The breaker is of a type that the panel's label does not name",
        "A breaker that only seems to fit grips the bus poorly and burns there",
        "Dead and locked: replace it with a type that the panel's label names",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_tandem_allowed", "Tandem only where marked", good=True, optional=True),
        "listed use",
        "A tandem breaker sits where the panel is not marked for one",
        "The panel then carries more circuits than its bus was tested with",
        "Dead and locked: move it to a marked space, or add a subpanel",
        Severity.CAUTION,
    ),
)

CONDITION: Final = "panel.condition"
OFF: Final = "Keep the charger off and call for the panel to be made dead before anybody opens it"
CONDITION_SIGNS: Final = (
    Sign(
        YesNo("has_heat_marks", "Heat marks, melting, smell", good=False, says=SEEN),
        "integrity",
        "The panel shows heat marks or smells burnt",
        "A joint is burning behind the cover, and a charger's long load feeds it",
        OFF,
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_wet", "Water, or traces of it", good=False, says=("Water seen", "Dry")),
        "integrity",
        "Water has got into the panel",
        "Water tracks between live parts and corrodes every joint",
        OFF + "; find where the water comes from first",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_corroded",
            "Corrosion",
            good=False,
            says=("Corroded", "Clean"),
            help="On enclosure and breakers, as far as they show with the covers on",
        ),
        "integrity",
        "Enclosure or breakers are corroded",
        "Corroded joints heat under load and breakers may not open",
        "Replace what is corroded, with the panel dead, before a continuous load is added",
        Severity.WARNING,
    ),
    Sign(
        YesNo("has_openings", "Open knockout or space", good=False, says=("Open", "All closed")),
        "openings",
        "A knockout or breaker space stands open",
        "Fingers and vermin reach live parts through it",
        "Keep hands and tools away; with the panel dead close it with a listed plug",
        Severity.WARNING,
    ),
)

DIRECTORY: Final = "panel.directory"
DIRECTORY_SIGNS: Final = (
    Sign(
        YesNo("is_named", "Names each charger's circuit", good=True),
        "directory",
        "The directory does not name a charger's circuit, or not so that it can be told apart",
        "In an emergency somebody switches off the wrong breaker",
        "Write each charger's circuit into the directory, specific and durable",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_legible", "Directory legible and true", good=True),
        "directory",
        "The directory is missing, illegible or wrong",
        "Whoever isolates by it isolates the wrong circuit",
        "Trace the circuits and write the directory anew",
        Severity.CAUTION,
    ),
)


# -- working space ------------------------------------------------------------------------------
SPACE: Final = "panel.working_space"
CLEAR: Final = Sign(
    YesNo("is_clear", "Kept clear, nothing stored", good=True),
    "working space",
    "Things are stored in the working space",
    "Whoever must reach the breaker in a hurry, or works there, has no room to step back",
    "Clear it and mark the floor",
    Severity.CAUTION,
)


def _space(s: Situation) -> WorkingSpace:
    condition = int(s.choice("panel.working_space.opposite") or "1")
    width_m = s.rating("panel.working_space.equipment_width") or 0.0
    return working_space(
        s.code, volts_to_ground_v(s), condition=condition, equipment_width_m=width_m
    )


def _space_limits(s: Situation, space: WorkingSpace) -> dict[str, Limit]:
    rules = {"depth": space.depth_m, "width": space.width_m, "height": space.height_m}
    return {
        name: at_least(
            rule.value,
            s.unit_of(f"{SPACE}.{name}", "m"),
            rule.force,
            rule.source,
            of=f"{name} of the space",
            places=2,
        )
        for name, rule in rules.items()
    }


def _judge_space(s: Situation) -> Judgement:
    try:
        limits = _space_limits(s, _space(s))
    except OutOfTableError as error:
        return not_measured(f"{error.problem}. {error.remedy}")
    parts = list(signs_of(s, SPACE, (CLEAR,)))
    for name, limit in limits.items():
        value = s.measured(f"{SPACE}.{name}")
        if value is None:
            parts.append(not_measured(f"Still open: {name} of the working space", (limit,)))
            continue
        parts.append(
            compare(
                value,
                limit.amount.unit,
                (limit,),
                explanation=f"Working space, {name} {amount(value, limit.amount.unit)}",
                why="Without room to step back, work on the panel hurts whoever does it",
                remedy="Clear the space, or move what stands in it; otherwise the authority "
                "having jurisdiction decides",
                severity=Severity.CAUTION,
            )
        )
    return together(parts, good=". ".join(p.explanation for p in parts if p.measured))


def _length(name: str, label: str, where: str) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.LENGTH,
        units=("m", "ft", "in"),
        plausible=(0.2, 5.0),
        instruments=(InstrumentKind.TAPE,),
        access_point=where,
        against=(f"{name} of the space",),
    )


SEEN_ONLY: Final = "what is seen has no number; the rule is the label's or the code's own words"
CHECKS: Final = (
    Check(
        id=LISTED,
        title="Breaker listed for panel",
        how="With the cover on compare the breaker's type letters with the list on the panel's "
        "label, inside the door.",
        inputs=tuple(sign.input for sign in LISTED_SIGNS),
        judge=sees(LISTED, LISTED_SIGNS, "The breaker is of a type that the panel's label names"),
        no_limit_because=SEEN_ONLY,
    ),
    Check(
        id=CONDITION,
        title="Panel condition",
        how="With every cover on open the door, look, listen and smell. Nothing is opened for "
        "this: what is behind the cover is looked at once the bus is proved dead.",
        inputs=tuple(sign.input for sign in CONDITION_SIGNS),
        judge=sees(CONDITION, CONDITION_SIGNS, "No heat, water, corrosion or open space seen"),
        gates=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Hot, humming, burnt or wet: open and touch nothing, keep others away, and have "
                "the supply cut from a safe point.",
            ),
        ),
        no_limit_because=SEEN_ONLY,
    ),
    *terminals.CHECKS,
    Check(
        id=DIRECTORY,
        title="Directory",
        how="Read the directory and compare it with the breakers.",
        inputs=tuple(sign.input for sign in DIRECTORY_SIGNS),
        judge=sees(DIRECTORY, DIRECTORY_SIGNS, "The directory is true and names each charger"),
        no_limit_because=SEEN_ONLY,
    ),
    Check(
        id=SPACE,
        title="Working space",
        how="Measure from the panel's face outward, side to side, and up from the floor.",
        inputs=(
            Choice(
                "opposite",
                "Opposite the panel",
                options=(
                    Option("1", "Nothing live or grounded"),
                    Option("2", "Concrete, brick, pipe"),
                    Option("3", "Other live parts"),
                ),
            ),
            Rating(
                "equipment_width",
                "Panel's own width",
                dimension=Dimension.LENGTH,
                units=("m", "in"),
                plausible=(0.2, 2.0),
                optional=True,
                help="Only where it is wider than a common panel",
            ),
            _length("depth", "Depth", "panel face to what is opposite"),
            _length("width", "Width", "side to side in front of the panel"),
            _length("height", "Height", "floor to what hangs above"),
            CLEAR.input,
        ),
        judge=_judge_space,
    ),
)
