"""What an assessment means for whoever wants to charge here, in an owner's words."""

from typing import Final

from checks.assess.model import Assessment, Row
from checks.check import CircuitState
from checks.path import subjects_at
from checks.record import Visit
from checks.verdict import Severity, Verdict

_MEANING: Final = {
    Verdict.OUTSIDE: "Something lies outside its limit.",
    Verdict.BORDERLINE: "Something could be told neither good nor bad.",
    Verdict.NOT_MEASURED: "Nothing wrong was found on this visit, but checks that apply were not "
    "made.",
    Verdict.WITHIN: "Every check that applies was made and lies within its limits.",
    Verdict.NOT_APPLICABLE: "No check applies to what was recorded.",
}
_USE: Final = {
    Severity.DANGER: "Do not use it: keep it off and locked until a licensed electrician has "
    "mended what is marked danger or warning.",
    Severity.WARNING: "Do not charge here, except in a test that a licensed electrician attends, "
    "until what is marked warning is mended.",
    Severity.CAUTION: "Have a licensed electrician mend or measure again soon what is marked "
    "caution.",
    Severity.NOTICE: "What is marked notice is worth mending; it breaks no rule.",
}


def meaning(assessment: Assessment) -> str:
    """Say the verdict in an owner's words."""
    return _MEANING[assessment.verdict]


def use(assessment: Assessment) -> str:
    """Say whether it may be used, by the worst finding; nothing where there is none.

    A person decides on return to service; this is what stands against it.
    """
    found = assessment.findings
    return _USE[found[0].severity] if found else ""


def unproved(visit: Visit, assessment: Assessment) -> tuple[Row, ...]:
    """Return what must stand before a circuit carries current, and was not made or stands no more.

    Who opens nothing could not make it, and is asked for none of it.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    """
    waiting: set[tuple[str, str]] = set()
    for point in assessment.points if visit.role.opens else ():
        loaded = next(g for g in point.gates if g.state is CircuitState.UNDER_LOAD)
        here = subjects_at(visit.point(point.point)).values()
        waiting |= {(check, subject) for check in loaded.waiting for subject in here}
    return tuple(
        r
        for r in assessment.rows
        if (r.check, r.subject) in waiting and r.judgement.verdict is not Verdict.OUTSIDE
    )
