"""The text for a lock-out tag; the lock itself is physical."""

from typing import Final

from checks.assess.model import Assessment
from checks.causes import Status
from checks.record import Visit

# 29 CFR 1910.333(b)(2)(iii)(B): a tag forbids to operate the disconnect and to take the tag away.
LEGEND: Final = "DANGER. DO NOT ENERGIZE. DO NOT OPERATE. DO NOT REMOVE THIS TAG."
OWN_LOCK: Final = "Only who applied lock and tag takes them off. This text locks nothing."


def tag(visit: Visit, assessment: Assessment) -> tuple[tuple[str, str], ...]:
    """Return what is written on the tag, as label and words; the legend has no label.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means: the proven cause, or else the worst finding, says why.
    """
    person = visit.technician
    proven = [r.causes[0].title for r in assessment.causes if r.status is Status.PROVEN]
    found = [f"{f.row.title}: {f.row.judgement.verdict}" for f in assessment.findings]
    why = next(iter((*proven, *found)), "Kept out of service by decision")
    return (
        ("", LEGEND),
        ("Where", ", ".join((*(p.name for p in visit.points), visit.site.name))),
        ("Why", f"{why}."),
        ("Applied by", ", ".join(t for t in (person.name, person.company) if t)),
        ("On", (visit.signoff.at if visit.signoff else visit.started)[:10]),
        ("", OWN_LOCK),
    )
