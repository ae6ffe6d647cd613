"""What is left to be done, in the order of the least switching."""

from collections.abc import Iterator
from enum import StrEnum

from checks.assess.model import Assessment, Finding, Row
from checks.path import Station
from checks.stations.all import BY_ID
from checks.verdict import Shown, Verdict

_ON_THE_CIRCUIT = frozenset(Station) - {
    Station.SERVICE,
    Station.ADAPTER,
    Station.VEHICLE,
    Station.SURROUNDINGS,
    Station.HANDOVER,
}
_COUPLED = frozenset({Station.ADAPTER, Station.VEHICLE})


class Part(StrEnum):
    """A part of the work: one state of the circuit, in the order in which they follow."""

    DEAD = "With the circuit off, locked and proved dead"
    NO_CURRENT = "With no charge running"
    ANY = "Whatever state the circuit is in"
    ENERGISED = "Energised, without load"
    UNDER_LOAD = "Under load"
    OPEN = "To settle what is borderline"


class Task(Shown):
    """One thing to do.

    Parameters
    ----------
    part : Part
        When.
    row : Row
        The check that it is about.
    what : str
        What to do; of a check that was left out, why; empty where a check is only made again.
    is_repeat : bool
        The check is to be made again, after what is mended.
    """

    part: Part
    row: Row
    what: str = ""
    is_repeat: bool = False

    @property
    def told(self) -> str:
        """What is to be done, in one or two sentences without the last full stop."""
        if not self.is_repeat:
            return self.what
        return f"{self.what}. Then make the check again" if self.what else "Make the check again"


def work(assessment: Assessment) -> tuple[Task, ...]:
    """Return what the findings ask for and what was left out, in the order of the work.

    What is outside is mended first, dead where it is part of the circuit; then its check is made
    again in the state that it asks for, and what was left out beside it. So the circuit is brought
    once into each state. What is borderline is settled by other readings and comes last.

    Parameters
    ----------
    assessment : Assessment
        What the record means.
    """
    tasks = [task for f in assessment.findings for task in _of(f)]
    tasks += [
        Task(part=Part[row.state.name], row=row, what=row.judgement.explanation)
        for row in assessment.unfinished
        if row.entry is not None
    ]
    order = list(Part)
    return tuple(sorted(tasks, key=lambda task: order.index(task.part)))


def _of(finding: Finding) -> Iterator[Task]:
    row, judged = finding.row, finding.row.judgement
    if judged.verdict is Verdict.BORDERLINE:
        said = (judged.remedy, judged.settles)
        yield Task(part=Part.OPEN, row=row, what=". ".join(filter(None, said)))
        return
    mended, made = _mended_in(row), Part[row.state.name]
    is_at_once = made in (Part.ANY, mended)  # the check is made again where it was mended
    yield Task(part=mended, row=row, what=judged.remedy, is_repeat=is_at_once)
    if not is_at_once:
        yield Task(part=made, row=row, is_repeat=True)


def _mended_in(row: Row) -> Part:
    """Return the part in which a finding is mended: dead where a hand may meet a conductor."""
    if BY_ID[row.check].hands_off:
        return Part.ANY
    if row.station in _ON_THE_CIRCUIT:
        return Part.DEAD
    return Part.NO_CURRENT if row.station in _COUPLED else Part.ANY
