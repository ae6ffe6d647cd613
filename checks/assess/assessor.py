"""The only loop over the checks."""

import traceback
from collections.abc import Collection, Sequence

from checks import SOFTWARE
from checks.assess import anew
from checks.assess.aside import Corrected
from checks.assess.explained import explained
from checks.assess.mending import as_found
from checks.assess.model import Assessment, Finding, PointSummary, Repeat, Row
from checks.assess.point import summarize
from checks.assess.reopened import of_open_questions
from checks.causes import Ranking, View, bars, rank
from checks.check import (
    Check,
    Errors,
    Gone,
    Key,
    Situation,
    gone_entries,
    latest_entries,
    left_out,
    not_measured,
)
from checks.check.corrected import states_that_stand
from checks.codes import profile
from checks.codes.profile import CodeProfile
from checks.errors import NotAssessedError
from checks.path import subjects, subjects_at
from checks.record import ChargingPoint, Entry, StateEntry, Visit, VisitKind
from checks.stations.all import BY_ID, CHECKS
from checks.verdict import Judgement, Severity, Verdict, worst


def assess(visit: Visit, code: CodeProfile, *, with_set_aside: bool = True) -> Assessment:
    """Assess a record under a code.

    Pure, deterministic and total: no clock, blind to the order of entries in the file, and any
    valid record, however incomplete, gives an assessment.

    Parameters
    ----------
    visit : Visit
        The record, as `checks.intake.read_visit` lets it in.
    code : CodeProfile
        The code profile.
    with_set_aside : bool
        Say too what corrections set aside; each of them takes assessments of its own.

    Returns
    -------
    Assessment
        Verdicts, limits, findings ordered by severity and then along the path.
    """
    assessor = Assessor(code)
    return assessor.assess(visit) if with_set_aside else assessor.assess_alone(visit)


