"""What comes between: an error in words, a doubtful number, a danger that interrupts, a choice."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from kivy.core.window import Window
from kivy.lang import Builder

from checks.errors import ChecksError
from fieldapp.walk.numbers import Doubt
from fieldapp.widgets import CautionSheet, ChoiceList, SecondaryButton, Words

SAFE_POINT = (
    "Stop. Switch the current off from a safe point: the vehicle, the charger, or a breaker where "
    "nothing is hot, burnt or wet; otherwise have the supply cut. Keep people away, and keep it "
    "off until it is mended."
)


class Sheet(CautionSheet):
    """A sheet over the page with words, more keys where needed, and no key that is not wanted."""

    def __init__(
        self,
        title: str,
        *,
        words: Sequence[str] = (),
        cautions: Sequence[tuple[str, str]] = (),
        accept: tuple[str, Callable[[], None]],
        decline: tuple[str, Callable[[], None] | None] | None = None,
        **kwargs: Any,
    ) -> None:
        text, act = accept
        super().__init__(
            cautions,
            act,
            decline[1] if decline else act,
            title=title,
            accept_text=text,
            decline_text=decline[0] if decline else "",
            **kwargs,
        )
        for line in words:
            self.ids.content.add_widget(Words(text=line, role="lead"))
        if decline is None:
            actions = self.ids.actions
            actions.remove_widget(actions.children[-1])

    def add_key(self, text: str, do: Callable[[], None]) -> None:
        """Add one more way to answer."""

        def press(*_: Any) -> None:
            self._close()
            do()

        self.ids.actions.add_widget(SecondaryButton(text=text, on_release=press), index=1)


class DangerSheet(Sheet):
    """Takes the whole window: nothing else is seen until it is answered."""


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


def nothing() -> None:
    """Do nothing: the sheet only goes away."""


def trouble(error: ChecksError) -> None:
    """Say what is wrong, where, and what to do; one at a time."""
    if any(isinstance(w, Sheet) and w.title == error.where for w in Window.children):
        return
    where = error.where[:1].upper() + error.where[1:]
    lines = (f"{error.problem[:1].upper()}{error.problem[1:]}.", f"{error.remedy}.")
    Sheet(where, words=lines, accept=("Close", nothing)).open()


def doubtful(doubt: Doubt, typed: str, unit: str, take: Callable[[str], None]) -> None:
    """Ask about a hardly possible number; ``take`` gets the digits that were meant."""
    sheet = Sheet(
        doubt.question,
        words=("A slip of the finger, or really so?",),
        accept=(
            (f"{doubt.suggestion} {unit}", lambda: take(doubt.suggestion))
            if doubt.suggestion
            else ("Type it again", nothing)
        ),
        decline=("Type it again", nothing) if doubt.suggestion else None,
    )
    sheet.add_key(f"{typed} {unit} is right", lambda: take(typed))
    sheet.open()


def danger(title: str, explanation: str, remedy: str, go_on: Callable[[], None]) -> None:
    """Interrupt the work: a danger was found."""
    DangerSheet(
        title,
        cautions=[("danger", SAFE_POINT)],
        words=(explanation, remedy),
        accept=("It is off, and people are away", go_on),
    ).open()


def pick(
    title: str, options: Sequence[tuple[str, str, str]], now: str, take: Callable[[str], None]
) -> None:
    """Let one of a few be picked: (key, text, detail)."""
    sheet = Sheet(title, accept=("Close", nothing))

    def chosen(_: ChoiceList, picked: str) -> None:
        sheet._close()
        take(picked)

    options_list = ChoiceList(options=list(options), selected=now)
    options_list.bind(on_choice=chosen)
    sheet.ids.content.add_widget(options_list)
    sheet.open()
