"""Choosing one of a few: big rows, nothing chosen beforehand."""

from typing import Any

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import (
    BooleanProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.gridlayout import GridLayout

from fieldapp.figures.scene import text_width
from fieldapp.language import Said, say
from fieldapp.theme import is_flat
from fieldapp.widgets.slab import Pressable
from fieldapp.widgets.theming import theme

_LEAST_DP = 140
_AROUND_DP = 48  # around the words of an option: padding, gap, edges


def level(grid: GridLayout) -> None:
    """Make those of a grid that stand side by side equally high, by what each is at ``least``."""
    there = grid.children[::-1]
    for at in range(0, len(there), grid.cols):
        beside = there[at : at + grid.cols]
        tallest = max(each.minimum_height for each in beside)
        for each in beside:
            each.least = tallest if grid.cols > 1 else 0


class Option(Pressable):
    """One row that can be chosen."""

    text = StringProperty("")
    detail = StringProperty("")
    key = ObjectProperty(None)
    chosen = BooleanProperty(False)
    least = NumericProperty(0)


class ChoiceList(GridLayout):
    """Rows of ``options``: (key, text) or (key, text, detail). ``selected`` is a key or None.

    Two stand side by side on a flat window, where each keeps to one line.
    """

    options = ListProperty([])
    selected = ObjectProperty(None, allownone=True)
    columns = NumericProperty(1)

    __events__ = ("on_choice",)

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("cols", 1)
        self._level = Clock.create_trigger(self._make_level, -1)
        super().__init__(**kwargs)
        self.bind(cols=self._level, options=self._build, selected=self._mark, width=self._columns)
        self.bind(columns=self._columns, options=self._columns)
        self._build()

    def on_choice(self, key: Any) -> None:
        """Take the choice."""

    def _columns(self, *_: Any) -> None:
        room = int(self.width // dp(_LEAST_DP)) or 1
        beside = int(self.columns) if self._fits(2, by_word=True) else 1
        self.cols = max(1, min(2 if self._goes_in_two() else beside, room))

    def _goes_in_two(self) -> bool:
        if not is_flat(Window.width / dp(1), Window.height / dp(1)):
            return False
        is_plain = not any(detail for option in self.options for detail in option[2:])
        return is_plain and self._fits(2, by_word=False)

    def _fits(self, count: int, *, by_word: bool) -> bool:
        """Whether every text keeps to one line, or breaks in no word, in one of so many columns."""
        room = (self.width - self.spacing[0]) / count - dp(_AROUND_DP) - theme.px["reading"]
        texts = [say(option[1]) for option in self.options]
        parts = [word for text in texts for word in text.split()] if by_word else texts
        return all(text_width(Said(part), theme.px["action"]) <= room for part in parts)

    def _build(self, *_: Any) -> None:
        self.clear_widgets()
        for key, text, *detail in self.options:
            option = Option(key=key, text=text, detail=detail[0] if detail else "")
            option.bind(on_release=self._released, minimum_height=self._level)
            self.add_widget(option)
        self._mark()

    def _make_level(self, *_: Any) -> None:
        level(self)

    def _mark(self, *_: Any) -> None:
        for option in self.children:
            option.chosen = self.selected is not None and option.key == self.selected

    def _released(self, option: Option) -> None:
        self.selected = option.key
        self.dispatch("on_choice", option.key)


class YesNo(ChoiceList):
    """Two keys, side by side where their words fit; ``selected`` is "yes", "no" or None."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("options", [("yes", "Yes"), ("no", "No")])
        kwargs.setdefault("columns", 2)
        super().__init__(**kwargs)