class Assessor:
    """Assesses one record again and again while it grows, judging only what a change touches.

    It remembers what each judge read. The result is the same as that of `assess`, byte for byte.

    Parameters
    ----------
    code : CodeProfile
        The code profile.
    keeps_old_parts : bool
        What was said of a part that was replaced counts all the same: it tells of the fault.
    """

    def __init__(self, code: CodeProfile, *, keeps_old_parts: bool = False) -> None:
        self._code, self._keeps_old_parts = code, keeps_old_parts
        self._installed: dict[str, object] = {}
        self._latest: dict[Key, Entry] = {}
        self._gone: dict[Key, Gone] = {}
        self._errors = Errors()
        self._numbers: dict[Key, list[int]] = {}
        self._rows: dict[Key, Row] = {}
        self._reads: dict[Key, set[Key]] = {}
        self._points: dict[str, tuple[list[Row], list[StateEntry], PointSummary]] = {}
        self._kept_off_by: dict[str, tuple[str, ...]] = {}  # by charging point
        self._views: dict[str, tuple[PointSummary, View]] = {}
        self._rankings: dict[str, tuple[View, View, Ranking]] = {}
        self._corrected = Corrected(self._before)
        self._as_found: Assessor | None = None  # made once something is made again after mending

    def assess(self, visit: Visit) -> Assessment:
        """Assess a record; see `assess`.

        Raises
        ------
        NotAssessedError
            A fault of this software, told as what keeps this one record from being judged.
        """
        made = self.assess_alone(visit)
        try:
            aside = self._corrected.set_aside(visit, made)
        except Exception as error:
            raise _not_assessed(visit, error) from error
        return made.model_copy(update={"set_aside": aside}) if aside else made

    def _before(self, visit: Visit) -> Assessment:
        """Assess a record as it was, by the code that it named then."""
        return Assessor(profile(visit.code)).assess_alone(visit)

    def assess_alone(self, visit: Visit) -> Assessment:
        """Assess a record, but for what its corrections set aside."""
        try:
            return self._assess(visit)
        except Exception as error:
            self._installed, self._as_found = {}, None  # what was half judged is judged anew
            raise _not_assessed(visit, error) from error

    def _assess(self, visit: Visit) -> Assessment:
        rows, points = self._judged(visit)
        before = as_found(visit)
        if before is visit and not self._gone:
            return _assessment(visit, self._code, rows, points, self._searches(visit, self))
        if self._as_found is None:
            self._as_found = Assessor(self._code, keeps_old_parts=True)
        found, _ = self._as_found._judged(before)
        causes = self._searches(visit, self._as_found)
        views = {point: view for point, (_, view) in self._as_found._views.items()}
        settled = explained(visit, rows, causes, views)
        if settled:
            rows = tuple(settled.get((r.check, r.subject), r) for r in rows)
            points = tuple(self._settled(visit, summary, settled) for summary in points)
        repeats = _repeats(visit, found, rows, settled)
        return _assessment(visit, self._code, rows, points, causes, repeats)

    def _settled(
        self, visit: Visit, summary: PointSummary, settled: dict[Key, Row]
    ) -> PointSummary:
        """Sum a charging point up anew with symptoms that no longer stand."""
        rows, states, _ = self._points[summary.point]
        mine = [settled.get((r.check, r.subject), r) for r in rows]
        point, kept_off_by = visit.point(summary.point), self._kept_off_by[summary.point]
        return summarize(point, mine, states, opens=visit.role.opens, kept_off_by=kept_off_by)

    def looked_for(self, check: str, subject: str) -> tuple[str, ...]:
        """Return the checks whose entries a judge looked up at the last record, and found none.

        One of a part that was replaced since, or made under what was corrected since, is none.
        """
        reads = self._reads.get((check, subject), ())
        return tuple(sorted(k[0] for k in reads if k not in self._latest or k in self._gone))

    def _judged(self, visit: Visit) -> tuple[tuple[Row, ...], tuple[PointSummary, ...]]:
        """Judge every check, and sum up every charging point."""
        latest, numbers, left = latest_entries(visit), _numbers(visit), left_out(visit)
        gone = gone_entries(visit, latest, keeps_old_parts=self._keeps_old_parts)
        gone |= of_open_questions(visit, self._code, latest, gone)
        self._forget(visit, latest, numbers, gone)
        errors = self._errors = Errors()
        rows: list[Row] = []
        for check in CHECKS:
            for at in subjects(check.station, visit):
                key = check.id, at
                if key not in self._rows:
                    reads = self._reads[key] = {key}
                    here = Situation(visit, self._code, at, errors, latest, reads, gone=gone)
                    self._rows[key] = _row(check, here, numbers.get(key, []), left.get(key))
                rows.append(self._rows[key])
        points = self._summaries(visit)
        if visit.kind is VisitKind.SERVICE_CALL:
            self._look(visit, points)
        return tuple(rows), points

    def _forget(
        self,
        visit: Visit,
        latest: dict[Key, Entry],
        numbers: dict[Key, list[int]],
        gone: dict[Key, Gone],
    ) -> None:
        """Drop every row whose judge read something that has changed."""
        # all that a judge may read beside the entries
        growing = {"entries", "states", "revision", "signoff"}
        installed = {k: v for k, v in visit if k not in growing}
        if installed != self._installed:
            self._rows, self._reads, self._points = {}, {}, {}
        else:
            before = self._latest
            changed = {
                key
                for key in before.keys() | latest.keys()
                if before.get(key) is not latest.get(key) and before.get(key) != latest.get(key)
            }
            changed |= {key for key in numbers if numbers[key] != self._numbers.get(key)}
            parts = gone.items() ^ self._gone.items() if gone != self._gone else ()
            changed |= {key for key, _ in parts}
            touched = [key for key, reads in self._reads.items() if reads & changed]
            for key in touched:
                del self._rows[key]
        self._installed, self._latest, self._numbers = installed, latest, numbers
        self._gone = gone

    def _look(self, visit: Visit, points: Sequence[PointSummary]) -> None:
        """Keep what the causes may read of each point; with its summary the view stays the same."""
        for summary in points:
            kept = self._views.get(summary.point)
            if kept is None or kept[0] is not summary:
                rows = self._points[summary.point][0]
                self._views[summary.point] = summary, self._view(visit, summary.point, rows)

    def _view(self, visit: Visit, point: str, rows: Sequence[Row]) -> View:
        here = Situation(visit, self._code, point, self._errors, self._latest, gone=self._gone)
        return View(here, {r.check: r.judgement for r in rows})

    def _searches(self, visit: Visit, found: "Assessor") -> tuple[Ranking, ...]:
        """Rank the causes on a service call by what was found, safe by what is so now."""
        if visit.kind is not VisitKind.SERVICE_CALL:
            return ()
        for point in visit.points:
            summary, now = self._views[point.id]
            then = found._views[point.id][1]
            kept = self._rankings.get(point.id)
            if kept is None or kept[0] is not then or kept[1] is not now:
                waiting = {g.state: (*g.waiting, *g.first) for g in summary.gates}
                self._rankings[point.id] = then, now, rank(then, now, waiting)
        return tuple(self._rankings[p.id][2] for p in visit.points)

    def _summaries(self, visit: Visit) -> tuple[PointSummary, ...]:
        states: dict[str, list[StateEntry]] = {}
        for entry in states_that_stand(visit):
            states.setdefault(entry.point, []).append(entry)
        return tuple(self._summary(visit, p, states.get(p.id, [])) for p in visit.points)

    def _summary(
        self, visit: Visit, point: ChargingPoint, states: list[StateEntry]
    ) -> PointSummary:
        places = subjects_at(point)
        found = (self._rows.get((c.id, places[c.station.scope])) for c in CHECKS)
        mine = [r for r in found if r is not None]
        kept = self._points.get(point.id)
        if kept is not None and kept[1] == states and _same(kept[0], mine):
            return kept[2]
        is_call = visit.kind is VisitKind.SERVICE_CALL
        barred = bars(self._view(visit, point.id, mine)) if is_call else {}
        kept_off_by = self._kept_off_by[point.id] = tuple(
            c for found in barred.values() for c in found
        )
        made = summarize(point, mine, states, opens=visit.role.opens, kept_off_by=kept_off_by)
        self._points[point.id] = mine, states, made
        return made


