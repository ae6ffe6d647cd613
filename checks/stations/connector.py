"""The connector on the charger's cable and what is checked there."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    CircuitState,
    Measurement,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
)
from checks.electrical.proximity import (
    NOMINAL,
    TOLERANCE,
    WINDOWS,
    ProximityState,
    classify,
)
from checks.quantity import nominal
from checks.record import Coupler, InstrumentKind
from checks.source import judgement
from checks.stations.observing import SEEN, Sign, sees
from checks.stations.seating import RESEAT, judge_seated, seating_inputs
from checks.stations.warmth.inputs import CAUTIONS, warmth_inputs
from checks.stations.warmth.judge import warmth_judge
from checks.stations.warmth.place import Place
from checks.units import Dimension
from checks.verdict import Force, Judgement, Severity, Verdict, at_most

BURNT: Final = "A contact that has burnt once burns again, and takes its partner with it"
REPLACE: Final = (
    "Switch the charger off at its breaker, lock it, keep it out of use; replace the cable with "
    "its connector, and have the vehicle's inlet looked at"
)


def pin_signs(part: str, replace: str) -> tuple[Sign, ...]:
    """Return the signs of worn or burnt contacts at a part of the coupler, and how it is mended."""
    return (
        Sign(
            YesNo("has_burn_marks", "Burnt, melted, brown pins", good=False, says=SEEN),
            "integrity",
            f"Burn marks, melting or brown pins at the {part}",
            BURNT,
            replace,
            Severity.DANGER,
        ),
        Sign(
            YesNo(
                "is_pitted", "Pins pitted or bent", good=False, says=("Pitted or bent", "Smooth")
            ),
            "integrity",
            f"Pitted or bent pins at the {part}",
            "Rough pins touch on few points and overheat",
            replace,
            Severity.WARNING,
        ),
        Sign(
            YesNo(
                "has_debris",
                "Dirt, water, corrosion",
                good=False,
                says=("Dirty or wet", "Clean and dry"),
            ),
            "integrity",
            f"Dirt, water or corrosion in the {part}",
            "Dirt keeps the faces apart, water bridges the pins",
            "With the circuit dead let it dry and clean it as its maker says; replace it if "
            "corroded",
            Severity.CAUTION,
        ),
        Sign(
            YesNo("is_cracked", "Housing or latch cracked", good=False, says=("Cracked", "Whole")),
            "integrity",
            f"Cracked housing or latch at the {part}",
            "The latch no longer holds the faces together",
            replace,
            Severity.WARNING,
        ),
    )


PINS: Final = pin_signs("connector", REPLACE)
judge_pins: Final = sees("connector.pins", PINS, "Pins clean and bright, housing whole")


def _needs_inlet(s: Situation) -> str:
    return "" if s.point.may_have_vehicle else "no vehicle is there to seat it in"


PROXIMITY: Final = (
    ("connector.seating.latched_ohm", ProximityState.LATCHED, "button free"),
    ("connector.seating.pressed_ohm", ProximityState.PRESSED, "button pressed"),
)


def _proximity_parts(s: Situation) -> list[Judgement]:
    """Return what the proximity circuit speaks against; alone it speaks for nothing."""
    if s.point.connector is not Coupler.TYPE_1:
        return []
    parts = []
    for reference, wanted, when in PROXIMITY:
        ohm = s.measured(reference)
        if ohm is None or classify(max(0.0, nominal(ohm))) is wanted:
            continue
        low, high = WINDOWS[wanted]
        parts.append(
            seen(
                False,
                explanation=f"Proximity reads {nominal(ohm):.0f} Ω with the {when}, not "
                f"{low:.0f} Ω to {high:.0f} Ω",
                source=TOLERANCE,
                why="The vehicle cannot tell a latched connector from a loose one",
                remedy=RESEAT,
                severity=Severity.CAUTION,
            )
        )
    return parts


def judge_seating(s: Situation) -> Judgement:
    """Judge from latch, pull, gap and proximity whether the connector sits home."""
    where = f"connector in the {'adapter' if s.point.has_adapter else 'inlet'}"
    return judge_seated(s, "connector.seating", where, _proximity_parts(s))


def _is_backed(s: Situation) -> bool:
    return all(judge(s).verdict is Verdict.WITHIN for judge in (judge_seating, judge_pins))


HANDLE: Final = Place(
    check="connector.temperature",
    part="connector",
    is_backed=_is_backed,
    settles="Seating and pins checked with no current, both good",
    damage=judge_pins,
    is_grasped=True,
)


QUIET_A: Final = 1.0
QUIET: Final = judgement("a charge has ended when the display shows 1 A or less")


def _judge_button(s: Situation) -> Judgement:
    limit = at_most(QUIET_A, "A", Force.TRADE_JUDGEMENT, QUIET, of="button pressed")
    left_a = s.measured("connector.button.left")
    if left_a is None:
        return not_measured("The current with the button pressed is missing", (limit,))
    return compare(
        left_a,
        "A",
        (limit,),
        explanation=f"{nominal(left_a):.1f} A with the button pressed",
        why="Contacts that part under load draw an arc in the hand that pulls",
        remedy="End the charge at the vehicle; do not use the connector until it is replaced",
        severity=Severity.WARNING,
        of="button pressed",
    )


def _ohms(name: str, label: str) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.RESISTANCE,
        units=("Ω",),
        plausible=(100.0, 700.0),
        instruments=(InstrumentKind.MULTIMETER,),
        access_point="listed test adapter on the unmated connector: proximity to ground",
        optional=True,
        help=f"{NOMINAL.document} connectors only; for another kind it is information",
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="connector.temperature",
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        title="Temperature of the connector",
        quantity="Heat",
        how=(
            "From the start of the charge on, read the hottest spot of the handle, near the "
            "face, always at the same place. Leave it mated: do not pull or press it to see."
        ),
        inputs=warmth_inputs("hottest spot of the handle, near the face"),
        judge=warmth_judge(HANDLE),
        state=CircuitState.UNDER_LOAD,
        cautions=CAUTIONS,
        tells=True,
    ),
    Check(
        id="connector.pins",
        touches=True,
        title="Pins and housing",
        how="With no charge running and a good light look into the face; touch no pin.",
        inputs=tuple(sign.input for sign in PINS),
        judge=judge_pins,
        state=CircuitState.NO_CURRENT,
        gates=True,
        no_limit_because="wear is seen, not measured",
    ),
    Check(
        id="connector.seating",
        needs=("connector.pins", "adapter.pins", "vehicle.inlet_condition"),
        touches=True,
        title="Connector seated",
        quantity="Gap",
        how=(
            "With no charge running push the connector home into the inlet, or into the adapter "
            "where there is one. Listen for the click, pull firmly without pressing the button, "
            "try to rock it, gauge the gap. Unmated, in a listed test adapter, read proximity to "
            "ground with the button free, then pressed."
        ),
        inputs=(
            *seating_inputs("connector"),
            _ohms("latched_ohm", "Proximity, button free"),
            _ohms("pressed_ohm", "Proximity, button pressed"),
        ),
        judge=judge_seating,
        state=CircuitState.NO_CURRENT,
        applies=_needs_inlet,
        cautions=(
            Caution(
                Severity.WARNING,
                "End the charge first: never pull, rock or gauge it under load, and never pry.",
            ),
        ),
    ),
    Check(
        id="connector.button",
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        title="Button ends the charge",
        quantity="Button",
        how="While it charges press the latch button and do not pull. Read the current before you "
        "let go; leave the connector mated until the display shows none.",
        inputs=(
            Measurement(
                "left",
                "Current, button pressed",
                dimension=Dimension.CURRENT,
                units=("A",),
                plausible=(0.0, 80.0),
                access_point="the charger's or the vehicle's own display",
                against=EVERY,
            ),
        ),
        judge=_judge_button,
        state=CircuitState.UNDER_LOAD,
        applies=_needs_inlet,
        cautions=(
            Caution(
                Severity.WARNING,
                "Press only: a connector that is pulled under load arcs in the hand. On hiss or "
                "smell end the charge at the vehicle.",
            ),
        ),
    ),
)
