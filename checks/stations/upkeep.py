"""Upkeep: how soon the charging points are looked at again, computed from place, use, findings."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    YesNo,
    compare,
    not_measured,
    together,
)
from checks.record import Attachment, VisitKind
from checks.source import judgement
from checks.stations.observing import Sign, signs_of
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_most

CHECK: Final = "handover.upkeep"
FULL_MONTHS: Final = 36
HALF: Final = 2
INTERVAL: Final = judgement(
    "36 months until the next inspection; halved each for a plug that is used, for weather, for "
    "many users, and for a worn contact or an old joint found"
)
PLAN: Final = Sign(
    YesNo(
        "is_plan_left",
        "Maintenance plan left",
        good=True,
        help="Looking, cleaning, terminals, heat under load, ground-fault test: who, how often",
    ),
    judgement("what is looked after by a plan is looked after"),
    "No maintenance plan is left",
    "What nobody is named for is not done",
    "Leave a plan: what is done, how often, and by whom",
    Severity.NOTICE,
)


def _reasons(s: Situation) -> tuple[str, ...]:
    """Return why the next inspection comes sooner."""
    points = s.points
    plugged = any(p.point.attachment is Attachment.RECEPTACLE for p in points)
    wet = any(p.choice("surroundings.place.wetness") in ("damp", "wet") for p in points)
    is_shared = s.choice("handover.upkeep.use") == "many"
    worn = any(
        p.choice("outlet.retention.feel") == "loose"
        or p.yes("connector.pins.is_pitted")
        or p.yes("outlet.damage.has_heat_marks")
        for p in points
    )
    said = {
        "a plug is used": plugged,
        "damp or wet": wet,
        "many users": is_shared,
        "worn or heated contacts": worn,
    }
    return tuple(reason for reason, holds in said.items() if holds)


def _limit(s: Situation) -> Limit:
    reasons = _reasons(s)
    months = FULL_MONTHS / HALF ** len(reasons)
    line = f"{FULL_MONTHS} months" + "".join(f" / {HALF} ({reason})" for reason in reasons)
    return at_most(
        months,
        "months",
        Force.TRADE_JUDGEMENT,
        INTERVAL,
        of="until the next inspection",
        working=(f"{line} = {months:g} months",),
    )


def _judge(s: Situation) -> Judgement:
    limit = _limit(s)
    months = s.rating("handover.upkeep.months")
    if months is None or s.choice("handover.upkeep.use") is None:
        return not_measured("Still open: use, and time until the next inspection", (limit,))
    why = ", ".join(_reasons(s)) or "nothing here wears fast"
    agreed = compare(
        months,
        "months",
        (limit,),
        explanation=f"Next inspection in {months:g} months; {why}",
        why="Contacts that are used wear, and weather finds its way in",
        remedy="Agree on an earlier inspection, and leave its date with the owner",
        severity=Severity.NOTICE,
    )
    return together((agreed, *signs_of(s, CHECK, (PLAN,))), good=agreed.explanation)


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id=CHECK,
        title="Next inspection, upkeep",
        quantity="Next inspection",
        how="Agree with the owner when it is looked at again, and leave date and plan in writing.",
        inputs=(
            Choice(
                "use",
                "Who charges here",
                options=(Option("few", "One household or fleet"), Option("many", "Many, changing")),
            ),
            Rating(
                "months",
                "Time until then",
                dimension=Dimension.COUNT,
                units=("months",),
                plausible=(1.0, 60.0),
                against=EVERY,
            ),
            PLAN.input,
        ),
        judge=_judge,
        closes=True,
        kinds=(VisitKind.COMMISSIONING, VisitKind.SITE_RECORD),
    ),
)
