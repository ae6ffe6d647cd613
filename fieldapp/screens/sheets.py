"""What comes between: words with keys under them, an error in words, a choice."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from kivy.core.window import Window
from kivy.lang import Builder

from checks.errors import ChecksError
from fieldapp.widgets import CautionSheet, ChoiceList, SecondaryButton, Words


class Sheet(CautionSheet):
    """A sheet over the page with words, more keys where needed, and no key that is not wanted."""

    def __init__(
        self,
        title: str,
        *,
        words: Sequence[str | Words] = (),
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
            is_dressed = isinstance(line, Words)
            self.ids.content.add_widget(line if is_dressed else Words(text=line, role="lead"))
        if decline is None:
            actions = self.ids.actions
            actions.remove_widget(actions.children[-1])

    def add_key(self, text: str, do: Callable[[], None], *, once_read: bool = False) -> None:
        """Add one more way to answer; ``once_read`` opens it at the end of what is to be read."""

        def press(*_: Any) -> None:
            self._close()
            do()

        made = SecondaryButton(text=text, on_release=press)
        if once_read:
            made.disabled = not self.is_read
            self.bind(is_read=lambda _, is_read: setattr(made, "disabled", not is_read))
        self.ids.actions.add_widget(made, index=1)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


def nothing() -> None:
    """Do nothing: the sheet only goes away."""


def trouble(error: ChecksError) -> None:
    """Say what is wrong, where, and what to do; one at a time."""
    if any(isinstance(w, Sheet) and w.title == error.where for w in Window.children):
        return
    lines = (f"{capital(error.problem)}.", f"{error.remedy}.")
    Sheet(capital(error.where), words=lines, accept=("Close", nothing)).open()


def capital(words: str) -> str:
    """Begin with a capital."""
    return words[:1].upper() + words[1:]


def pick(
    title: str,
    options: Sequence[tuple[str, str, str]],
    now: str,
    take: Callable[[str], None],
    *,
    cautions: Sequence[tuple[str, str]] = (),
    close: str = "Close",
) -> None:
    """Let one of a few be picked: (key, text, detail); what is to be heeded stands above."""
    sheet = Sheet(title, cautions=cautions, accept=(close, nothing), is_gated=False)

    def chosen(_: ChoiceList, picked: str) -> None:
        sheet._close()
        take(picked)

    options_list = ChoiceList(options=list(options), selected=now)
    options_list.bind(on_choice=chosen)
    sheet.ids.content.add_widget(options_list)
    sheet.open()
