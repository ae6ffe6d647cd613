"""Keys side by side, or stacked when their words need it."""

from typing import Any

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.figures import text_width
from fieldapp.widgets.slab import KeyButton
from fieldapp.widgets.theming import theme

_INSIDE_DP = 36  # a key's padding and the gap beside it
_TWO_LINES = 1.7  # of a key's width, the most that wraps into two lines


class KeyRow(BoxLayout):
    """Equally wide and equally high keys."""

    def __init__(self, **kwargs: Any) -> None:
        self._stack = Clock.create_trigger(self._arrange, -1)
        super().__init__(size_hint_y=None, spacing="8dp", **kwargs)
        self.bind(minimum_height=self.setter("height"), width=self._stack, children=self._stack)
        theme.follow(self, "_stack")

    def add_widget(self, widget: Widget, *args: Any, **kwargs: Any) -> None:
        """Watch the key, so that its neighbors grow with it."""
        super().add_widget(widget, *args, **kwargs)
        if isinstance(widget, KeyButton):
            widget.fbind("minimum_height", self._stack)
            widget.fbind("text", self._stack)

    def _arrange(self, *_: Any) -> None:
        keys = [w for w in self.children if isinstance(w, KeyButton)]
        room = self.width - self.padding[0] - self.padding[2]
        share = room / max(1, len(keys)) - dp(_INSIDE_DP)
        size = theme.px["action"]
        words = [word for key in keys for word in key.text.split()]
        fits = all(text_width(word, size) <= share for word in words) and all(
            text_width(key.text, size) <= _TWO_LINES * share for key in keys
        )
        self.orientation = "horizontal" if fits else "vertical"
        tallest = max((key.minimum_height for key in keys), default=0)
        for key in keys:
            key.least = tallest if fits else 0


class Actions(KeyRow):
    """Main actions of a page, the primary one last."""
