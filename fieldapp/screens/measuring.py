"""A check's screen while series are read: the next reading when it is due, else the wait."""

from abc import abstractmethod
from typing import Any, Final

from kivy.clock import Clock
from kivy.uix.widget import Widget

from checks.check import Series
from checks.record import Reading
from checks.verdict import Judgement, Severity
from fieldapp.screens.curve import curve
from fieldapp.screens.interruptions import SAFE_POINT
from fieldapp.screens.number import LimitCard
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import pick
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.measuring import is_half_typed, readings_of, series_of
from fieldapp.walk.questions import Questions
from fieldapp.widgets import Card, DangerButton, KeyButton, SeverityBanner, Words, theme

LOOK_EVERY_S: Final = 0.5  # only how often the stamps are looked at
_MINUTE: Final = 60


class SeriesScreen(Screen):
    """A check's screen while it measures; the time comes from the stamps of the readings.

    One reading is asked at a time. While none is due the curve and what it says stand in view
    with the time that is left. A stop sign is one tap away all along.
    """

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._is_early = False
        self._time_left = Words(role="reading", strong=True)
        self._look = Clock.create_trigger(lambda _: self._looked(), LOOK_EVERY_S, interval=True)

    def leave(self) -> None:
        """Look at the clock no longer."""
        self._look.cancel()

    def enter(self, of: str) -> None:
        """Come up as it is by the clock now."""
        self._is_early = False
        super().enter(of)

    def waits(self) -> bool:
        """Show the wait or the end; False when a reading is to be typed now."""
        self._look.cancel()
        judged = self.walk.preview()
        if judged.severity is Severity.DANGER:
            self._show_stopped(judged)
            return True
        due = self.walk.due
        if is_half_typed(self.walk.open_questions):
            return False
        self.walk.go_to(due.name)
        if due.in_s <= 0 or self._is_early:
            return False
        self._show_wait(judged)
        return True

    # -- the wait ----------------------------------------------------------------------------------
    def _show_wait(self, judged: Judgement) -> None:
        self._headline("Measuring")
        self._time_left, until = Words(role="reading", strong=True), Card()
        until.add_widget(self._time_left)
        until.add_widget(Words(text=f"until the next: {self._label(self.walk.due.name)}"))
        self._show_left()
        is_settled = judged.heating is not None and judged.heating.is_settled
        end, read = (main_key, key) if is_settled else (key, main_key)  # each stays in its place
        keys = [end("End measuring", self._end), read("Read now", self._read_early)]
        told = [*_says(judged), *curve(judged), *self._rows(), LimitCard(judged.limits)]
        keys = [self.stop_key(), *keys]
        if self.is_flat and theme.text_scale >= LARGE_TEXT:  # the keys fill the height
            self.put(body=[until, *told], actions=keys)
        else:
            self.put(body=told, dock=(until,), actions=keys)
        self._look()

    def _looked(self) -> None:
        if self.walk.due.in_s <= 0:
            self.fill()
        else:
            self._show_left()

    def _show_left(self) -> None:
        seconds = max(0, round(self.walk.due.in_s))
        self._time_left.text = f"{seconds // _MINUTE}:{seconds % _MINUTE:02d}"

    def _headline(self, title: str) -> None:
        self.title, self.progress = title, 0.0
        self.subtitle = f"{self.walk.check.title} · {self.minutes}"

    @property
    def minutes(self) -> str:
        """How long the measuring has lasted."""
        return f"{self.walk.lasted_s / _MINUTE:.0f} min"

    def _label(self, name: str) -> str:
        asked = self.walk.check.input(name)
        return asked.label if asked is not None else name

    @guarded
    def _read_early(self) -> None:
        self._is_early = True
        self.fill()

    def _show_stopped(self, judged: Judgement) -> None:
        self._headline("Stop")
        banner = SeverityBanner(severity=str(judged.severity), text=sentence(judged.explanation))
        words = Words(text=sentence(judged.remedy), role="lead", strong=True)
        body = [banner, words, *curve(judged)]
        self.put(body=body, actions=[self.stop_key(), main_key("End measuring", self._end)])

    @guarded
    def _end(self) -> None:
        self.walk.end_series()
        self._go_on()

    @abstractmethod
    def _go_on(self) -> None:
        """Ask what is open next, or make the check an entry."""

    # -- a reading ---------------------------------------------------------------------------------
    def reading_keys(
        self, questions: Questions, previous: KeyButton
    ) -> tuple[list[KeyButton], KeyButton | None]:
        """Return the keys beside the one that adds the reading, and the one past the series."""
        asked = questions.current
        assert isinstance(asked, Series)
        keys: list[KeyButton] = [self.stop_key()]
        if questions.typed.get(f"{asked.name} at"):
            return [*keys, key("Leave it out", self._give_up)], None
        if asked.optional and not readings_of(questions.entry, asked.name):
            return keys, key("There is none", self._none_there)
        is_first = not any(readings_of(questions.entry, s.name) for s in series_of(questions))
        return ([*keys, previous] if is_first else keys), None

    @guarded
    def _give_up(self) -> None:
        self.walk.give_up_reading()
        self.enter(self.of)

    @guarded
    def _none_there(self) -> None:
        self.walk.pass_over()
        self.enter(self.of)

    def _rows(self) -> list[Widget]:
        """Return every reading, the newest first; a tap puts it back into the field."""
        entry = self.walk.open_questions.entry
        made: list[tuple[Reading, str, int]] = [
            (reading, series.name, number)
            for series in series_of(self.walk.open_questions)
            for number, reading in enumerate(readings_of(entry, series.name))
        ]
        made.sort(key=lambda each: each[0].at, reverse=True)
        rows = [
            StandingRow(
                title=f"{r.value} {r.unit}",
                subtitle=f"{self._label(name)} · {r.at[11:19]}",
                key=f"{name} {number}",
                chosen=self._take_back,
            )
            for r, name, number in made
        ]
        return [Words(text="Tap a reading to correct it", tone="ink_soft"), *rows]

    @guarded
    def _take_back(self, which: str) -> None:
        name, number = which.split()
        self.walk.take_back(name, int(number))
        self.enter(self.of)

    # -- a stop sign -------------------------------------------------------------------------------
    def stop_key(self) -> KeyButton:
        """Return the key that ends the test at once."""
        return key("Smoke, smell", self._ask_sign, DangerButton)

    def _ask_sign(self) -> None:
        asked = self.walk.stop_question
        if asked is not None:
            signs = [(o.value, o.words, "") for o in asked.options if o.ends]
            cautions = [("danger", SAFE_POINT)]
            pick(
                "Stop it first, then say what is there",
                signs,
                "",
                guarded(self._stop),
                cautions=cautions,
                close="A slip: go on measuring",
            )

    def _stop(self, sign: str) -> None:
        self.leave()
        self.walk.stop(sign)
        self._go_on()


def _says(judged: Judgement) -> list[Widget]:
    curve = judged.heating
    return [] if curve is None else [Words(text=sentence(curve.says), role="lead", strong=True)]
