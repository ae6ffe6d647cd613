"""What an assessment means for whoever wants to charge here, in an owner's words."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from checks.assess.model import Assessment, SetAside
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
_ASIDE: Final = {
    Verdict.NOT_MEASURED: "What was found on this visit was set aside by a correction and may be "
    "so yet, and checks that apply were not made.",
    Verdict.WITHIN: "Every check that applies was made and lies within its limits; what a "
    "correction set aside may be so yet.",
    Verdict.NOT_APPLICABLE: "No check applies to what was recorded; what a correction set aside "
    "may be so yet.",
}
_USE: Final = {
    Severity.DANGER: "Do not use it: keep it off and locked until a licensed electrician has "
    "mended what is marked danger or warning.",
    Severity.WARNING: "Do not charge here until a licensed electrician has mended what is marked "
    "warning.",
    Severity.CAUTION: "Have a licensed electrician mend or measure again soon what is marked "
    "caution.",
    Severity.NOTICE: "What is marked notice is worth mending; it breaks no rule.",
}


def meaning(assessment: Assessment) -> str:
    """Say the verdict in an owner's words."""
    said = _ASIDE.get(assessment.verdict) if assessment.may_be_so else None
    return said or _MEANING[assessment.verdict]


def set_aside(visit: Visit, assessment: Assessment) -> str:
    """Name what was found grave and may be so yet, set aside by a correction; empty without.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    """
    if not assessment.may_be_so:
        return ""
    named = _named(visit, assessment.may_be_so)
    return (
        f"Found on this visit and set aside by a correction: {named}. It may be so yet: "
        "have it looked at."
    )


def told_aside(visit: Visit, assessment: Assessment) -> Iterator[tuple[Severity, str]]:
    """Say what corrections set aside, first what may be so yet; each with its signal word.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    """
    if assessment.may_be_so:
        yield assessment.may_be_so[0].severity, set_aside(visit, assessment)
    anew = _judged_anew(visit, assessment)
    if anew:
        yield Severity.NOTICE, anew


def _judged_anew(visit: Visit, assessment: Assessment) -> str:
    """Name what is grave no more by the code or the supply that is named now; empty without."""
    anew = [each for each in assessment.set_aside if each.is_judged_anew]
    of: dict[str, list[SetAside]] = {}
    for each in anew:
        of.setdefault(each.what, []).append(each)
    return " ".join(
        f"A danger or a warning under {what} named before, and neither under the one named now: "
        f"{_named(visit, told)}."
        for what, told in of.items()
    )


def _named(visit: Visit, aside: Sequence[SetAside]) -> str:
    rows = [each.finding.row for each in aside]
    return "; ".join(f"{row.title} ({visit.name_of(row.subject)})" for row in rows)


def each_set_aside(visit: Visit, assessment: Assessment) -> tuple[str, ...]:
    """Say of each what was found, and which correction set it aside.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    """
    return tuple(
        f"{each.finding.row.title} ({visit.name_of(each.finding.row.subject)}), "
        f"a {each.finding.severity} under {each.what} named before and none under the one named "
        f"now: {each.finding.row.judgement.explanation}."
        if each.is_judged_anew
        else f"{each.finding.row.title} ({visit.name_of(each.finding.row.subject)}), "
        f"set aside by the correction of {each.what}: {each.finding.row.judgement.explanation}."
        for each in assessment.set_aside
    )


def use(assessment: Assessment) -> str:
    """Say whether it may be used, by the worst finding; nothing where there is none.

    A person decides on return to service; this is what stands against it.
    """
    found = assessment.findings
    return _USE[found[0].severity] if found else ""


def kept_off(assessment: Assessment) -> tuple[str, ...]:
    """Say what keeps a circuit off on a service call: what was found, and is not proved sound yet.

    It is no finding of its own, and stands against every use as a danger does.
    """
    several = len(assessment.points) > 1
    return tuple(
        f"{ranking.name}: {why}" if several else why
        for ranking in assessment.causes
        for why in ranking.barred
    )


class NotProved(NamedTuple):
    """What must stand before a circuit carries current, and does not.

    Parameters
    ----------
    not_made : tuple of str
        The titles of checks that were not made.
    not_since : tuple of str
        The titles of those that were made before the circuit was last switched off.
    """

    not_made: tuple[str, ...]
    not_since: tuple[str, ...]


def not_proved(visit: Visit, assessment: Assessment) -> NotProved:
    """Return what must stand before a circuit carries current, and does not.

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
    not_made: dict[str, None] = {}
    not_since: dict[str, None] = {}
    for row in assessment.rows:
        verdict = row.judgement.verdict
        if (row.check, row.subject) in waiting and verdict is not Verdict.OUTSIDE:
            is_missing = verdict is Verdict.NOT_MEASURED or row.is_left_out or row.is_owed_again
            (not_made if is_missing else not_since)[row.title] = None
    return NotProved(tuple(not_made), tuple(not_since))
