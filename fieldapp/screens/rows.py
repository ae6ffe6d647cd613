"""Rows that stand on a page among other things, each as high as its words."""

from collections.abc import Sequence
from typing import Any, Final

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import NumericProperty
from kivy.uix.gridlayout import GridLayout

from fieldapp.screens.screen import load_kv
from fieldapp.widgets import ListRow, Words, theme
from fieldapp.widgets.choices import level

load_kv(__file__)

_TWO_FROM_DP: Final = 660


class StandingRow(ListRow):
    """The kit's list row outside of a list; ``chosen(key)`` is called when it is pressed."""

    least = NumericProperty(0)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.on_sign()


class LabelledRow(StandingRow):
    """A row whose title is a value, with what it is called small above it."""

    def __init__(self, label: str, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        lines = self.ids.lines
        lines.add_widget(Words(text=label, tone="ink_soft"), index=len(lines.children))


class Rows(GridLayout):
    """Standing rows one below the other; two side by side where both have room."""

    def __init__(self, rows: Sequence[StandingRow], **kwargs: Any) -> None:
        self._settle = Clock.create_trigger(self._arrange, -1)
        super().__init__(cols=1, **kwargs)
        for row in rows:
            row.fbind("minimum_height", self._settle)
            self.add_widget(row)
        self.fbind("width", self._settle)
        theme.follow(self, "_settle")

    def _arrange(self, *_: Any) -> None:
        self.cols = 2 if self.width >= dp(_TWO_FROM_DP) * theme.text_scale else 1
        level(self)
