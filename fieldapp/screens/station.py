"""One station: its checks with their verdicts, and why one may not be made now."""

from functools import partial

from checks.assess import Row
from checks.intake import BY_ID
from checks.path import Station, subject, title
from checks.verdict import WORST_FIRST
from fieldapp.screens.causes import likely
from fieldapp.screens.facts import correct_here
from fieldapp.screens.onward import ASK_VEHICLE, ask_vehicle, is_work_first, to_work
from fieldapp.screens.rows import Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded, main_key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.screens.trade_phrases import row_key, row_line
from fieldapp.walk.agenda import Step
from fieldapp.walk.thread import is_service_call, ranking_of
from fieldapp.widgets import KeyButton, VerdictTag, Words


class StationScreen(Screen):
    """``of`` is the station."""

    is_at_station = True

    def fill(self) -> None:
        """List the checks that apply here, the worst first, those not yet, and those not here."""
        walk, station = self.walk, Station(self.of)
        steps = [s for s in walk.steps if s.row.station is station]
        summary = next(p for p in walk.assessment.points if p.point == walk.point_id)
        here = next(s for s in (*summary.path, *summary.beside) if s.station is station)
        self.title, self.subtitle = title(station, walk.point), walk.point.name
        self.progress = sum(s.is_done for s in steps) / len(steps) if steps else 0.0
        steps.sort(key=_badness)
        shut = [s for s in steps if s.shut_because and not s.is_done]
        rows = [self._row(step) for step in steps if step not in shut]
        body = [VerdictTag(verdict=str(here.verdict)), *self._likely_here(), Rows(rows)]
        if shut and not walk.is_signed:
            body.append(Words(text=f"Not yet: {len(shut)}", role="lead", strong=True))
        body.append(Rows([self._row(step) for step in shut]))
        if not steps:
            body.append(Words(text="Nothing is asked here on this visit.", role="lead"))
        at = subject(station, walk.point)
        applied = {s.row.check for s in steps}
        spared = [
            r
            for r in walk.assessment.rows
            if r.station is station and r.subject == at and r.check not in applied
        ]
        body += [*_spared(spared), *correct_here(self, station)]
        self.put(body=body, actions=self._ways_on())

    def _likely_here(self) -> list[StandingRow]:
        if not is_service_call(self.walk):
            return []
        return likely(self.guide, (c for c in ranking_of(self.walk).causes if c.station == self.of))

    def _ways_on(self) -> list[KeyButton]:
        """Return the path, and what the walk lets be made here; after a danger the work is first.

        A service call is led by its causes, and not along the stations.
        """
        walk, to_path = self.walk, self.path_key()
        if walk.is_signed or walk.dangers_begun or walk.asks_vehicle:
            return [to_path]
        if is_service_call(walk):
            return [to_path, main_key("Likely causes", lambda: self.guide.go("causes"))]
        if is_work_first(walk, walk.severities):
            return [to_path, to_work(self.guide)]
        coming = self._next()
        if coming is None:
            return [to_path]
        make = partial(self.guide.go, "check", coming.row.check)
        return [to_path, main_key(f"Next: {coming.row.title}", make)]

    def _next(self) -> Step | None:
        """Return the check to make here: what the walk asks next, else the first that is open."""
        here = [s for s in self.walk.steps if s.row.station == self.of and not s.is_done]
        if self.walk.next_step in here:
            return next(s for s in here if s == self.walk.next_step)
        # one that closes up waits for what is open elsewhere
        opened = (s for s in here if not (s.shut_because or BY_ID[s.row.check].closes))
        return next(opened, None)

    def _row(self, step: Step) -> StandingRow:
        return StandingRow(
            title=step.row.title,
            subtitle=row_line(step),
            sign=str(step.row.judgement.verdict),
            key=step,
            chosen=self._chosen,
        )

    @guarded
    def _chosen(self, step: Step) -> None:
        if step.is_done or self.walk.is_signed:
            self.guide.go("result", row_key(step.row))
            return
        if step.shut_because:
            self._shut(step)
        else:
            self.guide.go("check", step.row.check)

    def _shut(self, step: Step) -> None:
        walk, check = self.walk, step.row.check
        words, state = (f"Not now: {step.shut_because}.",), step.state_first(walk.state)
        if state is None:
            sheet = Sheet(step.row.title, words=words, accept=("Close", nothing))
        else:
            to_state = guarded(lambda: self.guide.go("state", state.value))
            sheet = Sheet(
                step.row.title,
                words=words,
                accept=(walk.switching(state).title, to_state),
                decline=("Close", nothing),
            )
        if walk.asks_vehicle:
            sheet.add_key(ASK_VEHICLE, guarded(lambda: ask_vehicle(self.guide)))
        sheet.add_key("About this check", guarded(lambda: self.guide.go("about", check)))
        sheet.add_key("Leave it out", guarded(lambda: self.guide.go("leave_out", check)))
        sheet.open()


def _badness(step: Step) -> int:
    return WORST_FIRST.index(step.row.judgement.verdict)


def _spared(rows: list[Row]) -> list[Words]:
    if not rows:
        return []
    lines = [f"{r.title}: {r.judgement.explanation}" for r in rows]
    return [
        Words(text="Not applicable here", strong=True),
        *(Words(text=line, tone="ink_soft") for line in lines),
    ]
