"""What an assessment holds."""

from typing import Literal

from checks.causes import Ranking
from checks.check import CircuitState
from checks.path import Station
from checks.verdict import Judgement, Severity, Shown, Verdict, VoltageStep


class Row(Shown):
    """One check at one subject, judged.

    Parameters
    ----------
    check, title, station, subject, state : as declared
        Which check, and where.
    judgement : Judgement
        What it came to.
    entry : int or None
        The number of its last entry.
    superseded : tuple of int
        The numbers of the entries before.
    is_left_out : bool
        Its last entry is a reason for leaving it out: it opens nothing, whatever was found before.
    judged : int or None
        The number of the entry whose answers are judged: one before, where the last leaves it out.
    is_owed_again : bool
        Its last entry is of a part that was replaced, was made under a fact that was corrected
        since, on terminals that were taken off since, or leaves a question open that is asked now:
        it opens nothing, and is owed anew.
    is_apart : bool
        A test took apart what it says is together, and it was not made since, be it left out:
        nothing gets live so.
    """

    check: str
    title: str
    station: Station
    subject: str
    state: CircuitState
    judgement: Judgement
    entry: int | None = None
    superseded: tuple[int, ...] = ()
    is_left_out: bool = False
    judged: int | None = None
    is_owed_again: bool = False
    is_apart: bool = False


class StationSummary(Shown):
    """A station of one charging point's path, with its verdict and its one telling number.

    ``quantity`` says what the number is; empty where it says so itself, as a configuration does.
    """

    station: Station
    title: str
    subject: str
    verdict: Verdict
    telling: str = ""
    quantity: str = ""


class Gate(Shown):
    """Whether a circuit may be brought into a state.

    Parameters
    ----------
    state : CircuitState
        The state.
    is_open : bool
        Whether it may be entered.
    waiting : tuple of str
        Checks that keep it shut: outside, or not made.
    first : tuple of str
        Checks that must be made anew in it before anything else.
    """

    state: CircuitState
    is_open: bool
    waiting: tuple[str, ...] = ()
    first: tuple[str, ...] = ()


class PointSummary(Shown):
    """One charging point: its path, its gates, its voltage staircase."""

    point: str
    name: str
    verdict: Verdict
    path: tuple[StationSummary, ...]
    beside: tuple[StationSummary, ...]
    gates: tuple[Gate, ...]
    staircase: tuple[VoltageStep, ...] = ()


class Finding(Shown):
    """An outside or borderline judgement."""

    severity: Severity
    row: Row


class SetAside(Shown):
    """A danger or a warning that was found on this visit, and stands no more by a correction.

    Parameters
    ----------
    finding : Finding
        As it stood before.
    correction, at : int, str
        Number of the correction, and when it was made.
    what : str
        What was corrected: the supply, the code, the site, or a panel or point by its name.
    is_judged_anew : bool
        Only the code or the supply was corrected, and the same answers are judged by the one that
        is named now: it is no doubt about what is there.
    """

    finding: Finding
    correction: int
    at: str
    what: str
    is_judged_anew: bool = False

    @property
    def severity(self) -> Severity:
        """How grave it is to be told: what the code named now makes no doubt of is a notice."""
        return Severity.NOTICE if self.is_judged_anew else self.finding.severity


class Repeat(Shown):
    """A check that was made again after something was mended: as it was found, and as it is now.

    A symptom is told once: it is not made again, and what explains it stands in its place.
    """

    before: Row
    after: Row

    @property
    def is_told_once(self) -> bool:
        """Whether nothing was made again: what was told is explained and mended."""
        return self.before.entry == self.after.entry


class Assessment(Shown):
    """What the record means: derived, never stored as truth.

    ``causes`` ranks, on a service call, the causes of each charging point's fault as it was found;
    ``repeats`` holds what was made again after mending, and the symptoms that a mended cause
    explains, in the order of the rows. ``set_aside`` holds the dangers and warnings that stand
    as neither any more because a fact was corrected.
    """

    schema_version: Literal[1] = 1
    software: str
    code: str
    visit: str
    revision: int
    verdict: Verdict
    rows: tuple[Row, ...]
    findings: tuple[Finding, ...]
    points: tuple[PointSummary, ...]
    causes: tuple[Ranking, ...] = ()
    repeats: tuple[Repeat, ...] = ()
    set_aside: tuple[SetAside, ...] = ()

    def row(self, check: str, at: str) -> Row:
        """Return the row of a check at a subject; KeyError when there is none."""
        return {(r.check, r.subject): r for r in self.rows}[check, at]

    @property
    def is_grave(self) -> bool:
        """Whether a danger or a warning was found."""
        return any(f.severity.is_grave for f in self.findings)

    @property
    def may_be_so(self) -> tuple[SetAside, ...]:
        """What a correction set aside, and nobody can say is not so."""
        return tuple(each for each in self.set_aside if not each.is_judged_anew)

    @property
    def unfinished(self) -> tuple[Row, ...]:
        """The checks that apply and were not measured."""
        return tuple(r for r in self.rows if r.judgement.verdict is Verdict.NOT_MEASURED)
