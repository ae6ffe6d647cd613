"""From a record to an assessment: the only loop over the checks."""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from checks.check import (
    STATE_ORDER,
    Check,
    CircuitState,
    Errors,
    Situation,
    latest_entries,
    not_measured,
)
from checks.codes.profile import CodeProfile
from checks.path import BESIDE, Station, path, subject, subjects, title
from checks.record import Entry, StateEntry, Visit
from checks.stations.all import CHECKS
from checks.verdict import Judgement, Severity, Shown, Verdict, VoltageStep, worst

SOFTWARE: Final = "0.1.0"
BY_ID: Final[Mapping[str, Check]] = {check.id: check for check in CHECKS}


class Row(Shown):
    """One check at one subject, judged."""

    check: str
    title: str
    station: Station
    subject: str
    state: CircuitState
    judgement: Judgement
    entry: int | None = None
    superseded: tuple[int, ...] = ()


class StationSummary(Shown):
    """A station of one charging point's path, with its verdict and its one telling number."""

    station: Station
    title: str
    subject: str
    verdict: Verdict
    telling: str = ""


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


class Assessment(Shown):
    """What the record means: derived, never stored as truth."""

    schema_version: Literal[1] = 1
    software: str
    code: str
    visit: str
    revision: int
    verdict: Verdict
    rows: tuple[Row, ...]
    findings: tuple[Finding, ...]
    points: tuple[PointSummary, ...]

    def row(self, check: str, at: str) -> Row:
        """Return the row of a check at a subject; KeyError when there is none."""
        return {(r.check, r.subject): r for r in self.rows}[check, at]

    @property
    def unfinished(self) -> tuple[Row, ...]:
        """The checks that apply and were not measured."""
        return tuple(r for r in self.rows if r.judgement.verdict is Verdict.NOT_MEASURED)


def assess(visit: Visit, code: CodeProfile) -> Assessment:
    """Assess a record under a code.

    Pure, deterministic and total: no clock, blind to the order of entries in the file, and any
    valid record, however incomplete, gives an assessment.

    Parameters
    ----------
    visit : Visit
        The record, as `checks.intake.read_visit` lets it in.
    code : CodeProfile
        The code profile.

    Returns
    -------
    Assessment
        Verdicts, limits, findings ordered by severity and then along the path.
    """
    errors = Errors()
    latest = latest_entries(visit)
    numbers = _numbers(visit)
    rows = tuple(
        _row(check, Situation(visit, code, at, errors, latest), numbers)
        for check in CHECKS
        for at in subjects(check.station, visit)
    )
    order = list(Severity)
    findings = sorted(
        (
            Finding(severity=r.judgement.severity or Severity.NOTICE, row=r)
            for r in rows
            if r.judgement.verdict in (Verdict.OUTSIDE, Verdict.BORDERLINE)
        ),
        key=lambda f: order.index(f.severity),  # rows already run along the path
    )
    return Assessment(
        software=SOFTWARE,
        code=code.name,
        visit=visit.id,
        revision=visit.revision,
        verdict=worst(r.judgement.verdict for r in rows),
        rows=rows,
        findings=tuple(findings),
        points=tuple(_point(visit, p.id, rows) for p in visit.points),
    )


def trial(visit: Visit, code: CodeProfile, entry: Entry) -> Judgement:
    """Judge one entry that is still being made, without keeping it."""
    tried = visit.model_copy(update={"entries": (*visit.entries, entry)})
    situation = Situation(tried, code, entry.subject)
    return _judge(BY_ID[entry.check], situation, situation.entry(entry.check))


def _numbers(visit: Visit) -> dict[tuple[str, str], list[int]]:
    """Return the numbers of all entries of each check and subject, rising."""
    found: dict[tuple[str, str], list[int]] = {}
    for entry in sorted(visit.entries, key=lambda e: e.number):
        found.setdefault((entry.check, entry.subject), []).append(entry.number)
    return found


def _row(check: Check, situation: Situation, numbers: dict[tuple[str, str], list[int]]) -> Row:
    entry = situation.entry(check.id)
    made = numbers.get((check.id, situation.subject), [])
    return Row(
        check=check.id,
        title=check.title,
        station=check.station,
        subject=situation.subject,
        state=check.state,
        judgement=_judge(check, situation, entry),
        entry=None if entry is None else entry.number,
        superseded=tuple(made[:-1]),
    )


def _judge(check: Check, situation: Situation, entry: Entry | None) -> Judgement:
    why_not = check.not_here_because(situation)
    if why_not:
        return Judgement(verdict=Verdict.NOT_APPLICABLE, explanation=why_not)
    judged = check.judge(situation)
    if entry is not None and entry.not_done is not None:
        left_out = ": ".join(t for t in (entry.not_done.reason, entry.not_done.text) if t)
        return not_measured(f"Left out, {left_out}", judged.limits, judged.sources)
    return judged


def _point(visit: Visit, point_id: str, rows: Sequence[Row]) -> PointSummary:
    point = visit.point(point_id)
    mine = [r for r in rows if r.subject == subject(r.station, point)]

    def summary(station: Station) -> StationSummary:
        here = [r for r in mine if r.station is station]
        telling = next((r.judgement.telling for r in here if BY_ID[r.check].tells), "")
        return StationSummary(
            station=station,
            title=title(station, point),
            subject=subject(station, point),
            verdict=worst(r.judgement.verdict for r in here),
            telling=telling,
        )

    stations = tuple(summary(s) for s in path(point))
    beside = tuple(summary(s) for s in BESIDE)
    return PointSummary(
        point=point.id,
        name=point.name,
        verdict=worst(s.verdict for s in (*stations, *beside)),
        path=stations,
        beside=beside,
        gates=_gates(visit, point_id, mine),
        staircase=tuple(step for r in mine for step in r.judgement.steps),
    )


def _gates(visit: Visit, point_id: str, rows: Sequence[Row]) -> tuple[Gate, ...]:
    """Each state opens only when the gating checks of the states before it stand.

    What was read live counts no longer for it once the circuit was made dead again: it may have
    been changed since.
    """
    gates = []
    waiting: list[str] = []
    mine = [s for s in visit.states if s.point == point_id]
    last: dict[str, int] = {s.state: s.number for s in sorted(mine, key=_number)}
    for state in STATE_ORDER:
        here = [r for r in rows if _stands_in(r.state, state)]
        since = last.get(state.value, 0)
        first = [r.check for r in here if BY_ID[r.check].proves and _shut(r, since)]
        gates.append(
            Gate(state=state, is_open=not waiting, waiting=tuple(waiting), first=tuple(first))
        )
        live_since = 0 if state is CircuitState.DEAD else last.get(CircuitState.DEAD.value, 0)
        waiting += [r.check for r in here if BY_ID[r.check].gates and _shut(r, live_since)]
        waiting += [check for check in first if check not in waiting]
    return tuple(gates)


def _number(entry: StateEntry) -> int:
    return entry.number


def _stands_in(needed: CircuitState, state: CircuitState) -> bool:
    """Whether a check is made in this state; what needs no state comes with the first."""
    stateless = (CircuitState.ANY, CircuitState.NO_CURRENT)
    return needed is state or (needed in stateless and state is CircuitState.DEAD)


def _shut(row: Row, since: int) -> bool:
    """Whether this check keeps the next state shut: outside, missing, or older than the state."""
    if row.judgement.verdict is Verdict.NOT_APPLICABLE:
        return False
    bad = row.judgement.verdict in (Verdict.OUTSIDE, Verdict.NOT_MEASURED)
    return bad or (row.entry or 0) < since