def _not_assessed(visit: Visit, error: Exception) -> NotAssessedError:
    """Say which record cannot be judged, and for the maker where that failed."""
    *_, last = traceback.extract_tb(error.__traceback__)
    return NotAssessedError(
        f"it cannot be judged ({type(error).__name__} in {last.name}, line {last.lineno})",
        where=f"visit {visit.id}",
        remedy="What is on disk is kept as it is. If a number was just entered, correct it; else "
        "export the visit for the maker of this app",
    )


def _same(before: Sequence[Row], now: Sequence[Row]) -> bool:
    return len(before) == len(now) and all(a is b for a, b in zip(before, now, strict=True))


def _assessment(
    visit: Visit,
    code: CodeProfile,
    rows: tuple[Row, ...],
    points: tuple[PointSummary, ...],
    causes: tuple[Ranking, ...],
    repeats: tuple[Repeat, ...] = (),
) -> Assessment:
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
        points=points,
        causes=causes,
        repeats=repeats,
    )


def _repeats(
    visit: Visit, found: Sequence[Row], rows: Sequence[Row], settled: Collection[Key]
) -> tuple[Repeat, ...]:
    """Return what was found and is made again after mending or explained, before and after."""
    again = {e.number for e in visit.entries if e.after_mending}
    return tuple(
        Repeat(before=before, after=after)
        for before, after in zip(found, rows, strict=True)
        if (after.entry in again or (after.check, after.subject) in settled)
        and before.entry is not None
    )


def trial(visit: Visit, code: CodeProfile, entry: Entry) -> Judgement:
    """Judge one entry that is still being made, without keeping it."""
    tried = visit.model_copy(update={"entries": (*visit.entries, entry)})
    try:
        return _judge(BY_ID[entry.check], Situation(tried, code, entry.subject))
    except Exception as error:
        raise _not_assessed(visit, error) from error


def _numbers(visit: Visit) -> dict[tuple[str, str], list[int]]:
    """Return the numbers of all entries of each check and subject, rising."""
    found: dict[tuple[str, str], list[int]] = {}
    for entry in sorted(visit.entries, key=lambda e: e.number):
        found.setdefault((entry.check, entry.subject), []).append(entry.number)
    return found


def _row(check: Check, situation: Situation, made: Sequence[int], left: Entry | None) -> Row:
    found, judged = _judge(check, situation, left), situation.as_it_was.entry(check.id)
    since = situation.gone.get((check.id, situation.subject))
    is_here = found.verdict is not Verdict.NOT_APPLICABLE
    undone, last = check.undone(situation), made[-1] if made else 0
    done = 0 if judged is None or judged.not_done is not None else judged.number
    return Row(
        check=check.id,
        title=check.title,
        station=check.station,
        subject=situation.subject,
        state=check.state,
        judgement=found,
        entry=last or None,
        superseded=tuple(made[:-1]),
        is_left_out=left is not None,
        judged=None if judged is None else judged.number,
        is_owed_again=is_here and 0 < last < max(0 if since is None else since.number, undone),
        is_apart=is_here and done < undone,
    )


def _judge(check: Check, situation: Situation, left: Entry | None = None) -> Judgement:
    """Judge a check; one that was left out in the end is never within, and hides nothing found."""
    judged = anew.judge(check, situation)
    is_here = judged.verdict is not Verdict.NOT_APPLICABLE
    if left is None or left.not_done is None or not is_here:
        return judged
    reason = ": ".join(t for t in (left.not_done.reason, left.not_done.text) if t)
    if judged.verdict not in (Verdict.OUTSIDE, Verdict.BORDERLINE):
        return not_measured(f"Left out, {reason}", judged.limits, judged.sources)
    return judged.model_copy(
        update={"explanation": f"{judged.explanation}. Later left out, {reason}"}
    )
