"""The surface everything stands on, and what can be pressed.

A flat slab shows; a slab on a thicker foot can be pressed and goes down under the finger. What is
disabled loses its foot and its edge.
"""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, InstructionGroup, SmoothRoundedRectangle
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from fieldapp.language import say
from fieldapp.widgets.theming import theme

_RING_DP, _RING_GAP_DP = 3, 2  # around what has the keyboard; keys are 8 apart


class Slab(BoxLayout):
    """A rounded surface with an edge; colors are token names."""

    fill = StringProperty("surface")
    rim = StringProperty("line")
    raised = BooleanProperty(False)
    sunk = BooleanProperty(False)
    focused = BooleanProperty(False)
    rim_width = NumericProperty(0)

    def __init__(self, **kwargs: Any) -> None:
        self._paint = Clock.create_trigger(self._repaint, -1)
        super().__init__(**kwargs)
        with self.canvas.before:
            self._ring = InstructionGroup()  # hardly any slab ever has the keyboard
            self._rim_color = Color()
            self._rim = SmoothRoundedRectangle()
            self._fill_color = Color()
            self._fill = SmoothRoundedRectangle()
        for name in ("pos", "size", "fill", "rim", "raised", "sunk", "focused", "disabled"):
            self.fbind(name, self._paint)
        self.fbind("rim_width", self._paint)
        theme.follow(self, "_paint")
        self._paint()

    def _repaint(self, *_: Any) -> None:
        edge = dp(self.rim_width) if self.rim_width else theme.edge
        edge = dp(1) if self.disabled else edge
        foot = theme.foot if self.raised and not self.disabled else edge
        lowered = foot - edge if self.sunk else 0
        height = self.height - lowered
        bottom = edge if self.sunk else foot
        self._rim_color.rgba = theme.color["rule" if self.disabled else self.rim]
        self._fill_color.rgba = theme.color[self.fill]
        self._ring.clear()
        if self.focused:
            self._ring_around(height)
        _place(self._rim, self.x, self.y, self.width, height)
        _place(
            self._fill,
            self.x + edge,
            self.y + bottom,
            self.width - 2 * edge,
            height - edge - bottom,
            edge,
        )

    def _ring_around(self, height: float) -> None:
        gap, ring = dp(_RING_GAP_DP), dp(_RING_GAP_DP + _RING_DP)
        for color, out in (("accent", ring), ("ground", gap)):
            shape = SmoothRoundedRectangle()
            _place(shape, self.x - out, self.y - out, self.width + 2 * out, height + 2 * out, -out)
            self._ring.add(Color(*theme.color[color]))
            self._ring.add(shape)


def _place(
    shape: SmoothRoundedRectangle, x: float, y: float, w: float, h: float, inset: float = 0.0
) -> None:
    shape.pos = (x, y)
    shape.size = (max(0.0, w), max(0.0, h))
    shape.radius = [max(0.0, theme.radius - inset)]


class Card(Slab):
    """A flat surface for what belongs together; grows with its content."""


class Pressable(ButtonBehavior, Slab):
    """A raised slab that answers a press, by touch or by key."""

    ink = StringProperty("ink")
    rest = StringProperty("key")
    rim = StringProperty("edge")
    raised = BooleanProperty(True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        for name in ("state", "rest", "disabled"):
            self.fbind(name, self._tone)
        self._tone()

    def _tone(self, *_: Any) -> None:
        self.sunk = self.state == "down"
        self.fill = "ground" if self.disabled else self.rest

    def press(self) -> None:
        """Do what a tap does; for the keyboard."""
        if not self.disabled:
            self.dispatch("on_release")


class KeyButton(Pressable):
    """A word on a key; the word wraps and the key grows."""

    text = StringProperty("")
    icon = StringProperty("")
    role = StringProperty("action")
    least = NumericProperty(0)
    beside = NumericProperty(0)  # width of the icon with its gap
    spare = NumericProperty(0)  # on each side of icon and words on one line
    aside = NumericProperty(0)  # what keeps the icon at its words

    def on_text(self, _: Any, text: str) -> None:
        """Say it in the language in use, so that its row measures what is shown."""
        self.text = say(text)


class PrimaryButton(KeyButton):
    """The one main action of a page."""


class SecondaryButton(KeyButton):
    """Any other action."""


class DangerButton(KeyButton):
    """What destroys or cannot be taken back without help."""


class IconButton(Pressable):
    """An icon alone, with a name for tests and for those who cannot see it."""

    text = StringProperty("")
    icon = StringProperty("")
