"""One question at a time, of a check or of a form: choices, yes or no, words."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from kivy.clock import Clock
from kivy.uix.widget import Widget

from checks.check import AnyInput, Choice, Words, YesNo
from fieldapp.screens.screen import guarded, key, main_key
from fieldapp.walk.forms import said
from fieldapp.walk.questions import Questions
from fieldapp.walk.refused import WalkError
from fieldapp.widgets import ChoiceList, KeyButton, TextEntry
from fieldapp.widgets import Words as Text
from fieldapp.widgets import YesNo as YesNoKeys

KEEP_EVERY_S = 0.3


@dataclass(frozen=True)
class Asked:
    """What a question puts on the page."""

    body: tuple[Widget, ...] = ()
    dock: tuple[Widget, ...] = ()
    # whose words the main key takes; None where a tap is the answer already
    entry: TextEntry | None = None


def ask(
    questions: Questions,
    answer: Callable[[str], None],
    typing: Callable[[str], None],
    shut: Mapping[str, str] | None = None,
) -> Asked:
    """Return the widgets of the question on the screen; no answer is chosen beforehand.

    Parameters
    ----------
    questions : Questions
        The current question is a choice, a yes or no, or words.
    answer : callable
        Takes what was tapped.
    typing : callable
        Keeps what stands half typed.
    shut : Mapping of str to str, optional
        Options that may not be picked now, each with why.
    """
    asked = questions.current
    assert asked is not None
    answer = guarded(answer)
    if isinstance(asked, Choice):
        return Asked(body=(_choices(asked, questions, answer, shut or {}),))
    if isinstance(asked, YesNo):
        chosen = said(questions.entry, asked.name) or None
        keys = YesNoKeys(options=list(asked.answers), selected=chosen)
        keys.bind(on_choice=lambda _, tapped: answer(tapped))
        return Asked(dock=(keys,))
    return _words(asked, questions, typing)


def ways_on(
    questions: Questions,
    shown: Asked,
    *,
    previous: Callable[[], None],
    pass_over: Callable[[], None],
    take: Callable[[str], None],
) -> list[KeyButton]:
    """Return the keys of a question: back, past it, and on with what was written."""
    asked, entry = questions.current, shown.entry
    keys: list[KeyButton] = []
    if questions.back() is not None:
        keys.append(key("Previous", previous))
    if asked is not None and asked.optional:
        keys.append(key("Pass over", pass_over))
    if entry is not None:

        def go_on() -> None:
            take(str(entry.text).strip())

        entry.bind(on_done=lambda *_: guarded(go_on)())
        keys.append(main_key("Next", go_on))
    return keys


def explained(asked: AnyInput) -> tuple[Widget, ...]:
    """Return the question's own help, where it has one."""
    return (Text(text=asked.help),) if asked.help else ()


def _choices(
    asked: Choice, questions: Questions, answer: Callable[[str], None], shut: Mapping[str, str]
) -> Widget:
    why = {value: f"Not now, {first}" for value, first in shut.items()}
    rows = ChoiceList(
        options=[(o.value, o.words, why.get(o.value, o.detail)) for o in asked.options],
        selected=said(questions.entry, asked.name) or None,
    )
    rows.bind(on_choice=lambda _, picked: answer(picked))
    return rows


def _words(asked: AnyInput, questions: Questions, typing: Callable[[str], None]) -> Asked:
    kept = questions.typed.get(asked.name) or said(questions.entry, asked.name)
    entry = TextEntry(text=kept, hint=asked.label if isinstance(asked, Words) else "")
    entry.bind(text=lambda _, text: typing(text))
    return Asked(body=(entry,), entry=entry)


class Keeper:
    """Puts what is being typed on disk, not more often than the disk likes.

    Parameters
    ----------
    keep : callable
        Writes a text.
    """

    def __init__(self, keep: Callable[[str], None]) -> None:
        self._keep = keep
        self._waiting: str | None = None
        flush = guarded(self.flush)
        self._later = Clock.create_trigger(lambda _: flush(), KEEP_EVERY_S)

    def typed(self, text: str) -> None:
        """Keep a text soon."""
        self._waiting = text
        self._later()

    def flush(self) -> None:
        """Keep it now; before leaving, and before the app may be ended.

        Raises
        ------
        WalkError
            The record does not take it: it still waits.
        """
        self._later.cancel()
        waiting, self._waiting = self._waiting, None
        if waiting is None:
            return
        try:
            self._keep(waiting)
        except WalkError:  # nobody leaves before it is put right
            self._waiting = waiting
            raise

    def forget(self) -> None:
        """Drop what waits: it was taken as an answer."""
        self._later.cancel()
        self._waiting = None
