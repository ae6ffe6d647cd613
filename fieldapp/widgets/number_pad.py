"""The number pad with keys for gloves, and the display that shows value, margin and verdict."""

from collections.abc import Callable
from typing import Any, Final

from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import (
    BooleanProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.figures.scene import text_width
from fieldapp.language import Said
from fieldapp.theme import TOUCH_ACTION_DP
from fieldapp.widgets.slab import Card, KeyButton, Pressable
from fieldapp.widgets.theming import theme
from fieldapp.widgets.words import Words

Rule = Callable[[str, str], str]  # text so far and what a key does, to the text after it
MINUS: Final = "-"
POINT, BACK, SIGN = ".", "back", "sign"  # what the keys do that are no digits

# Three rows of four: the largest keys for gloves that leave the value in view on a small phone.
_ROWS = (("1", "2", "3", BACK), ("4", "5", "6", POINT), ("7", "8", "9", "0"))
_KEY_SHARE, _KEY_MOST_DP = 0.095, 84
_INSIDE_PAST_DP = 36  # what a key has around its words
_TRUE_MINUS = "\N{MINUS SIGN}"


class PadKey(Pressable):
    """One key: a sign to read, and what it does."""

    text = StringProperty("")
    icon = StringProperty("")
    does = StringProperty("")
    least = NumericProperty(0)


class NumberPad(BoxLayout):
    """Digits, decimal mark and backspace.

    ``text`` holds what was typed, with a point for the decimal mark whatever the key shows.

    Parameters
    ----------
    rule : callable
        What a key does to the text: the pad itself knows nothing of numbers.
    """

    text = StringProperty("")
    has_point = BooleanProperty(True)
    mark = StringProperty(POINT)
    key_height = NumericProperty(TOUCH_ACTION_DP)

    def __init__(self, rule: Rule, **kwargs: Any) -> None:
        self._rule = rule
        super().__init__(orientation="vertical", size_hint_y=None, spacing="8dp", **kwargs)
        self.bind(minimum_height=self.setter("height"))
        Window.bind(height=self._size_keys)
        theme.follow(self, "_size_keys")
        self.bind(mark=self._build, has_point=self._build)
        self._build()

    def key(self, does: str) -> None:
        """Do what one key does."""
        self.text = self._rule(self.text, does)

    def _build(self, *_: Any) -> None:
        self.clear_widgets()
        for row in _ROWS:
            self._row([self._key(does) for does in row])
        self._size_keys()

    def _key(self, does: str) -> PadKey:
        if does == BACK:
            return PadKey(icon="backspace", does=does)
        shown = self.mark if does == POINT else does
        return PadKey(text=shown, does=does, disabled=does == POINT and not self.has_point)

    def _size_keys(self, *_: Any) -> None:
        self.key_height = max(
            dp(TOUCH_ACTION_DP), min(dp(_KEY_MOST_DP), Window.height * _KEY_SHARE)
        )

    def _row(self, keys: list[PadKey]) -> None:
        row = BoxLayout(size_hint_y=None, spacing="8dp")
        row.bind(minimum_height=row.setter("height"))
        for key in keys:
            key.bind(on_release=self._released)
            key.least = self.key_height
            self.fbind("key_height", key.setter("least"))
            if key.text:
                word = Words(text=key.text, role="key", strong=True, halign="center")
                key.children[0].add_widget(word)
            row.add_widget(key)
        self.add_widget(row)

    def _released(self, key: PadKey) -> None:
        self.key(key.does)


_PAIRED_LEAST = 0.75  # of its size; a smaller value stands above its verdict


class ValueDisplay(Card):
    """The value as typed, very large, with its unit; the margin gauge and the verdict under it.

    ``title`` names the quantity, ``text`` is what was typed, ``unit``
    stands beside it, ``figure`` is a function from width to `Scene` (a gauge) or None, ``verdict``
    one of the five words. Where it is tight the value is smaller, and the verdict comes with it.
    A number that may be left out has the key for that in the verdict's place, until a digit is
    typed: beside the digits it would be struck for one of them.
    """

    title = StringProperty("")
    text = StringProperty("")
    unit = StringProperty("")
    mark = StringProperty(POINT)
    verdict = StringProperty("not measured")
    figure = ObjectProperty(None, allownone=True)
    shown = StringProperty("")
    is_paired = BooleanProperty(True)
    is_tight = BooleanProperty(False)
    tag_width = NumericProperty(100)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._tag = self.ids.tag.__self__  # an id is weak, and the tag comes and goes
        self._past: KeyButton | None = None
        for name in ("text", "unit", "mark", "width", "verdict", "is_tight"):
            self.fbind(name, self._show)
        theme.follow(self, "_show")
        self._show()

    def _show(self, *_: Any) -> None:
        """Value and unit on one baseline; both shrink together before they would be cut."""
        value = self.text.replace(MINUS, _TRUE_MINUS).replace(POINT, self.mark)
        value_px, unit_px = theme.px["key" if self.is_tight else "value"], theme.px["title"]
        soft = _hex(theme.color["ink_soft"])
        whole = max(1.0, self.width - self.padding[0] - self.padding[2])
        room = max(1.0, whole - self._keys_px)
        beside = text_width(f" {self.unit}", unit_px)
        past = None if value else self._past
        tag = theme.px["reading"] + dp(12) + text_width(self.verdict, theme.px["action"])
        if past is not None:
            tag = past.width = dp(_INSIDE_PAST_DP) + text_width(past.text, theme.px[past.role])
        wide = text_width(value or "–", value_px)
        paired = (room - tag - beside) / wide  # of its size, to stand beside the verdict
        self.is_paired = paired >= _PAIRED_LEAST
        fit = min(1.0, paired if self.is_paired else room / (wide + beside))
        size = value_px * fit if self.width > unit_px else unit_px
        unit = f"[size={int(unit_px)}][color={soft}] {self.unit}[/color][/size]"
        color = _hex(theme.color["ink" if value else "ink_soft"])
        self.tag_width = tag if self.is_paired else whole
        self._put_at_end(past or (self._tag if value or not self.is_tight else None))
        self.shown = Said(f"[size={int(size)}][color={color}]{value or '–'}[/color][/size]{unit}")

    @property
    def _keys_px(self) -> float:
        """Width of what stands beside the value, which was there first."""
        return float(sum(key.width for key in self.ids.value.children[:-1]))

    def put_beside(self, key: Widget) -> None:
        """Put a key beside the value, where the pad has no room for it."""
        self.ids.value.add_widget(key)
        self._show()

    def put_past(self, key: KeyButton) -> None:
        """Put the key that leaves the number out in the verdict's place, until a digit is typed."""
        key.role, key.size_hint_x, key.pos_hint = "body", None, {"center_y": 0.5}
        self._past = key
        self._show()

    def _put_at_end(self, shown: Widget | None) -> None:
        line = self.ids.line
        for each in (self._tag, self._past):
            if each is not None and each is not shown and each.parent is not None:
                line.remove_widget(each)
        if shown is not None and shown.parent is None:
            line.add_widget(shown)


def _hex(color: tuple[float, ...]) -> str:
    return "".join(f"{round(c * 255):02x}" for c in color[:3])
