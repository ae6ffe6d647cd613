"""The equipment grounding conductor: its ohms, dead, by its length."""

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
from checks.codes.profile import Metal
from checks.electrical.protective import (
    JOINT_ALLOWANCE,
    LEAST_METAL,
    expected_ohm,
    least_ohm,
    limit_ohm,
)
from checks.quantity import amount, nominal
from checks.record import Category, InstrumentKind
from checks.stations.circuit_facts import run_length_m
from checks.stations.observing import BESIDE_BUS, INSIDE, LOW_OHMS
from checks.stations.run.grounding import needed_size
from checks.stations.run.metal_path import SHOCK, judge_without_wire
from checks.stations.run.wiring import method
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most, decide

REMAKE: Final = "Keep the circuit dead and locked; find the joint along the path and remake it"
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
    needed = needed_size(s, "copper")
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
    elsewhere = _judge_too_low(s, ohm, limit)
    if elsewhere is not None:
        return elsewhere
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


def _judge_too_low(s: Situation, ohm: Number, limit: Limit) -> Judgement | None:
    """Return what a reading leaves open that is surely less than the metal of the path itself."""
    path, length_m, known = _path(s), run_length_m(s), method(s)
    is_wire = s.choice("run.grounding_conductor.kind") == "wire"
    if isinstance(path, str) or length_m is None:
        return None
    has_raceway = known is None or known.metal.value is not Metal.NONE
    least = least_ohm(path if is_wire else None, length_m, has_raceway=has_raceway)
    if least is None:
        return None
    floor = at_least(nominal(least), "Ω", Force.TRADE_JUDGEMENT, LEAST_METAL, of="its own metal")
    if decide(ohm - (least - nominal(least)), (floor,)) is not Verdict.OUTSIDE:
        return None
    judged = unsettled(
        f"{nominal(ohm):.3f} Ω is less than the metal of {nominal(length_m):.4g} m can have, "
        f"{nominal(least):.3f} Ω at the least: another path carries it, or the leads met",
        "Part it from pipe, steel and other raceways where that can be done dead, or measure the "
        "wire looped with a line conductor of known size",
        why=SHOCK,
        remedy="Do not take the path as proved: see the conductor landed at both ends, and check "
        "length and where both leads were held",
        limits=(limit, floor),
    )
    shown = amount(ohm, "Ω")
    return judged.model_copy(update={"measured": shown, "telling": f"{shown.value} {shown.unit}"})


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


CHECKS: Final = (
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
