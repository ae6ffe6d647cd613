"""The receptacle itself: its configuration against circuit and plug, and its grade."""

from typing import Final

from checks.check import Check, Choice, Option, Situation, compare, not_measured, seen, together
from checks.codes.circuit import largest_charger_a
from checks.codes.profile import Configuration
from checks.codes.receptacle import (
    is_voltage_served,
    permits,
    receptacle_against_circuit,
    receptacle_permitted,
)
from checks.errors import OutOfTableError
from checks.source import judgement
from checks.stations.circuit_facts import breaker_a, charger_load_a, nominal_v
from checks.stations.outlet.where import (
    KINDS,
    is_fastened,
    is_single,
    kind,
    receptacle_only,
)
from checks.stations.ruling import permitted
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

NEW_CIRCUIT: Final = (
    "Take it out of use; have the right receptacle for breaker, conductors and plug installed"
)

KEEP_SETTING: Final = (
    "Have breaker or receptacle changed soon so that they fit, and until then do not raise the "
    "charger's setting"
)


def _rating_limits(s: Situation) -> tuple[Limit, ...]:
    amps = breaker_a(s)
    if amps is None:
        return ()
    rule = s.code.receptacles.is_single_below_allowed
    working = (f"breaker {amps:g} A: a single receptacle at least as much ({rule.source})",)
    return (at_least(amps, "A", rule.force, rule.source, of="receptacle rating", working=working),)


def _severity(s: Situation, found: Configuration) -> Severity:
    """Say how bad a receptacle below its breaker is: by the current that it really carries."""
    load_a = charger_load_a(s)
    if load_a is None:
        return Severity.WARNING
    if load_a > found.rating_a:
        return Severity.DANGER
    can_a = largest_charger_a(s.code, float(found.rating_a)).value
    return Severity.CAUTION if load_a <= can_a else Severity.WARNING


def _against_circuit(s: Situation, found: Configuration) -> Judgement:
    amps, single = breaker_a(s), is_single(s)
    if amps is None or single is None:
        return not_measured(
            "The breaker's rating is missing, at the breaker"
            if amps is None
            else "How many receptacles the circuit has is missing",
            _rating_limits(s),
        )
    why = (
        "A breaker above the receptacle's rating lets it carry more than its contacts are made "
        "for, and does not trip while they burn"
    )
    severity = _severity(s, found)
    remedy = KEEP_SETTING if severity is Severity.CAUTION else NEW_CIRCUIT
    if single:
        return compare(
            float(found.rating_a),
            "A",
            _rating_limits(s),
            explanation=f"A {found.name} receptacle, {found.rating_a} A, on a {amps:g} A breaker",
            why=why,
            remedy=remedy,
            severity=severity,
            of="receptacle rating",
        )
    try:
        ruling = receptacle_against_circuit(s.code, found.name, amps, is_single=False)
    except OutOfTableError as error:
        return seen(
            False,
            explanation=f"Two or more receptacles on one circuit: {error.problem}",
            source=s.code.receptacles.shared_a.source,
            why=why,
            remedy=remedy,
        )
    return permitted(ruling, why=why, remedy=remedy, severity=severity)


def _permitted_kind(s: Situation, found: Configuration) -> Judgement:
    grounded = "A charger without a ground cannot clear a fault, and refuses or kills"
    return permitted(
        receptacle_permitted(
            s.code,
            found.name,
            is_fastened=is_fastened(s),
            breaker_a=breaker_a(s),
            is_single=is_single(s),
        ),
        why="Only the listed receptacles are made to carry a charger"
        if found.has_ground
        else grounded,
        remedy=NEW_CIRCUIT,
        severity=Severity.WARNING if found.has_ground else Severity.DANGER,
    )


