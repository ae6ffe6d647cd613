"""What is left to be done, as one list: what the findings ask for, then the checks by state."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Final

from checks.assess.model import Assessment, Finding, Row
from checks.stations import symptoms
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Shown, Verdict

# How anything is mended; each remedy says more (29 CFR 1910.333(a)(1), from memory).
MENDING: Final = (
    "Off, locked and proved dead wherever a hand may come to a conductor: in a panel its bus as "
    "well. At the service the line side stays live all the same. Who may not open and switch here "
    "leaves it to who may."
)


# What stands over checks on a live circuit where something grave was found.
CLEARED: Final = "Not before what is marked danger or warning is mended."


class Part(StrEnum):
    """A part of the work: the mending, then the checks of each state of the circuit."""

    MEND = "First what the findings ask for"
    DEAD = "Then check with each circuit off, locked and proved dead"
    NO_CURRENT = "Then check with no charge running"
    ANY = "Then check in whatever state"
    ENERGISED = "Then check energised, without load"
    UNDER_LOAD = "Then check under load"

    def rule(self, assessment: Assessment) -> str:
        """Return what is to be heeded throughout this part; empty where there is nothing more."""
        if self is Part.MEND:
            return MENDING
        is_live = self in (Part.ENERGISED, Part.UNDER_LOAD)
        return CLEARED if is_live and assessment.is_grave else ""


class Task(Shown):
    """One thing to do.

    Parameters
    ----------
    part : Part
        When.
    row : Row
        The check that it is about.
    what : str
        What to do: the remedy, what settles what is borderline, why a check was left out; empty
        where a check is made again and that is all.
    """

    part: Part
    row: Row
    what: str = ""

    @property
    def told(self) -> str:
        """What is to be done, without a full stop."""
        return self.what or "Make the check again"


def work(assessment: Assessment) -> tuple[Task, ...]:
    """Return what the findings ask for, and the checks that are to be made, in their order.

    The remedies come first, the worst finding first: dead wherever a hand may come to a conductor
    (`MENDING`). Then come the checks, those of what was found again and those that were left out,
    by the state that each asks for, so that a circuit is brought once into each; what proves a
    state comes before what rests on it. A symptom is told, and not told again.

    Parameters
    ----------
    assessment : Assessment
        What the record means.
    """
    mended = [
        Task(part=Part.MEND, row=f.row, what=asked)
        for f in assessment.findings
        if (asked := _asked(f.row.judgement))
    ]
    checked = [*_made_again(assessment.findings), *_left_out(assessment.unfinished)]
    parts, along = list(Part), {_key(row): n for n, row in enumerate(assessment.rows)}
    checked.sort(key=lambda t: (parts.index(t.part), not _proves(t.row), along[_key(t.row)]))
    return (*mended, *checked)


def _made_again(findings: tuple[Finding, ...]) -> Iterator[Task]:
    for finding in findings:
        row, judged = finding.row, finding.row.judgement
        if row.check not in symptoms.IDS:
            is_open = judged.verdict is Verdict.BORDERLINE and judged.settles != _asked(judged)
            what = judged.settles if is_open else ""
            yield Task(part=Part[row.state.name], row=row, what=what)


def _asked(judged: Judgement) -> str:
    """Return what a finding asks for: its remedy, or else what settles it."""
    return judged.remedy or judged.settles


def _left_out(unfinished: tuple[Row, ...]) -> Iterator[Task]:
    """Return what has a reason or half an entry; what nobody began stands on the path."""
    for row in unfinished:
        if row.entry is not None:
            yield Task(part=Part[row.state.name], row=row, what=row.judgement.explanation)


def _key(row: Row) -> tuple[str, str]:
    return row.check, row.subject


def _proves(row: Row) -> bool:
    check = BY_ID.get(row.check)
    return check is not None and check.proves
