"""What comes between: an error in words, a doubtful number, a danger that interrupts, a choice."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from kivy.core.window import Window
from kivy.lang import Builder

from checks.errors import ChecksError
from checks.record import DangerAnswer
from fieldapp.walk.numbers import Doubt
from fieldapp.widgets import CautionSheet, ChoiceList, SecondaryButton, Words

SAFE_POINT = (
    "Stop. Switch the current off from a safe point: the vehicle, the charger, or a breaker where "
    "nothing is hot, burnt or wet; otherwise have the supply cut. Keep people away, and keep it "
    "off until it is mended."
)
STAYS_ON = (
    "Touch nothing and try nothing. Keep everybody away, put up a barrier and stay outside it."
)
STAYS_ON_STILL = (
    "You said that it cannot be switched off. Stay away from it until who may cut the supply has "
    "cut it."
)
HELP = (
    "Call for help from where it is safe: the fire service on smoke, fire or a person hurt; the "
    "utility to have the supply cut. Stay until they are here, and let nobody near."
)
LOAD_BACK = (
    "Without load, checks with a hand on the coupler open. End the charge at the vehicle or the "
    "charger first, and read the current: it must be at zero."
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
    """Takes the whole window: nothing else is seen until it is answered, by no back key."""

    def decline(self) -> None:
        """Stay, where there is nothing to go back to."""
        if self._on_decline is not self._on_accept:
            super().decline()


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


def nothing() -> None:
    """Do nothing: the sheet only goes away."""


def trouble(error: ChecksError) -> None:
    """Say what is wrong, where, and what to do; one at a time."""
    if any(isinstance(w, Sheet) and w.title == error.where for w in Window.children):
        return
    lines = (f"{_capital(error.problem)}.", f"{error.remedy}.")
    Sheet(_capital(error.where), words=lines, accept=("Close", nothing)).open()


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


def danger(
    title: str, explanation: str, remedy: str, answered: Callable[[DangerAnswer], None]
) -> None:
    """Interrupt the work: a danger was found. ``answered`` gets what was answered."""
    sheet = DangerSheet(
        title,
        cautions=[("danger", SAFE_POINT)],
        words=(explanation, remedy),
        accept=(_capital(DangerAnswer.OFF), lambda: answered(DangerAnswer.OFF)),
    )

    def stays_on() -> None:
        DangerSheet(
            "It stays on",
            cautions=[("danger", STAYS_ON)],
            words=(HELP,),
            accept=("People are away, help is called", lambda: answered(DangerAnswer.STAYS_ON)),
            decline=("Go back", sheet.open),
        ).open()

    sheet.add_key("It cannot be switched off", stays_on)
    sheet.open()


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def load_back(go_on: Callable[[], None]) -> None:
    """Ask whether the charge has ended, before what needs no current opens."""
    Sheet(
        "Has the charge ended?",
        cautions=[("warning", LOAD_BACK)],
        accept=("Yes, current at zero", go_on),
        decline=("Go back", nothing),
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
