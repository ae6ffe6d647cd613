"""The neutral is bonded to ground once: at the service, or behind a transformer, no more."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.quantity import amount, nominal
from checks.record import Category, InstrumentKind
from checks.source import trade
from checks.stations.observing import BESIDE_BUS, INSIDE, rule_source
from checks.stations.panel.bond_ohms import (
    APART_OHM,
    OPEN_FAULT,
    bar_limit,
    has_bond_here,
    judge_reading,
)
from checks.stations.panel.fed_bond import judge_fed
from checks.stations.panel.feeder import FEEDER, GROUND, TRANSFORMER, UNKNOWN
from checks.units import Dimension, Number
from checks.verdict import Judgement, Limit, Severity, Verdict

LANDED: Final = trade("a neutral that was lifted is landed and tightened before energising")
BEHIND: Final = When("fed", (TRANSFORMER,))


def _is_fed(s: Situation) -> bool:
    """Return whether the panel comes after other equipment, so that what feeds it decides."""
    return not s.panel.is_service_equipment


def _judge(s: Situation) -> Judgement:
    bond, limit = s.choice("panel.neutral_bond.bond"), bar_limit(s)
    if bond is None:
        return not_measured(
            "Look for the bonding screw or strap: the neutral "
            f"{'must be bonded here' if has_bond_here(s) else 'is bonded once, here or upstream'}",
            (limit,),
        )
    if bond == "closed":
        return unsettled(
            "Neither the bond of the neutral nor the ground that comes with the feeder was seen: "
            "the panel stays on and closed"
            if _is_fed(s)
            else "The bond of the neutral was not seen: the panel stays on and closed",
            "See it once the panel may be switched off; live, the loop from line to ground tells "
            "whether a fault finds its way back",
            why=OPEN_FAULT,
            remedy="Agree with the owner when the panel can be off",
            limits=(limit,),
            sources=(rule_source(s, "neutral bond"),),
        )
    is_present = bond == "present"
    if s.panel.is_service_equipment:
        return together(_at_service(s, limit, is_present=is_present))
    parts = judge_fed(s, limit, is_present=is_present)
    if s.yes("panel.neutral_bond.is_lifted") is not True:
        return together(parts)
    is_landed = s.yes("panel.neutral_bond.is_landed")
    if is_landed is not None:
        return together((*parts, _judge_landed(is_landed=is_landed)))
    found = together(parts)
    if found.verdict is Verdict.OUTSIDE:
        return found
    # nothing is energised before it is said
    return not_measured("Still open: feeder neutral landed again", (limit,), (LANDED,))


def _at_service(s: Situation, limit: Limit, *, is_present: bool) -> list[Judgement]:
    ohm = s.measured("panel.neutral_bond.ohm")
    if not is_present and ohm is not None and nominal(ohm) < APART_OHM:
        return [_judge_unseen_bond(s, limit, ohm)]
    bond = seen(
        is_present,
        explanation=f"The bond is {'present' if is_present else 'absent'} at service equipment",
        source=rule_source(s, "neutral bond"),
        why=OPEN_FAULT,
        remedy="Dead and locked: fit the main bonding jumper that belongs to the panel",
        severity=Severity.DANGER,
    )
    return [bond, judge_reading(s, limit)]


def _judge_unseen_bond(s: Situation, limit: Limit, ohm: Number) -> Judgement:
    """Judge bars that no bond was seen on and that yet join: one jumper more may be a second."""
    return seen(
        False,
        explanation="The bond is absent at service equipment, and yet neutral bar to ground bar "
        f"reads {amount(ohm, 'Ω')}: something else joins them",
        source=rule_source(s, "neutral bond"),
        why="What was not made for it burns off under a fault; then the breaker does not open",
        remedy="Dead and locked: find first what joins the bars: a screw under the bar, a neutral "
        "that touches metal, or a bond ahead of this panel, looked for only where that is dead as "
        "well. Fit the main bonding jumper once it is known that it belongs here",
        severity=Severity.DANGER,
    ).model_copy(update={"limits": (limit,), "measured": amount(ohm, "Ω")})


def _judge_landed(*, is_landed: bool) -> Judgement:
    """Judge the feeder neutral that was lifted for the reading."""
    return seen(
        is_landed,
        explanation="The feeder neutral is landed again"
        if is_landed
        else "The feeder neutral was lifted and is not landed again",
        source=LANDED,
        why="With an open neutral what is made for 120 V gets up to line-to-line voltage, and "
        "burns",
        remedy="Dead and locked: land the feeder neutral and tighten it to its label before "
        "anything is energised",
        severity=Severity.DANGER,
    )


CHECKS: Final = (
    Check(
        id="panel.neutral_bond",
        title="Neutral bonded once",
        quantity="Bond",
        how="With the panel's bus proved dead look for the bonding screw, strap or jumper. Measure "
        "from neutral bar to ground bar; at a panel fed by a feeder, lift the feeder neutral "
        "first, and land it again, tightened to its label, before anything is energised.",
        inputs=(
            Choice(
                "bond",
                "Bonding screw or strap",
                options=(
                    Option("present", "Present", needs=(INSIDE,)),
                    Option("absent", "Absent", needs=(INSIDE,)),
                    Option("closed", "Not seen", "The panel stays on and closed", ends=True),
                ),
            ),
            Choice(
                "fed",
                "What feeds this panel",
                options=(
                    Option(FEEDER, "A feeder of the service"),
                    Option(TRANSFORMER, "A transformer", "The first disconnect behind it"),
                    Option(UNKNOWN, "Not known"),
                ),
                where=_is_fed,
            ),
            Choice(
                "at_transformer",
                "Bond at the transformer",
                options=(
                    Option("present", "Present"),
                    Option("absent", "Absent"),
                    Option("unseen", "Not seen", "Its enclosure stays closed"),
                ),
                when=BEHIND,
            ),
            GROUND,
            YesNo(
                "is_lifted",
                "Feeder neutral lifted",
                optional=True,
                where=_is_fed,
                help="Not needed where the one bond is here, behind a transformer",
            ),
            Choice(
                "reading",
                "Meter, neutral to ground bar",
                options=(Option("value", "Shows a value"), Option("open", "Over range")),
            ),
            Measurement(
                "ohm",
                "Resistance",
                dimension=Dimension.RESISTANCE,
                units=("Ω", "mΩ", "kΩ"),
                plausible=(0.001, 1e6),
                instruments=(InstrumentKind.LOW_OHM, InstrumentKind.MULTIMETER),
                category=Category.CAT_III,
                access_point="neutral bar to ground bar, panel dead",
                against=EVERY,
                when=When("reading", ("value",)),
            ),
            YesNo(
                "is_landed",
                "Feeder neutral landed again",
                good=True,
                where=_is_fed,
                when=When("is_lifted", ("yes",)),
                help="And tightened to its label",
            ),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        cautions=(
            BESIDE_BUS,
            Caution(
                Severity.DANGER,
                "A feeder neutral may carry current of another circuit: clamp it first, and never "
                "lift one that does.",
            ),
        ),
    ),
)
