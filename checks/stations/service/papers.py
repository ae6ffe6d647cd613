"""The papers of the work, before it begins: permit, utility, consent, plans, amendments."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Situation,
    When,
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

CHECK: Final = "service.papers"
PERMIT: Final = trade("the authority having jurisdiction says which work needs a permit")
CONSENT: Final = trade("who owns the place and its circuits agrees before they are changed")
ISSUED: Final = When("permit", ("issued",))
SIGNS: Final = (
    Sign(
        YesNo("are_plans_there", "Site plan, line diagram", good=True),
        trade("a plan shows parking, panel and route; a one-line diagram the circuit"),
        "Site plan or one-line diagram is not at hand",
        "Without it nobody can compare what was permitted with what was built",
        "Have them drawn, or draw them from what is recorded here",
        Severity.NOTICE,
    ),
    Sign(
        YesNo(
            "is_licensed",
            "License fits this work",
            good=True,
            help="Class of the license, and who works under it, as the place's law asks",
        ),
        trade("the law of the place says who may do this work"),
        "The license does not cover this work",
        "Work by who may not do it is neither inspected nor insured",
        "Have a contractor with the right license take the work over",
        Severity.WARNING,
    ),
    Sign(
        YesNo(
            "are_limits_asked",
            "Local rules asked for",
            good=True,
            help="Amendments of the code; flood, heritage and zoning limits; fire lanes",
        ),
        trade("a place may change the code, and limit what is built where"),
        "Nobody asked for the place's own amendments and limits",
        "A limit of this report may be another one here",
        "Ask the authority having jurisdiction, and note what differs",
        Severity.NOTICE,
    ),
)
SCOPE: Final = Sign(
    YesNo("is_scope_same", "It covers this work", good=True, when=ISSUED),
    PERMIT,
    "The permit does not cover the work that is done",
    "What is not in the permit is not inspected",
    "Have the permit amended before work goes on",
    Severity.CAUTION,
)


def _permit(s: Situation) -> tuple[Judgement, ...]:
    permit = s.choice("service.papers.permit")
    if permit is None:
        return (not_measured("Still open: the permit", sources=(PERMIT,)),)
    if permit != "issued":
        return (_without(s, permit),)
    site = s.visit.site
    pairs = (("number", site.permit_number), ("the authority's name", site.authority))
    lacking = [what for what, there in pairs if not there]
    if lacking:
        found = unsettled(
            f"A permit is issued, but the record lacks {' and '.join(lacking)}",
            "Record them with the site",
            remedy="Record permit number and authority, and keep the card on site",
            severity=Severity.NOTICE,
            sources=(PERMIT,),
        )
    else:
        words = f"Permit {site.permit_number}, {site.authority}"
        found = seen(True, explanation=words, source=PERMIT)
    return (found, *signs_of(s, CHECK, (SCOPE,)))


def _without(s: Situation, permit: str) -> Judgement:
    if permit == "existing" and all(p.level == 1 for p in s.visit.points):
        return seen(True, explanation="An existing 120 V outlet, nothing new", source=PERMIT)
    words = {
        "existing": "Said to be nothing new, and a Level 2 charger is there",
        "none": "No permit is known",
    }[permit]
    return unsettled(
        words,
        "Ask the authority having jurisdiction whether this work needs a permit",
        why="A new outlet or circuit is inspected nearly everywhere",
        remedy="Begin no new circuit before the authority having jurisdiction has answered",
        sources=(PERMIT,),
    )


def _utility(s: Situation) -> Judgement:
    told = s.yes("service.papers.is_utility_told")
    source = trade("utilities ask to be told of a load that may outgrow their transformer")
    if told is None:
        return not_measured("Still open: is the utility told", sources=(source,))
    is_small = all(p.level == 1 for p in s.visit.points)
    words = "The utility is told" if told else "The utility is not told of the added load"
    return seen(
        told or is_small,
        explanation="Level 1 only: no load worth telling" if is_small and not told else words,
        source=source,
        why="Its transformer and drop feed the neighbors too",
        remedy="Tell the utility, and ask what its rates offer",
        severity=Severity.NOTICE,
    )


def _consent(s: Situation) -> Judgement:
    place = s.choice("service.papers.property")
    if place is None:
        return not_measured("Still open: whose place it is", sources=(CONSENT,))
    return seen(
        place != "missing",
        explanation={
            "own": "The owner's own place",
            "given": "Landlord or association agreed",
            "missing": "Landlord or association did not agree yet",
        }[place],
        source=CONSENT,
        why="What is built without consent may have to be taken out again",
        remedy="Get the consent in writing before the work begins",
        severity=Severity.CAUTION,
    )


def _judge(s: Situation) -> Judgement:
    parts = (*_permit(s), _utility(s), _consent(s), *signs_of(s, CHECK, SIGNS))
    good = "Permit, utility, consent and plans are in order"
    return together(parts, good=f"{parts[0].explanation}. {good}")


CHECKS: Final = (
    Check(
        id=CHECK,
        title="Papers of the work",
        how="Ask for the papers before anything is opened, and compare them with the work.",
        inputs=(
            Choice(
                "permit",
                "Permit",
                options=(
                    Option("issued", "Issued"),
                    Option("existing", "None, existing outlet"),
                    Option("none", "Not known"),
                ),
            ),
            SCOPE.input,
            YesNo("is_utility_told", "Utility told of the load"),
            Choice(
                "property",
                "Whose place it is",
                options=(
                    Option("own", "The owner's own"),
                    Option("given", "Rented or shared, agreed"),
                    Option("missing", "Rented or shared, not agreed"),
                ),
            ),
            *(sign.input for sign in SIGNS),
        ),
        judge=_judge,
        kinds=(VisitKind.COMMISSIONING, VisitKind.SITE_RECORD),
    ),
)
