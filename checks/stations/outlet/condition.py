"""The outlet's condition: damage, grip of the contacts, cover, mounting."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.electrical.retention import (
    GAUGED_KINDS,
    GROUND_CONTACT,
    GROUND_CONTACT_N,
    LINE_CONTACT,
    LINE_CONTACT_N,
)
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.source import trade
from checks.stations.circuit_facts import is_dwelling
from checks.stations.observing import SEEN, Sign, sees
from checks.stations.outlet.where import kind, receptacle_only
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_least

BURNS: Final = "A joint that has overheated once overheats again, sooner and hotter"
DEENERGIZE: Final = (
    "Switch the circuit off at its breaker, lock it, keep it out of use; replace receptacle, "
    "plug and burnt conductor ends"
)
DAMAGE_SIGNS: Final = (
    Sign(
        YesNo("has_heat_marks", "Heat marks or melting", good=False, says=SEEN),
        "integrity",
        "Heat marks, discoloration or melting at the outlet",
        BURNS,
        DEENERGIZE,
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_cracked", "Cracked or broken parts", good=False, says=("Broken", "Whole")),
        "integrity",
        "Cracked or broken parts at the outlet",
        "Live parts may be touched, and contacts lose their grip",
        DEENERGIZE,
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_wet",
            "Water or corrosion inside",
            good=False,
            says=("Wet or corroded", "Clean and dry"),
        ),
        "integrity",
        "Water or corrosion in the outlet",
        "Water bridges live parts and corrodes contacts",
        "Keep the circuit off; dry, find the way the water came in, replace corroded parts",
        Severity.DANGER,
    ),
)

LINE_GRIP: Final = "each line contact"
GROUND_GRIP: Final = "ground contact"
GRIP: Final = trade("grip of a test plug by feel, against a new receptacle of the same kind")
LOOSE_WHY: Final = "A loose contact has little metal touching, and turns current to heat"
REPLACE: Final = "Replace the receptacle, and a plug whose blades are pitted or discolored"


def _line_limit() -> Limit:
    return at_least(LINE_CONTACT_N, "N", Force.LISTING, LINE_CONTACT, of=LINE_GRIP)


def _ground_limit() -> Limit:
    return at_least(GROUND_CONTACT_N, "N", Force.RECOMMENDATION, GROUND_CONTACT, of=GROUND_GRIP)


def _grip(force_n: Number, limit: Limit, contact: str) -> Judgement:
    return compare(
        force_n,
        "N",
        (limit,),
        explanation=f"The {contact} contact holds a blade up to {amount(force_n, 'N')}",
        why=LOOSE_WHY,
        remedy=REPLACE,
        severity=Severity.WARNING,
        of=f"{contact} contact",
        is_tracked=True,
    )


def _feel(feel: str) -> Judgement:
    return seen(
        feel == "firm",
        explanation=f"A test plug feels {feel}",
        source=GRIP,
        why=LOOSE_WHY,
        remedy=REPLACE,
    )


def _may_be_gauged(s: Situation) -> bool:
    found = kind(s)
    return found is None or found.name in GAUGED_KINDS


def judge_retention(s: Situation) -> Judgement:
    """Judge how firmly the contacts grip."""
    found = kind(s)
    is_gauged = found is not None and found.name in GAUGED_KINDS
    limits = (_line_limit(), _ground_limit()) if is_gauged else (_ground_limit(),)
    feel = s.choice("outlet.retention.feel")
    line_n = s.measured("outlet.retention.line_force")
    ground_n = s.measured("outlet.retention.ground_force")
    parts = []
    if ground_n is not None:
        parts.append(_grip(ground_n, _ground_limit(), "ground"))
    if is_gauged and line_n is not None:
        parts.append(_grip(line_n, _line_limit(), "line"))
    if feel is not None:
        parts.append(_feel(feel))
    if feel is None or found is None:
        missing = "The grip" if feel is None else "Which receptacle it is"
        parts.append(not_measured(f"{missing} has not been recorded", limits))
    elif is_gauged and line_n is None:
        parts.append(
            not_measured(f"For a {found.name} the grip of each line contact is gauged", limits)
        )
    judged = together(parts)
    return judged if judged.limits else judged.model_copy(update={"limits": limits})


judge_damage: Final = sees("outlet.damage", DAMAGE_SIGNS, "No heat marks, cracks or water")

FIXING: Final = trade("a box that moves loosens what is wired in it")
MOUNTING_SIGNS: Final = (
    Sign(
        YesNo("is_fixed", "Box fixed, does not move", good=True, says=("Fixed", "Moves")),
        FIXING,
        "The box moves",
        "Every plugging works the conductors loose",
        "Make the circuit dead and fix the box to the structure",
        Severity.CAUTION,
    ),
    Sign(
        YesNo(
            "is_face_whole",
            "Face plate whole and flush",
            good=True,
            says=("Whole and flush", "Not so"),
        ),
        "openings",
        "The face plate is missing, broken or stands off",
        "Live parts may be reached, and the plug does not seat",
        "Keep it unused until a whole plate is fitted",
        Severity.WARNING,
    ),
    Sign(
        YesNo(
            "is_plug_free", "Plug hangs without strain", good=True, says=("No strain", "Strained")
        ),
        trade("weight on a plug opens its contacts on one side"),
        "The plug carries the weight of cord or charger",
        "A plug pulled sideways touches on part of its contacts and overheats",
        "Hang the charger and its cord from hooks of their own",
        Severity.CAUTION,
    ),
    Sign(
        YesNo(
            "is_cord_extended",
            "Extension cord or adapter",
            good=False,
            says=("In use", "Not in use"),
        ),
        "listed use",
        "An extension cord, tap or plug adapter feeds the charger",
        "It adds contacts and thin conductors that were not made for hours of current",
        "Stop charging from a safe point; use it again only plugged straight into the outlet",
        Severity.DANGER,
    ),
)


def _is_small_in_dwelling(s: Situation) -> bool:
    found = kind(s)
    return is_dwelling(s) and found is not None and found.name in GAUGED_KINDS


SHUTTERED: Final = Sign(
    YesNo(
        "is_tamper_resistant",
        "Marked TR, or above 1.7 m",
        good=True,
        says=("Marked or above", "Neither"),
        where=_is_small_in_dwelling,
        help="Tamper-resistant: shutters behind the face. Above 1.7 m no child reaches it",
    ),
    "tamper resistance",
    "A receptacle within a child's reach is not tamper-resistant",
    "A child can push something into a live contact",
    "Dead and locked: replace it with one that is marked tamper-resistant",
    Severity.CAUTION,
)

CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.damage",
        title="Damage at the outlet",
        how=(
            "With the charge ended, look at face, plug, cord entry and cover, and smell. Do not "
            "unplug what is hot or stuck: switch its breaker off first."
        ),
        inputs=tuple(sign.input for sign in DAMAGE_SIGNS),
        judge=judge_damage,
        gates=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Burnt or wet: touch nothing, switch off at the breaker, keep others away.",
            ),
        ),
        no_limit_because="damage is seen, not measured",
    ),
    Check(
        id="outlet.retention",
        title="Grip of the contacts",
        quantity="Grip",
        how=(
            "With the circuit dead, push a single test blade into each contact in turn and pull "
            "until it slips: note the lowest force. Where no gauge is made for the kind, judge a "
            "new test plug by feel against a new receptacle."
        ),
        inputs=(
            Choice(
                "feel",
                "A test plug feels",
                options=(Option("firm", "Firm"), Option("loose", "Loose, wobbles or uneven")),
            ),
            Measurement(
                "line_force",
                "Line contact slips at",
                dimension=Dimension.FORCE,
                units=("N", "lbf", "ozf"),
                plausible=(0.5, 120.0),
                instruments=(InstrumentKind.FORCE,),
                access_point="test blade in each line contact, the lowest of all",
                optional=True,
                where=_may_be_gauged,
                against=(LINE_GRIP,),
                help="Asked for 15 A and 20 A receptacles, whose standard states a force",
            ),
            Measurement(
                "ground_force",
                "Ground contact slips at",
                dimension=Dimension.FORCE,
                units=("N", "ozf", "lbf"),
                plausible=(0.1, 60.0),
                instruments=(InstrumentKind.FORCE,),
                access_point="test pin in the ground contact",
                against=(GROUND_GRIP,),
                optional=True,
            ),
        ),
        judge=judge_retention,
        state=CircuitState.DEAD,
        applies=receptacle_only,
        cautions=(
            Caution(Severity.DANGER, "Prove the receptacle dead before a blade goes into it."),
        ),
    ),
    Check(
        id="outlet.mounting",
        title="Box, face and plug",
        how="Look at the plate, press the box gently, let the plug hang as it does every day.",
        inputs=tuple(sign.input for sign in (*MOUNTING_SIGNS, SHUTTERED)),
        judge=sees(
            "outlet.mounting", (*MOUNTING_SIGNS, SHUTTERED), "Box firm, plate whole, plug free"
        ),
        applies=receptacle_only,
        cautions=(
            Caution(
                Severity.DANGER,
                "Broken, burnt or wet: do not touch it, switch off at the breaker.",
            ),
        ),
        no_limit_because="mounting is seen, not measured",
    ),
)