def _voltage(s: Situation, found: Configuration) -> Judgement:
    volts = nominal_v(s)
    rated = "/".join(str(v) for v in found.volts)
    return seen(
        is_voltage_served(s.code, found.name, volts),
        explanation=f"A {found.name} receptacle is for {rated} V, the outlet is {volts:g} V",
        source=s.code.receptacles.configurations.source,
        why="The wrong voltage at a plug destroys what is plugged in, or cannot charge",
        remedy="Do not plug in; measure the voltage and have the receptacle or circuit corrected",
        severity=Severity.DANGER if volts > max(found.volts) else Severity.WARNING,
    )


def _judge_configuration(s: Situation) -> Judgement:
    found = kind(s)
    if found is None:
        name = s.choice("outlet.configuration.kind")
        problem = "Which receptacle it is has not been recorded"
        if name is not None:
            problem = f"{name} is not among the receptacles of {s.code.title} {s.code.edition}"
        return not_measured(problem, _rating_limits(s))
    parts = (_permitted_kind(s, found), _against_circuit(s, found), _voltage(s, found))
    most = permits(s.code, found.name).charger_a
    judged = together(
        parts,
        good=f"{found.name}, {found.rating_a} A, fits breaker, voltage and use; for hours it "
        f"carries {most.value:g} A on a circuit of its own rating",
        telling=found.name,
    )
    alone = f"what a {found.name} carries for hours on a circuit of its own rating:"
    return judged.model_copy(update={"working": (*judged.working, alone, *most.working)})


GRADE_ABOVE_A: Final = 16.0
GRADE: Final = judgement(
    "above 16 A for hours a day a receptacle of industrial grade or marked for charging"
)


def _judge_grade(s: Situation) -> Judgement:
    limit = at_most(
        GRADE_ABOVE_A, "A", Force.TRADE_JUDGEMENT, GRADE, of="charger on a light-duty receptacle"
    )
    grade, load_a = s.choice("outlet.grade.grade"), charger_load_a(s)
    if grade is None or load_a is None:
        missing = "The grade" if grade is None else "The charger's current, at the charger,"
        return not_measured(f"{missing} is missing", (limit,))
    if grade in ("charging", "industrial"):
        return seen(True, explanation=f"Made for {grade} use, at {load_a:g} A", source=GRADE)
    return compare(
        load_a,
        "A",
        (limit,),
        explanation=f"{load_a:g} A for hours on a receptacle of "
        + ("light duty" if grade == "residential" else "unknown grade"),
        why="Light contacts and binding screws relax under hours of current and overheat",
        remedy="Replace it with one of industrial grade or marked for EV charging, or set the "
        "charger lower",
        severity=Severity.CAUTION if grade == "residential" else Severity.NOTICE,
        of="charger",
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.configuration",
        title="Receptacle against circuit",
        quantity="Rating",
        how=(
            "Read the configuration from the face: blades, slots and ground. Count every "
            "receptacle on the circuit; a duplex counts as two. Beware: TT-30 is 120 V, the "
            "10-series has no ground, a 6-50 may be wired for a welder with smaller conductors."
        ),
        inputs=(
            Choice("kind", "Configuration", options=KINDS),
            Choice(
                "count",
                "On this circuit",
                options=(
                    Option("single", "One single receptacle"),
                    Option("duplex", "One duplex"),
                    Option("several", "Several outlets"),
                ),
            ),
        ),
        judge=_judge_configuration,
        applies=receptacle_only,
        tells=True,
    ),
    Check(
        id="outlet.grade",
        title="Grade for daily charging",
        quantity="Charger",
        how="Read the marking on the face: for EV charging, industrial, or residential. On strap "
        "or body only while the circuit is dead, locked and proved.",
        inputs=(
            Choice(
                "grade",
                "Marked grade",
                options=(
                    Option("charging", "For EV charging"),
                    Option("industrial", "Industrial"),
                    Option("residential", "Residential, range or dryer"),
                    Option("unknown", "Cannot be read"),
                ),
            ),
        ),
        judge=_judge_grade,
        applies=receptacle_only,
    ),
)
