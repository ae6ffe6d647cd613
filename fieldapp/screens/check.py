"""One check: its cautions, then one question at a time, then its verdict."""

from collections.abc import Sequence
from typing import Any

from kivy.uix.widget import Widget

from checks.assess import Row
from checks.check import Measurement, Rating, Series
from checks.path import title
from checks.record import DangerAnswer
from fieldapp.language import Said, say
from fieldapp.screens.asking import Asked, Keeper, ask, explained, ways_on
from fieldapp.screens.curve import curve
from fieldapp.screens.evidence import to_photos, with_photos
from fieldapp.screens.interruptions import danger, doubtful
from fieldapp.screens.kit import VISIT
from fieldapp.screens.measuring import SeriesScreen
from fieldapp.screens.number import LimitCard, NumberQuestion, is_close, is_tight
from fieldapp.screens.onward import just_made, make_entry
from fieldapp.screens.phrases import sentence, sentences
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import guarded, key, main_key
from fieldapp.screens.trade_phrases import question_title
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.observed import answered
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import WalkError
from fieldapp.widgets import (
    Card,
    CautionSheet,
    IconButton,
    KeyButton,
    Message,
    PrimaryButton,
    SeverityBanner,
    Words,
    theme,
)


class CheckScreen(SeriesScreen):
    """``of`` is the check. Left half-way, it is there again with the digits typed."""

    is_at_station = True

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self.title_lines = 0  # it is the question
        self._keeper = Keeper(lambda text: self.walk.typing(text))
        self._number: NumberQuestion | None = None
        more = IconButton(icon="more", text="About this check")
        more.bind(on_release=lambda *_: self._about())
        self.add_to_header(more)

    def enter(self, of: str) -> None:
        """Open the check, or come back to it; its cautions come first."""
        walk = self.walk
        if not walk.is_open(of):
            walk.begin(of)
        super().enter(of)
        waiting = walk.awaits_cautions
        if theme.text_scale >= LARGE_TEXT:  # a page in large text has no room for them
            waiting = waiting or walk.cautions_in_view
        if waiting:
            CautionSheet(
                [(str(c.signal), c.text) for c in waiting],
                walk.acknowledge,
                self._declined,
                title=walk.check.title,
                accept_text="Understood",
            ).open()
        elif self._is_left_in_danger():
            self._danger()  # the app was closed before anybody answered it

    def _is_left_in_danger(self) -> bool:
        questions = self.walk.open_questions
        is_half_way = bool(questions.entry.answers) and questions.current is not None
        return is_half_way and self.walk.awaits_danger is not None

    @guarded
    def _declined(self) -> None:
        """Go to the path, with what was made before the cautions came up in view."""
        made = self.guide.made
        self.guide.go("path", made=made if isinstance(made, Row) else None)

    def leave(self) -> None:
        """Keep the digits or words that stand half typed."""
        super().leave()
        if self.guide.walk is not None and self.walk.questions is not None:
            self._flush()

    def room_changed(self) -> None:
        """Ask the same on a window that was turned, with what stands half typed."""
        if self.walk.questions is not None:
            self._flush()
            self.fill()

    def _flush(self) -> None:
        self._keeper.flush()
        if self._number is not None:
            self._number.keeper.flush()

    # -- what is asked ---------------------------------------------------------------------------
    def fill(self) -> None:
        """Ask the question that is open, or show all answers when none is."""
        self._number, self.title_lines = None, 0
        if isinstance(self.walk.open_questions.current, Series) and self.waits():
            return
        questions = self.walk.open_questions
        asked = questions.current
        if asked is None:
            self._review(questions)
            return
        here, total = questions.place
        self.title, self.progress = question_title(questions.check, asked), (here - 1) / total
        self.subtitle = f"{questions.check.title} · {here} of {total}"
        if questions.entry.after_mending:
            self.subtitle = f"After mending · {self.subtitle}"
        made = self.guide.made
        if isinstance(made, Row) and made.station is not questions.check.station:  # another place
            self.subtitle = f"{title(questions.check.station, self.walk.point)} · {self.subtitle}"
        if isinstance(asked, Measurement | Rating):
            self._ask_number(questions)
        else:
            self._ask(questions)

    def _ask(self, questions: Questions) -> None:
        asked = questions.current
        assert asked is not None
        shut = self.walk.shut_options(asked)
        shown = ask(questions, self._answer, self._keeper.typed, shut)
        limits = self.walk.preview()
        body: list[Widget] = [*_told(questions)]
        is_first = questions.back() is None
        if shown.dock or is_first:
            body = [*body, *explained(asked), *shown.body]
        else:
            body = [*explained(asked), *shown.body, *body]
        if limits.limits:
            body.append(LimitCard(limits.limits))
        self._put(
            body,
            dock=shown.dock,
            actions=self._with_photos(self._keys(questions, shown)),
        )

    def _keys(self, questions: Questions, shown: Asked) -> list[KeyButton]:
        return ways_on(
            questions,
            shown,
            previous=self._previous,
            pass_over=self._pass_over,
            take=self._take_words,
        )

    def _with_photos(self, keys: list[KeyButton]) -> list[Widget]:
        """Put the way to the photos under the thumb: beside the main key, else the last of them.

        In large text it is a small one there, so that what is to be heeded stays in view.
        """
        entry = self.walk.open_questions.entry
        of, count = photos_key(entry, is_made=False), len(entry.photos)
        if keys and isinstance(keys[-1], PrimaryButton):
            return [*keys[:-1], with_photos(keys[-1], self.guide, of, count)]
        if keys and theme.text_scale >= LARGE_TEXT:
            last = with_photos(keys[-1], self.guide, of, count, is_after=True)
            return [*keys[:-1], last]
        return [*keys, to_photos(self.guide, of, count)]

    def _ask_number(self, questions: Questions) -> None:
        customary = self.guide.desk.settings.is_customary
        number = NumberQuestion(self.walk, is_customary=customary, changed=self._typed)
        self._number = number
        keys = self._keys(questions, Asked())
        if not number.is_offered:
            self._not_offered(number, keys)
            return
        self._take = main_key("Type it", self._take_number, disabled=True)
        self.title_lines = int(is_close())
        display, dock = number.widgets()
        keys, told = self._number_keys(number, keys), self._beside(number, questions)
        if isinstance(number.asked, Series):
            self.subtitle = f"Measuring for {self.minutes}"
        if is_tight():
            told.insert(0, Words(text=self.subtitle, tone="ink_soft"))
        if theme.text_scale >= LARGE_TEXT:
            stay = keys[:1] if isinstance(number.asked, Series) else []  # a stop sign is at hand
            told, keys = [number.missing, *number.beside, *told, *keys[len(stay) :]], stay
        if is_tight():  # of the header one line stays in view, with its keys
            told.insert(0, Words(text=self.title, strong=True))
            self.subtitle = ""
        self._put(
            told,
            readout=display,
            dock=dock,
            actions=self._with_photos([*keys, self._take]),
        )
        self._typed()

    @staticmethod
    def _beside(number: NumberQuestion, questions: Questions) -> list[Widget]:
        """Return what scrolls beside a number: where, what to do, with what, and its limits."""
        told: list[Widget] = [*explained(number.asked), *_told(questions)]
        if number.place and not number.tells_place:
            told.insert(0, Words(text=sentence(number.place), strong=True))
        tool = number.tool()
        if tool is not None:
            told.append(Words(text=f"Measured with: {tool.name}", tone="ink_soft"))
        if number.limits:
            told.append(LimitCard(number.limits))
        return [*told, *curve(number.judgement)] if isinstance(number.asked, Series) else told

    def _number_keys(self, number: NumberQuestion, keys: list[KeyButton]) -> list[KeyButton]:
        """Return the keys beside the one that takes the number.

        The one past it stands with the value, out of the way of who types; in large text it goes
        to the page with the others.
        """
        past = None
        if isinstance(number.asked, Series):
            before = key("Previous", self._previous)
            keys, past = self.reading_keys(self.walk.open_questions, before)
        elif number.asked.optional:
            *keys, past = keys
        if past is not None and theme.text_scale < LARGE_TEXT:
            number.display.put_past(past)
            return keys
        return keys if past is None else [*keys, past]

    def _not_offered(self, number: NumberQuestion, keys: list[KeyButton]) -> None:
        asked = number.asked
        assert isinstance(asked, Measurement)
        text = f"Not offered: no {self.walk.needed_for(asked)} is in the kit of this visit."
        body = [Message(text=text), *_told(self.walk.open_questions)]
        if not asked.optional:
            keys = [*keys, key("Leave this check out", lambda: self._to("leave_out"))]
        add = main_key("Add or correct an instrument", lambda: self.guide.go("kit", VISIT))
        self._put(body, actions=[*keys, add])

    def _put(self, body: Sequence[Widget], **parts: Sequence[Widget]) -> None:
        """Show the question; what was just made is told above, under it where text is large.

        So are cautions that were acknowledged already in this state.
        """
        made: list[Widget] = [
            SeverityBanner(severity=str(c.signal), text=c.text, role="body")
            for c in self.walk.cautions_in_view
        ]
        made += just_made(self.guide)
        if theme.text_scale >= LARGE_TEXT:
            self.put(body=[*body, *made], **parts)
        else:
            self.put(glance=made, body=body, **parts)

    def _typed(self) -> None:
        number = self._number
        if number is None:
            return
        self._take.disabled = not number.value
        is_added = isinstance(number.asked, Series)
        if not number.value:
            self._take.text = "Type it"
        elif is_close() and not is_tight():  # two lines would move the pad
            self._take.text = "Add it" if is_added else "Take it"
        else:
            verb = "Add" if is_added else "Take"
            self._take.text = f"{verb} {number.value} {number.unit}"

    # -- answers ---------------------------------------------------------------------------------
    def _take_words(self, words: str) -> None:
        asked = self.walk.open_questions.current
        if words:
            self._answer(words)
        elif asked is not None and asked.optional:
            self._pass_over()
        else:
            raise WalkError("nothing stands there yet", where=self.title, remedy="Write it down")

    def _answer(self, value: str) -> None:
        self._keeper.flush()
        self.walk.answer(value)
        self._go_on()

    def _take_number(self) -> None:
        number = self._number
        if number is not None and number.value:
            number.keeper.flush()
            self._number_answer(number, number.value)

    def _number_answer(self, number: NumberQuestion, value: str, *, sure: bool = False) -> None:
        found = self.walk.answer(value, unit=number.unit, instrument=number.instrument, sure=sure)
        if found is None:
            number.keeper.forget()
            self._go_on()
            return

        @guarded
        def take(meant: str) -> None:
            self._number_answer(number, meant, sure=True)

        doubtful(found, value, number.unit, take)

    def _go_on(self) -> None:
        self.guide.made = None
        if self.walk.awaits_danger is not None:
            self._danger()
        elif self.walk.open_questions.current is None:
            make_entry(self.guide)
        else:
            self.enter(self.of)

    def _danger(self) -> None:
        found = self.walk.preview()
        danger(
            self.walk.check.title,
            sentence(found.explanation),
            sentence(found.remedy),
            guarded(self._danger_answered),
            guarded(self._change_last),
        )

    def _danger_answered(self, said: DangerAnswer) -> None:
        self.walk.answer_danger(said)
        self._go_on()

    def _change_last(self) -> None:
        self.walk.change_last()
        self.enter(self.of)

    def _pass_over(self) -> None:
        self._keeper.forget()
        self.walk.pass_over()
        self._go_on()

    def _previous(self) -> None:
        self._flush()
        while self.walk.back() and isinstance(self.walk.open_questions.current, Series):
            pass  # side by side they are one step
        self.enter(self.of)

    # -- all answers -----------------------------------------------------------------------------
    def _review(self, questions: Questions) -> None:
        self.title, self.subtitle, self.progress = questions.check.title, "All answers", 1.0
        rows = [
            StandingRow(
                title=answered(i, questions.entry) or "No answer",
                subtitle=i.label,
                key=i.name,
                chosen=self._ask_again,
            )
            for i in questions.asked
        ]
        keys = [main_key("Enter", self._go_on, disabled=bool(questions.missing))]
        self._put([*rows, *_told(questions)], actions=self._with_photos(keys))

    @guarded
    def _ask_again(self, name: str) -> None:
        self.walk.go_to(name)
        self.enter(self.of)

    # -- elsewhere -------------------------------------------------------------------------------
    @guarded
    def _about(self) -> None:
        self._to("about")

    def _to(self, screen: str) -> None:
        self.guide.go(screen, self.of)


def _told(questions: Questions) -> list[Widget]:
    """Return what to do, and the state the circuit must be in."""
    check = questions.check
    card = Card()
    card.add_widget(Words(text="What to do", strong=True))
    for step in sentences(say(check.how)):
        card.add_widget(Words(text=Said(step)))
    if check.demand:
        card.add_widget(Words(text=sentence(check.demand), tone="ink_soft"))
    return [card]
