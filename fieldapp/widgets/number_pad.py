"""The number pad with keys for gloves, and the display that shows value, margin and verdict."""

from typing import Any

from kivy.properties import (
    BooleanProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout

from fieldapp.figures import text_width
from fieldapp.widgets.digits import BACK, MAX_PLACES, MINUS, POINT, pressed
from fieldapp.widgets.slab import Card, Pressable
from fieldapp.widgets.theming import theme
from fieldapp.widgets.words import Words

_ROWS = (("1", "2", "3"), ("4", "5", "6"), ("7", "8", "9"))
_TRUE_MINUS = "\N{MINUS SIGN}"


class PadKey(Pressable):
    """One key: a sign to read, and what it does."""

    text = StringProperty("")
    icon = StringProperty("")
    does = StringProperty("")


class NumberPad(BoxLayout):
    """Digits, decimal mark, backspace, and a sign key where the quantity can be negative.

    ``text`` holds what was typed, with a point for the decimal mark whatever the key shows.
    ``on_done`` comes from the Enter key of a keyboard.
    """

    text = StringProperty("")
    places = NumericProperty(MAX_PLACES)
    allow_minus = BooleanProperty(False)
    mark = StringProperty(POINT)

    __events__ = ("on_done",)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            orientation="vertical", size_hint_y=None, spacing="8dp", **kwargs
        )
        self.bind(minimum_height=self.setter("height"))
        self.bind(allow_minus=self._build, mark=self._build, places=self._build)
        self._build()

    def on_done(self) -> None:
        """Take what was typed."""

    def key(self, does: str) -> None:
        """Do what one key does."""
        self.text = pressed(
            self.text, does, places=int(self.places), allow_minus=self.allow_minus
        )

    def _build(self, *_: Any) -> None:
        self.clear_widgets()
        for row in _ROWS:
            self._row([PadKey(text=digit, does=digit) for digit in row])
        last = [PadKey(text="0", does="0"), PadKey(icon="backspace", text="", does=BACK)]
        if self.places:
            last.insert(0, PadKey(text=self.mark, does=POINT))
        if self.allow_minus:
            last.insert(0, PadKey(text="±", does=MINUS))
        self._row(last)

    def _row(self, keys: list[PadKey]) -> None:
        row = BoxLayout(size_hint_y=None, spacing="8dp")
        row.bind(minimum_height=row.setter("height"))
        for key in keys:
            key.bind(on_release=self._released)
            if key.text:
                word = Words(text=key.text, role="key", strong=True, halign="center")
                key.children[0].add_widget(word)
            row.add_widget(key)
        self.add_widget(row)

    def _released(self, key: PadKey) -> None:
        self.key(key.does)


class ValueDisplay(Card):
    """The value as typed, very large, with its unit; the margin gauge and the verdict under it.

    Parameters are properties: ``title`` names the quantity, ``text`` is what was typed, ``unit``
    stands beside it, ``figure`` is a function from width to `Scene` (a gauge) or None, ``verdict``
    one of the five words.
    """

    title = StringProperty("")
    text = StringProperty("")
    unit = StringProperty("")
    mark = StringProperty(POINT)
    verdict = StringProperty("not measured")
    figure = ObjectProperty(None, allownone=True)
    shown = StringProperty("")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        for name in ("text", "unit", "mark", "width"):
            self.fbind(name, self._show)
        theme.bind(on_change=self._show)
        self._show()

    def _show(self, *_: Any) -> None:
        """Value and unit on one baseline; both shrink together before they would be cut."""
        value = self.text.replace(MINUS, _TRUE_MINUS).replace(POINT, self.mark)
        unit_px = theme.px["title"]
        soft = _hex(theme.color["ink_soft"])
        room = max(1.0, self.width - self.padding[0] - self.padding[2])
        needed = text_width(value or "–", theme.px["value"]) + text_width(f" {self.unit}", unit_px)
        size = theme.px["value"] * min(1.0, room / needed) if self.width > unit_px else unit_px
        unit = f"[size={int(unit_px)}][color={soft}] {self.unit}[/color][/size]"
        color = _hex(theme.color["ink" if value else "ink_soft"])
        self.shown = f"[size={int(size)}][color={color}]{value or '–'}[/color][/size]{unit}"


def _hex(color: tuple[float, ...]) -> str:
    return "".join(f"{round(c * 255):02x}" for c in color[:3])


