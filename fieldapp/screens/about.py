"""About the open check: what to do, its limits and their working, and what else can be done."""

from pathlib import Path

from kivy.clock import Clock
from kivy.uix.widget import Widget

from fieldapp.device.port import DeviceError
from fieldapp.screens.guide import PENDING_PHOTO
from fieldapp.screens.phrases import limit_line, limit_origin, sentence
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.widgets import Card, SeverityBanner, Words


class AboutScreen(Screen):
    """``of`` is the check that is open."""

    @property
    def station(self) -> str | None:
        """The station that is worked at."""
        return self.of.split(".", 1)[0]

    def up(self) -> None:
        """Go back to the question."""
        self.guide.go("check", self.of)

    def fill(self) -> None:
        """Show all that is known of the check."""
        walk = self.walk
        if walk.questions is None or walk.questions.check.id != self.of:
            walk.begin(self.of)
        check, entry = walk.check, walk.questions.entry if walk.questions else None
        self.title, self.subtitle = (
            check.title,
            f"{check.station.value.capitalize()} · {check.state}",
        )
        photos, has_note = (len(entry.photos), bool(entry.note)) if entry else (0, False)
        keys = [
            key("Change the note" if has_note else "Write a note", lambda: self._to("note")),
            key(f"Take a photo ({photos} so far)", self._photo, icon="camera"),
            key("Leave this check out", lambda: self._to("leave_out")),
            key("Give its answers up", self._drop),
        ]
        told: list[Widget] = [Words(text=check.how, role="lead")]
        if check.state.demand:
            told.append(Words(text=sentence(check.state.demand), strong=True))
        told += [SeverityBanner(severity=str(c.signal), text=c.text) for c in check.cautions]
        self.put(
            body=[*told, *self._limits(), *keys],
            actions=(
                key("To the path", lambda: self.guide.go("path")),
                main_key("To the question", self.up),
            ),
        )

    def _limits(self) -> list[Widget]:
        judged = self.walk.preview()
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

    def _photo(self) -> None:
        device = self.guide.device
        target = device.data_dir() / PENDING_PHOTO
        target.unlink(missing_ok=True)
        device.take_photo(target, self._taken)

    def _taken(self, answer: Path | DeviceError | None) -> None:
        """Take the camera's answer; it may come from another thread."""
        Clock.schedule_once(lambda _: self._attach(answer))

    @guarded
    def _attach(self, answer: Path | DeviceError | None) -> None:
        if isinstance(answer, DeviceError):
            raise answer
        if answer is not None and self.walk.questions is not None:
            self.guide.attach_photo(answer)
            self.fill()
