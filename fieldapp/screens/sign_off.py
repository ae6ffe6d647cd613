"""Before the signature: what was found, what was not measured, and that neither is good."""

from collections.abc import Iterator, Sequence
from functools import partial

from kivy.uix.widget import Widget

from checks.assess import Row, meaning
from checks.causes import Status
from checks.intake import BY_ID
from checks.path import Station
from checks.record import Entry
from checks.stations.repair import CHECK as REPAIR
from checks.verdict import Verdict
from fieldapp.screens.earlier import earlier_row
from fieldapp.screens.findings import chosen, coming_row, foreseen, where
from fieldapp.screens.leave import leave_key
from fieldapp.screens.onward import go_on_with
from fieldapp.screens.phrases import sentence
from fieldapp.screens.result import BigVerdict
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, main_key
from fieldapp.screens.standing import standing, told_aside
from fieldapp.screens.trade_phrases import row_key
from fieldapp.walk import forms
from fieldapp.walk.desk import require_technician
from fieldapp.walk.on_disk import danger_unfinished
from fieldapp.widgets import Card, Message, Words


class SignOffScreen(Screen):
    """The whole visit, every charging point of it."""

    def fill(self) -> None:
        """Show the verdict of the visit, the findings, and everything that was not measured."""
        walk = self.walk
        found, missing = walk.assessment.findings, walk.assessment.unfinished
        coming = [coming_row(each) for each in foreseen(self.guide)]
        self.title, self.subtitle = "Sign-off", walk.visit.site.name
        card = Card()
        card.add_widget(BigVerdict(walk.assessment.verdict))
        count = len(found) + len(coming)
        told = f"{count} finding{'s' if count != 1 else ''}, {len(missing)} not measured"
        card.add_widget(Words(text=told, role="lead", strong=True))
        card.add_widget(Words(text=meaning(walk.assessment)))
        body: list[Widget] = [*standing(self.guide), *told_aside(walk), card]
        if missing:
            text = (
                f"{len(missing)} checks were not measured. The report says so: what was not "
                "measured is not shown to be good."
            )
            body.append(Message(text=text))
        body += self._half_made()
        body += self._earlier()
        body += self._call()
        body.append(leave_key(self))
        body += [self._row(f.row, str(f.severity)) for f in found]
        body += [StandingRow(**row, chosen=guarded(partial(chosen, self.guide))) for row in coming]
        body += self._missing(missing)
        self.put(
            body=body,
            actions=(self.path_key(), main_key("Decide and sign", self._decide)),
        )

    def _row(self, row: Row, sign: str) -> StandingRow:
        at = where(self.walk, row.station, row.subject)
        judged = row.judgement
        told = f"{sign} · {judged.verdict}"
        if judged.verdict is Verdict.NOT_MEASURED:
            told = f"{judged.verdict} · {judged.explanation}"
        return StandingRow(
            title=row.title,
            subtitle=f"{told}\n{at}",
            sign=sign,
            key=row_key(row),
            chosen=lambda chosen: self.guide.go("result", chosen),
        )

    def _missing(self, missing: Sequence[Row]) -> Iterator[StandingRow]:
        """Return what was begun or left out, each with why, then what nobody began, by station."""
        yield from (self._row(r, str(Verdict.NOT_MEASURED)) for r in missing if r.entry is not None)
        unbegun: dict[tuple[Station, str], list[str]] = {}
        for row in missing:
            if row.entry is None:
                unbegun.setdefault((row.station, row.subject), []).append(row.title)
        for (station, at), titles in unbegun.items():
            yield StandingRow(
                title=where(self.walk, station, at),
                subtitle=f"{Verdict.NOT_MEASURED}, no entry: {len(titles)}\n{', '.join(titles)}",
                sign=str(Verdict.NOT_MEASURED),
                key=(station, at),
                chosen=self._to_station,
            )

    @guarded
    def _to_station(self, place: tuple[Station, str]) -> None:
        station, at = place
        self.walk.go_to_point(self.walk.point_at(at))
        self.guide.go("station", station.value)

    def _half_made(self) -> list[Widget]:
        """Name the checks that were begun and are no entry: nothing of them is signed."""
        begun = [each.entry for each in self.walk.half_made]
        if not begun:
            return []
        text = (
            f"Begun and not entered: {len(begun)}. What was answered there goes into no report: go "
            "on with it, or it is lost once this is signed."
        )
        return [Message(text=text), *map(self._begun_row, begun)]

    def _begun_row(self, begun: Entry) -> StandingRow:
        check = BY_ID[begun.check]
        at = where(self.walk, check.station, begun.subject)
        return StandingRow(
            title=check.title,
            subtitle=f"begun, not entered\n{at}",
            key=begun,
            chosen=guarded(partial(go_on_with, self.guide)),
        )

    def _earlier(self) -> list[Widget]:
        """Name the findings of earlier visits that nobody looked at again."""
        waiting = [r for r in self.guide.desk.reinspections(self.walk) if r.is_open]
        if not waiting:
            return []
        text = f"Found at earlier visits and not inspected again: {len(waiting)}. It may be so yet."
        rows = [earlier_row(self, each) for each in waiting]
        return [Message(text=text), *rows]

    def _call(self) -> list[Widget]:
        """Say what a service call did at each charging point."""
        walk = self.walk
        if not walk.assessment.causes:
            return []
        card = Card()
        for ranking in walk.assessment.causes:
            is_proven = ranking.status is Status.PROVEN
            cause = f"Proven: {ranking.causes[0].title.lower()}" if is_proven else "Not settled"
            card.add_widget(Words(text=f"{ranking.name} · {cause}", role="lead", strong=True))
            repair = walk.assessment.row(REPAIR, ranking.point).judgement
            card.add_widget(Words(text=sentence(repair.explanation)))
        repeats = [r for r in walk.assessment.repeats if not r.is_told_once]
        bad = [r.after.title for r in repeats if r.after.judgement.verdict is not Verdict.WITHIN]
        sound = len(repeats) - len(bad)
        text = f"Repeated after mending: {len(repeats)}, within now: {sound}."
        card.add_widget(Words(text=text))
        if bad:
            card.add_widget(Words(text=f"Not within: {', '.join(bad)}."))
        return [card]

    def _decide(self) -> None:
        walk, desk = self.walk, self.guide.desk
        begun = walk.dangers_begun
        if begun:
            raise danger_unfinished(begun[0])
        if not walk.visit.technician.name.strip():
            require_technician(desk.settings.technician)
            walk.name_technician(desk.settings.technician)
        desk.clear_form(forms.SIGN_OFF)
        self.guide.go("form", forms.SIGN_OFF.id)
