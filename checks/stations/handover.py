"""The handover: what the owner is shown, told and left."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Situation,
    YesNo,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.record import VisitKind
from checks.source import trade
from checks.stations.observing import Sign, signs_of
from checks.verdict import Judgement, Severity

SHOWN: Final = trade("what the owner must know to use it safely and to notice a fault in time")
SHOW: Final = "Show it to the owner, and leave it in writing"
OWNER_SIGNS: Final = (
    Sign(
        YesNo("knows_shutoff", "Shutoff shown", good=True),
        SHOWN,
        "The owner was not shown where to switch it off",
        "In smoke nobody looks for the right breaker",
        SHOW,
        Severity.CAUTION,
    ),
    Sign(
        YesNo("knows_heat_signs", "Signs of heat explained", good=True),
        SHOWN,
        "The owner was not told the signs of heat: smell, discoloration, a hot plug",
        "The owner is the only one who is there every night",
        SHOW,
        Severity.CAUTION,
    ),
    Sign(
        YesNo("knows_no_extension", "Warned of extension cords", good=True),
        SHOWN,
        "The owner was not told to use no extension cord and no unlisted adapter",
        "They are what burns most often",
        SHOW,
        Severity.CAUTION,
    ),
)


def _may_have_device(s: Situation) -> bool:
    return any(p.choice("outlet.ground_fault.device") != "none" for p in s.points)


MONTHLY: Final = Sign(
    YesNo(
        "knows_monthly_test",
        "Monthly trip test shown",
        good=True,
        optional=True,
        where=_may_have_device,
    ),
    SHOWN,
    "The owner was not shown the monthly test of the ground-fault device",
    "A device that is not tested fails unnoticed",
    SHOW,
    Severity.CAUTION,
)


def _monthly(s: Situation) -> tuple[Judgement, ...]:
    if not _may_have_device(s):
        return ()
    devices = [point.choice("outlet.ground_fault.device") for point in s.points]
    shown = signs_of(s, "handover.owner_shown", (MONTHLY,))
    words = "Still open: monthly ground-fault test shown"
    if None in devices:
        words += ", or record at the outlet that there is no ground-fault device"
    return shown or (not_measured(words),)


def _judge_shown(s: Situation) -> Judgement:
    parts = (*signs_of(s, "handover.owner_shown", OWNER_SIGNS), *_monthly(s))
    return together(parts, good="The owner knows shutoff, test and signs of heat")


LEFT: Final = trade("papers that the next one to work on it needs")
LEAVE: Final = "Leave it with the owner before the work is closed"
PAPER_SIGNS: Final = (
    Sign(
        YesNo("has_as_built", "As-built record left", good=True),
        LEFT,
        "No record of what was built is left",
        "Conductor sizes behind a wall cannot be read later",
        LEAVE,
        Severity.NOTICE,
    ),
    Sign(
        YesNo("has_settings", "Settings, instructions left", good=True),
        LEFT,
        "Settings and instructions are not left",
        "A replaced charger comes with the maker's setting, not with this circuit's",
        LEAVE,
        Severity.NOTICE,
    ),
    Sign(
        YesNo("has_load_calculation", "Load calculation left", good=True),
        LEFT,
        "The load calculation is not left",
        "The next load is added without knowing how much room there is",
        LEAVE,
        Severity.NOTICE,
    ),
    Sign(
        YesNo("has_next_check", "Date of the next check left", good=True),
        LEFT,
        "No date for the next check is left",
        "Contacts that are plugged every day wear",
        LEAVE,
        Severity.NOTICE,
    ),
)


def _permit(s: Situation) -> Judgement:
    permit = s.choice("handover.documents.permit")
    number = s.visit.site.permit_number
    source = trade("the authority having jurisdiction says which work needs a permit")
    if permit is None:
        return not_measured("The state of the permit is missing")
    if permit == "passed" and number:
        return seen(True, explanation=f"Final inspection passed, permit {number}", source=source)
    if permit == "not_needed" and all(p.level == 1 for p in s.visit.points):
        return seen(True, explanation="Existing outlet, no permit asked for", source=source)
    words = {
        "passed": "Final inspection passed, but the record holds no permit number",
        "open": "The permit's final inspection is still open",
        "not_needed": "No permit was asked for, and a circuit for Level 2 is there",
        "none": "No permit is known",
    }[permit]
    return unsettled(
        words,
        "Ask the authority having jurisdiction, and record the number",
        why="Without a final inspection nobody but the installer has looked at it",
        remedy="Keep the permit's papers with this record",
        severity=Severity.NOTICE,
        sources=(source,),
    )


def _judge_documents(s: Situation) -> Judgement:
    parts = (*signs_of(s, "handover.documents", PAPER_SIGNS), _permit(s))
    return together(parts, good="Record, settings, load calculation and permit are left")


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="handover.owner_shown",
        title="Shown to the owner",
        how="At the charger and at the panel let the owner do it, rather than look on.",
        inputs=(*(sign.input for sign in OWNER_SIGNS), MONTHLY.input),
        judge=_judge_shown,
        closes=True,
    ),
    Check(
        id="handover.documents",
        title="Papers left",
        how="Leave the papers, and name the permit.",
        inputs=(
            *(sign.input for sign in PAPER_SIGNS),
            Choice(
                "permit",
                "Permit",
                options=(
                    Option("passed", "Final inspection passed"),
                    Option("open", "Issued, final open"),
                    Option("not_needed", "Not needed here"),
                    Option("none", "Not known"),
                ),
            ),
        ),
        judge=_judge_documents,
        closes=True,
        kinds=(VisitKind.COMMISSIONING, VisitKind.SITE_RECORD),
    ),
)
