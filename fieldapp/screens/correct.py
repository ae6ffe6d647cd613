"""One fact of the visit corrected: its question again, and what hangs on the answer told first."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Final

from kivy.uix.widget import Widget

from checks.check import Choice, YesNo
from checks.check import Words as WordsInput
from fieldapp.screens.asking import Asked, Keeper, ask, explained
from fieldapp.screens.facts import UNSAID
from fieldapp.screens.guide import Guide
from fieldapp.screens.phrases import sentence
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import Sheet
from fieldapp.walk import facts, forms
from fieldapp.walk.correcting import Consequence
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import WalkError
from fieldapp.widgets import KeyButton, Words

LIVE: Final = (
    "The circuit is live, and what must stand before it carries current does not stand any more. "
    "End the charge, make the circuit dead, then go on."
)
_NAMED: Final = 8


class CorrectScreen(Screen):
    """``of`` is the key of the fact, and the station that somebody came from.

    What is half typed is on disk, and nothing is changed before it is taken.
    """

    def __init__(self, guide: Guide) -> None:
        super().__init__(guide)
        self.title_lines = 0  # it is the question
        self._keeper = Keeper(self._keep)

    @property
    def _key(self) -> str:
        return "@".join(self.of.split("@")[:2])

    @property
    def _from(self) -> str:
        return self.of.split("@")[2] if self.of.count("@") > 1 else ""

    @property
    def _is_first(self) -> bool:
        """Whether it was never said: it is asked, and nothing is corrected."""
        return self._key == self.walk.asks_vehicle

    def fill(self) -> None:
        """Ask it again, with what stands."""
        walk = self.walk
        fact, subject = facts.found(self._key, walk.visit)
        questions = self._questions
        self.title, self.subtitle = fact.asked.label, walk.visit.name_of(subject)
        shown = ask(questions, self._answer, self._keeper.typed)
        stands = facts.told(self._key, walk.visit) or UNSAID
        body: list[Widget] = [*explained(fact.asked)]
        if not self._is_first:
            body.append(Words(text=f"Now: {stands}", role="lead", strong=True))
        body += shown.body
        if fact.name == facts.FEEDER:
            body.append(key("Add a panel", self._add_panel))
        self.put(body=body, dock=shown.dock, actions=self._keys(shown))

    @property
    def _questions(self) -> Questions:
        fact, _ = facts.found(self._key, self.walk.visit)
        asked, typed = fact.asked, self._kept.typed.get(self._place, "")
        assert isinstance(asked, Choice | WordsInput | YesNo)
        here = self.guide.desk.answering(forms.correction(asked), self.walk.stands(self._key))
        return here.typing(asked.name, typed) if typed else here

    def _keys(self, shown: Asked) -> list[KeyButton]:
        keys = [key("Path" if self._is_first else "Leave it as it is", self._leave_it)]
        entry = shown.entry
        if entry is not None:

            def take() -> None:
                self._answer(str(entry.text).strip())

            entry.bind(on_done=lambda *_: guarded(take)())
            keys.append(main_key("Take it", take))
        return keys

    # -- the answer ------------------------------------------------------------------------------
    def _answer(self, value: str) -> None:
        walk = self.walk
        fact, _ = facts.found(self._key, walk.visit)
        if not value and not fact.asked.optional:
            raise WalkError(
                "nothing stands there yet", where=fact.asked.label, remedy="Write a word or two"
            )
        hangs = walk.consequence(self._key, value)
        if self._is_first or not hangs:
            self._take(value)
            return
        sheet = Sheet(
            "What this changes",
            cautions=[("warning", LIVE)] if hangs.is_dead_first else [],
            words=(_bold(f"Would become: {self._option(value)}"), *_told(hangs)),
            accept=("Correct it", guarded(partial(self._take, value))),
            decline=("Leave it as it is", self.fill),
        )
        sheet.open()

    def _option(self, value: str) -> str:
        """Return an answer as its question has it."""
        fact, _ = facts.found(self._key, self.walk.visit)
        options = fact.asked.options if isinstance(fact.asked, Choice) else ()
        return next((o.words for o in options if o.value == value), value.capitalize())

    def _take(self, value: str) -> None:
        self._keeper.flush()
        is_first = self._is_first
        self.walk.correct(self._key, value)
        self._forget()
        if is_first:
            self.guide.go("path")
        else:
            self.guide.go("facts", self._from)

    def _leave_it(self) -> None:
        self._keeper.forget()
        self._forget()
        self.up()

    def up(self) -> None:
        """Go back to the list; what is half typed is there again the next time."""
        self._keeper.flush()
        if self._is_first:
            self.guide.go("path")
        else:
            self.guide.go("facts", self._from)

    def _add_panel(self) -> None:
        desk = self.guide.desk
        desk.clear_form(forms.PANEL)
        desk.keep_form(desk.form(forms.PANEL).typing(forms.ASKED_BY, self.of))
        self.guide.go("form", forms.PANEL.id)

    # -- what is half typed ------------------------------------------------------------------------
    @property
    def _kept(self) -> Questions:
        return self.guide.desk.form(forms.HALF_CORRECTED)

    @property
    def _place(self) -> str:
        return f"{self.walk.visit.id} {self._key}"

    def _keep(self, text: str) -> None:
        self.guide.desk.keep_form(self._kept.typing(self._place, text))

    def _forget(self) -> None:
        self.guide.desk.clear_form(forms.HALF_CORRECTED)

    def leave(self) -> None:
        """Keep the words that stand half typed."""
        self._keeper.flush()


def _told(hangs: Consequence) -> Iterator[Words]:
    """Say what a correction means, before it is made: what is live, what was found wrong first."""
    if hangs.dead_first:
        yield _bold(f"Live, to be made dead: {_few(hangs.dead_first)}")
    if hangs.found:
        yield _bold("Found, and set aside by this; it may be so yet")
        yield from (Words(text=sentence(each)) for each in hangs.found)
    if hangs.anew:
        yield _bold("A danger or a warning so far, and neither after this")
        yield from (Words(text=sentence(each)) for each in hangs.anew)
    again, aside, gone, new = map(len, (hangs.again, hangs.asked_no_more, hangs.gone, hangs.new))
    if again:
        yield _bold("1 check to make again" if again == 1 else f"{again} checks to make again")
        text = "Each was made before. What was found wrong there stays found until then."
        yield from (Words(text=_few(hangs.again)), Words(text=text, tone="ink_soft"))
    if aside:
        is_one = aside == 1
        yield _bold(
            "1 check not asked any more" if is_one else f"{aside} checks not asked any more"
        )
        text = "The entries stay in record and report."
        yield from (Words(text=_few(hangs.asked_no_more)), Words(text=text, tone="ink_soft"))
    if gone:
        yield _bold("1 station off the path" if gone == 1 else f"{gone} stations off the path")
        yield Words(text=_few(hangs.gone))
    if new:
        yield _bold("1 station new on the path" if new == 1 else f"{new} stations new on the path")
        yield Words(text=_few(hangs.new))
    text = "What stood before stays in the record, and Undo on the path puts it back."
    yield Words(text=text, tone="ink_soft")


def _bold(text: str) -> Words:
    return Words(text=text, role="lead", strong=True)


def _few(titles: Sequence[str]) -> str:
    """Name a few of many."""
    more = len(titles) - _NAMED
    named = "; ".join(titles[:_NAMED])
    return f"{named}; and {more} more" if more > 0 else named
