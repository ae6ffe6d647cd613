"""A panel fed by other equipment: no bond after the service, one behind a transformer."""

from typing import Final

from checks.check import Situation, not_measured, seen, together, unsettled
from checks.source import trade
from checks.stations.observing import rule_source
from checks.stations.panel.bond_ohms import OPEN_FAULT, judge_reading
from checks.stations.panel.feeder import FEEDER, TRANSFORMER, judge_ground
from checks.verdict import Judgement, Limit, Severity, Verdict

ONCE: Final = trade(
    "a system behind a transformer is bonded once, anywhere from the transformer to its first "
    "disconnect, as NEC 250.30(A)(1) has it"
)
TWICE: Final = "A second bond sends neutral current through grounding conductors and metal parts"


def judge_fed(s: Situation, limit: Limit, *, is_present: bool) -> list[Judgement]:
    """Judge the bond of a panel by what feeds it: a feeder, a transformer, or nobody knows."""
    fed, ground = s.choice("panel.neutral_bond.fed"), judge_ground(s, is_bonded=is_present)
    if fed == FEEDER:
        parts = _after_service(s, ground, limit, is_present=is_present)
    elif fed == TRANSFORMER:
        parts = [_behind_transformer(s, is_present=is_present), ground, judge_reading(s, limit)]
    else:
        return [_fed_unknown(limit)]
    is_open = ground.verdict is Verdict.NOT_MEASURED
    if is_open and together(parts).verdict is Verdict.BORDERLINE:
        # a borderline one lets the panel be energised; a ground that nobody saw does not
        return [ground.model_copy(update={"limits": (limit,)})]
    return parts


def _after_service(
    s: Situation, ground: Judgement, limit: Limit, *, is_present: bool
) -> list[Judgement]:
    """Judge a panel on a feeder: grounded by what comes with it, and bonded nowhere."""
    if is_present and ground.verdict is Verdict.OUTSIDE:
        return [ground.model_copy(update={"limits": (limit,)})]  # nothing says to take it away
    bond = seen(
        not is_present,
        explanation=f"The bond is {'present' if is_present else 'absent'} at a panel after the "
        "service",
        source=rule_source(s, "neutral bond"),
        why=TWICE,
        remedy="Dead and locked: see first that the ground of the feeder is whole up to the "
        "service and that the bond of the service is there; then remove the bonding screw or "
        "strap here and separate the bars"
        if ground.verdict is Verdict.WITHIN
        else "Keep the panel off and locked, and leave the bond, until the ground that comes with "
        "the feeder is seen",
        severity=Severity.WARNING,
    )
    # with the bond in, its own ohms are what the meter shows
    reading = not_measured("", (limit,)) if is_present else judge_reading(s, limit)
    return [bond, ground, reading]


def _behind_transformer(s: Situation, *, is_present: bool) -> Judgement:
    """Judge the first disconnect behind a transformer: one bond, here or at the transformer."""
    other = s.choice("panel.neutral_bond.at_transformer")
    if other is None:
        return not_measured("Still open: the bond at the transformer")
    if other == "unseen":
        return unsettled(
            f"The bond is {'present' if is_present else 'absent'} here; the "
            "transformer that feeds it could not be looked into",
            "See the transformer's own enclosure once it may be opened dead: one bond in all",
            why=TWICE if is_present else OPEN_FAULT,
            remedy="Change nothing here before the transformer was looked at",
            severity=Severity.WARNING,
            sources=(ONCE,),
        )
    is_there = other == "present"
    if is_present != is_there:
        return seen(
            True,
            explanation="The one bond of what the transformer feeds is "
            f"{'here' if is_present else 'at the transformer'}",
            source=ONCE,
        )
    return seen(
        False,
        explanation="What the transformer feeds is bonded twice, here and at the transformer"
        if is_present
        else "What the transformer feeds is bonded neither here nor at the transformer",
        source=ONCE,
        why=TWICE if is_present else OPEN_FAULT,
        remedy="Dead and locked: leave the one bond where the grounding electrode conductor is "
        "connected, and remove the other"
        if is_present
        else "Keep everything it feeds off and locked; have a bonding jumper sized and fitted at "
        "one point from the transformer to its first disconnect",
        severity=Severity.WARNING if is_present else Severity.DANGER,
    )


def _fed_unknown(limit: Limit) -> Judgement:
    return unsettled(
        "What feeds this panel is not known: after the service no bond belongs here, behind a "
        "transformer it may be the only one",
        "Follow the feeder to where it begins",
        why=OPEN_FAULT,
        remedy="Remove and fit no bond before it is known what feeds the panel",
        severity=Severity.WARNING,
        limits=(limit,),
        sources=(ONCE,),
    )
