"""Keys side by side, or stacked when their words need it."""

from typing import TYPE_CHECKING, Any

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import BooleanProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.figures.scene import text_width
from fieldapp.widgets.slab import KeyButton
from fieldapp.widgets.theming import theme

if TYPE_CHECKING:
    from fieldapp.widgets.photos import PhotoKey  # it knows the trade, and keys come up before that

_LEAST_DP = 64  # a gloved thumb
_INSIDE_DP = 28  # a key's padding and what its edges need
_ICON_GAP_DP = 8
_ROLES = ("action", "lead", "body")  # of the words, the largest that fits
_TWO_LINES = 1.7  # of a key's width, the most that wraps into two lines


class Flanked(BoxLayout):
    """A key with a small one beside it, equally high, as one of a `KeyRow`."""

    def __init__(
        self, small: "PhotoKey", key: KeyButton, *, is_after: bool = False, **kwargs: Any
    ) -> None:
        super().__init__(size_hint_y=None, spacing="8dp", **kwargs)
        self.key, self._small = key, small
        for each in (key, small) if is_after else (small, key):
            self.add_widget(each)
        self.bind(minimum_height=self.setter("height"))
        key.bind(height=small.setter("least"))

    @property
    def least(self) -> float:
        """Height that the small key needs. [px]."""
        return float(self._small.own_height)

    @property
    def beside(self) -> float:
        """Width that the small key takes from the other. [px]."""
        return float(self._small.width + self.spacing)


class KeyRow(BoxLayout):
    """Equally high keys; equally wide where their words let them be."""

    is_small = BooleanProperty(False)  # words no larger than text for reading

    def __init__(self, **kwargs: Any) -> None:
        self._stack = Clock.create_trigger(self._arrange, -1)
        super().__init__(size_hint_y=None, spacing="8dp", **kwargs)
        self.bind(minimum_height=self.setter("height"), width=self._stack, children=self._stack)
        self.fbind("is_small", self._stack)
        theme.follow(self, "_stack")

    def add_widget(self, widget: Widget, *args: Any, **kwargs: Any) -> None:
        """Watch the key, so that its neighbors grow with it."""
        super().add_widget(widget, *args, **kwargs)
        key = _key_in(widget)
        if key is not None:
            key.fbind("minimum_height", self._stack)
            key.fbind("text", self._stack)
            key.fbind("icon", self._stack)

    def _arrange(self, *_: Any) -> None:
        found = [(widget, _key_in(widget)) for widget in self.children]
        keys = [key for _, key in found if key is not None]
        role, widths = self._set_in(keys)
        self.orientation = "horizontal" if widths else "vertical"
        flanked = [widget.least for widget, _ in found if isinstance(widget, Flanked)]
        tallest = max((*flanked, *(key.minimum_height for key in keys)), default=0)
        for widget, key in found:
            if key is not None:
                own, least = 0.0, 0.0
                if isinstance(widget, Flanked):
                    own, least = widget.beside, widget.least
                key.role = role
                key.least = tallest if widths else least
                widget.size_hint_x = widths[keys.index(key)] + own if widths else 1

    def _set_in(self, keys: list[KeyButton]) -> tuple[str, list[float]]:
        """Return the size of the words and a width for each key; none where they are stacked.

        Words get smaller before they take two lines: a key that grows moves those above it, and
        a number is being typed there.
        """
        roles = _ROLES[-1:] if self.is_small else _ROLES
        for role in roles if keys else ():
            widths = self._on_one_line(keys, role)
            if widths:
                return role, widths
        for role in roles if keys else ():
            widths = self._on_two_lines(keys, role)
            if widths:
                return role, widths
        return roles[0], []

    def _on_one_line(self, keys: list[KeyButton], role: str) -> list[float]:
        """All alike where that breaks no text; else as wide as each needs."""
        room = self._room(len(keys))
        each = room / len(keys)
        needs = [_one_line(key, role) for key in keys]
        if max(needs) <= each:
            return [each] * len(keys)
        if sum(needs) <= room:
            return [need + (room - sum(needs)) / len(keys) for need in needs]
        return []

    def _on_two_lines(self, keys: list[KeyButton], role: str) -> list[float]:
        """All alike where that is enough; else the longest takes what the others leave."""
        room = self._room(len(keys))
        each = room / len(keys)
        if all(_fits_two_lines(key, role, each) for key in keys):
            return [each] * len(keys)
        needs = [_one_line(key, role) for key in keys]
        at = needs.index(max(needs))
        needs[at] = room - sum(needs) + needs[at]
        return needs if _fits_two_lines(keys[at], role, needs[at]) else []

    def _room(self, count: int) -> float:
        """Width for so many keys themselves. [px]."""
        beside = sum(w.beside for w in self.children if isinstance(w, Flanked))
        gaps = self.spacing * (count - 1)
        return float(self.width - self.padding[0] - self.padding[2] - gaps - beside)


def _around(key: KeyButton) -> float:
    """Width of all that is not text. [px]."""
    return float(dp(_INSIDE_DP) + (theme.px["title"] + dp(_ICON_GAP_DP) if key.icon else 0))


def _one_line(key: KeyButton, role: str) -> float:
    return max(float(dp(_LEAST_DP)), text_width(key.text, theme.px[role]) + _around(key))


def _fits_two_lines(key: KeyButton, role: str, width: float) -> bool:
    """Whether the words of a key of this width wrap into two lines, none of them broken."""
    room, px = width - _around(key), theme.px[role]
    longest = max((text_width(word, px) for word in key.text.split()), default=0.0)
    return longest <= room and text_width(key.text, px) <= _TWO_LINES * room


def _key_in(widget: Widget) -> KeyButton | None:
    """Return the key that a child of a row is or holds."""
    if isinstance(widget, Flanked):
        return widget.key
    return widget if isinstance(widget, KeyButton) else None


class Actions(KeyRow):
    """Main actions of a page, the primary one last."""

    is_low = BooleanProperty(False)
