"""Before the signature: what was found, what was not measured, and that neither is good."""

from kivy.uix.widget import Widget

from checks.assess import Row, lockout_tag
from checks.causes import Status
from checks.verdict import Verdict
from fieldapp.screens.findings import where
from fieldapp.screens.phrases import row_key, sentence
from fieldapp.screens.result import BigVerdict
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.walk import forms
from fieldapp.walk.desk import require_technician
from fieldapp.walk.thread import REPAIR
from fieldapp.widgets import Card, SeverityBanner, Words


class SignOffScreen(Screen):
    """The whole visit, every charging point of it."""

    def fill(self) -> None:
        """Show the verdict of the visit, the findings, and everything that was not measured."""
        walk = self.walk
        found, missing = walk.assessment.findings, walk.assessment.unfinished
        self.title, self.subtitle = "Sign-off", walk.visit.site.name
        card = Card()
        card.add_widget(BigVerdict(walk.assessment.verdict))
        count = f"{len(found)} findings, {len(missing)} not measured"
        card.add_widget(Words(text=count, role="lead", strong=True))
        body: list[Widget] = [card]
        if missing:
            text = (
                f"{len(missing)} checks were not measured. The report says so: what was not "
                "measured is not good."
            )
            body.append(SeverityBanner(severity="notice", text=text))
        body += self._call()
        body += [self._row(f.row, str(f.severity)) for f in found]
        body += [self._row(row, str(Verdict.NOT_MEASURED)) for row in missing]
        self.put(
            body=body,
            actions=(key("Back to the path", self.up), main_key("Decide and sign", self._decide)),
        )

    def _row(self, row: Row, sign: str) -> StandingRow:
        at = where(self.walk, row.station, row.subject)
        left_out = row.judgement.explanation if row.entry is not None else "no entry"
        told = left_out if row.judgement.verdict is Verdict.NOT_MEASURED else sign
        return StandingRow(
            title=row.title,
            subtitle=f"{row.judgement.verdict} · {told}\n{at}",
            sign=sign,
            key=row_key(row),
            chosen=lambda chosen: self.guide.go("result", chosen),
        )

    def _call(self) -> list[Widget]:
        """Say what a service call did at each charging point, and offer the tag's text."""
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
        repeats = walk.assessment.repeats
        sound = sum(r.after.judgement.verdict is Verdict.WITHIN for r in repeats)
        text = f"Repeated after mending: {len(repeats)}, within now: {sound}."
        card.add_widget(Words(text=text))
        return [card, key("Text for the lock-out tag", self._tag)]

    def _tag(self) -> None:
        lines = lockout_tag(self.walk.visit, self.walk.assessment)
        words = tuple(f"{label}: {text}" if label else text for label, text in lines)
        Sheet("Lock-out tag", words=words, accept=("Close", nothing)).open()

    def _decide(self) -> None:
        walk, desk = self.walk, self.guide.desk
        if not walk.visit.technician.name.strip():
            require_technician(desk.settings.technician)
            walk.name_technician(desk.settings.technician)
        desk.clear_form(forms.SIGN_OFF)
        self.guide.go("form", forms.SIGN_OFF.id)
