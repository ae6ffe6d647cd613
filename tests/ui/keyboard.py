"""The hands at a keyboard: nothing is touched, everything comes by keys at the window."""

from typing import Any

from kivy.core.window import Window
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.textinput import TextInput

from fieldapp.widgets import CautionSheet, ListRow, RowList, focus
from fieldapp.widgets.focus import Place
from tests.ui.driver import Ui
from tests.ui.sight import common, name_of, parents

_MOST_TABS = 200


class Keyboard:
    """Keys of a keyboard, pressed one after the other.

    Parameters
    ----------
    ui : Ui
        The app that runs.
    """

    def __init__(self, ui: Ui) -> None:
        self.ui = ui

    @property
    def at(self) -> Any:
        """The widget that has the keyboard, which must be in view."""
        here = focus.focused(self.ui.top)
        assert here is not None, self.ui.texts()
        assert in_view(self.ui, here), f"{words_of(here)!r} is out of view"
        return here.widget

    def press(self, *names: str) -> None:
        """Press keys one after the other."""
        for name in names:
            self.ui.key(name)

    def type(self, number: str) -> None:
        """Type digits; no field has the keyboard."""
        for sign in number:
            self.ui.key(sign)

    def to(self, words: str) -> None:
        """Tab to what carries the words."""
        for _ in range(_MOST_TABS):
            self.press("tab")
            here = focus.focused(self.ui.top)
            assert here is not None, self.ui.texts()
            assert in_view(self.ui, here), f"{words_of(here)!r} is out of view"
            if words in words_of(here):
                return
        raise AssertionError(f"no Tab leads to '{words}'; there is {self.ui.texts()}")

    def press_at(self, words: str) -> None:
        """Tab to what carries the words and press Enter there."""
        self.to(words)
        self.press("enter")
        self.ui.rest()

    def read_cautions(self) -> None:
        """Read what lies over the page to its end by the arrows, and acknowledge it."""
        while isinstance(self.ui.top, CautionSheet):
            for _ in range(_MOST_TABS):
                if self.ui.top.is_read:
                    break
                self.press("down")
                self.ui.frames(2)
            self.press_at(self.ui.top.accept_text)


def words_of(place: Place) -> str:
    """What a place says of itself."""
    return (
        place.station
        or str(getattr(place.widget, "text", ""))
        or str(getattr(place.widget, "title", ""))
    )


def in_view(ui: Ui, place: Place) -> bool:
    """Whether at least the beginning of a place is seen."""
    box = place.box
    for parent in parents(place.widget):
        x, y = parent.to_window(*parent.pos)
        box = common(box, (x, y, x + parent.width, y + parent.height))
    box = common(box, (0, 0, Window.width, Window.height))
    least = min(40.0, place.box[3] - place.box[1] - 1)
    return box[2] - box[0] > least and box[3] - box[1] >= least


def unreached(ui: Ui) -> list[str]:
    """What can be pressed or written in and no Tab leads to, or that is out of view then."""
    keys = ui.all((ButtonBehavior, TextInput), ui.top)
    wanted = {w.uid: name_of(w) for w in keys if not w.disabled and not _is_in_list(w)}
    seen: set[tuple[int, str]] = set()
    hidden = []
    for _ in range(_MOST_TABS):
        ui.key("tab")
        here = focus.focused(ui.top)
        if here is None:
            return ["Tab leads nowhere"] if wanted else []
        if (here.widget.uid, here.station) in seen:
            break
        seen.add((here.widget.uid, here.station))
        if not in_view(ui, here):
            hidden.append(f"{words_of(here)!r} is out of view")
    reached = {uid for uid, _ in seen}
    return hidden + [name for uid, name in wanted.items() if uid not in reached]


def _is_in_list(widget: Any) -> bool:
    return isinstance(widget, ListRow) and any(isinstance(p, RowList) for p in parents(widget))
