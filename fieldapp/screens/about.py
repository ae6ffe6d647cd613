"""About a check: what to do, its limits and their working, and what else can be done."""

from kivy.uix.widget import Widget

from checks.assess import Row
from checks.stations.all import BY_ID
from fieldapp.language import Said, say
from fieldapp.screens.evidence import to_photos
from fieldapp.screens.phrases import sentence, sentences
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.screens.trade_phrases import limit_line, limit_origin
from fieldapp.walk.agenda import Step
from fieldapp.walk.evidence import photos_key
from fieldapp.widgets import Card, Message, SeverityBanner, Words


class AboutScreen(Screen):
    """``of`` is the check, open or not."""

    is_at_station = True

    @property
    def _is_open(self) -> bool:
        return self.walk.is_open(self.of)

    def up(self) -> None:
        """Go back to the question, or to the station where the check may not be made now."""
        if self._is_open:
            self.guide.go("check", self.of)
        else:
            self.guide.go("station", self.station or "")

    def fill(self) -> None:
        """Show all that is known of the check."""
        walk, check = self.walk, BY_ID[self.of]
        step = next((s for s in walk.steps if s.row.check == self.of), None)
        shut_because = step.shut_because if step is not None else "it does not apply here"
        if not self._is_open and not shut_because:
            walk.begin(self.of)
        self.title = check.title
        self.subtitle = f"{check.station.value.capitalize()} · {check.state}"
        told: list[Widget] = []
        if not self._is_open:
            words = f"Not now: {shut_because}."
            told.append(Message(text=words))
        told += [Words(text=Said(each), role="lead") for each in sentences(say(check.how))]
        if check.demand:
            told.append(Words(text=sentence(check.demand), strong=True))
        told += [SeverityBanner(severity=str(c.signal), text=c.text) for c in check.cautions]
        if step is not None:
            told += self._limits(step.row)
        main = "To the question" if self._is_open else "To the station"
        self.put(
            body=[*told, *self._keys(step)],
            actions=(self.path_key(), main_key(main, self.up)),
        )

    def _keys(self, step: Step | None) -> list[Widget]:
        leave_out = key("Leave this check out", lambda: self._to("leave_out"))
        if not self._is_open:
            return [] if step is None or step.is_done else [leave_out]
        entry = self.walk.open_questions.entry
        return [
            key("Change the note" if entry.note else "Write a note", lambda: self._to("note")),
            to_photos(self.guide, photos_key(entry, is_made=False), len(entry.photos)),
            leave_out,
            key("Give its answers up", self._drop),
        ]

    def _limits(self, row: Row) -> list[Widget]:
        judged = self.walk.preview() if self._is_open else row.judgement
        cards: list[Widget] = []
        for limit in judged.limits:
            card = Card()
            card.add_widget(Words(text=limit_line(limit), role="lead", strong=True))
            for line in (limit_origin(limit), *limit.working):
                card.add_widget(Words(text=line, tone="ink_soft"))
            cards.append(card)
        return cards

    def _to(self, screen: str) -> None:
        self.guide.go(screen, self.of)

    def _drop(self) -> None:
        self.walk.drop()
        self.guide.go("path")
