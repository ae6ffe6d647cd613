"""Photos on screen: large with marks over it, small in a row, and the key that leads to them."""

from math import hypot
from typing import Any, Final

from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import (
    BooleanProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.image import Image
from kivy.uix.stacklayout import StackLayout
from kivy.uix.stencilview import StencilView
from kivy.uix.widget import Widget

from checks.record import MARK_PARTS, MARKS_MOST, Mark, MarkShape
from fieldapp.figures.photo_marks import photo_marks
from fieldapp.widgets.scene_view import SceneView
from fieldapp.widgets.slab import Pressable

_TALL_SHARE, _FLAT_SHARE = 0.38, 0.56  # of the window's height, upright and lying
_LEAST_DP = 150
_LEAST_DRAWN: Final = 400  # parts of the picture's width: less is a touch, not a stroke
_STEP = 250  # of a mark that a key moves, in the same parts
_RADIUS, _ARROW = 1200, 2200  # of a mark that was only touched, in the same parts
_ASIDE = 600  # from one mark that was put in the middle to the next, in the same parts
_FINGER_DP: Final = 24  # from a mark's point: nearer, a touch means that mark


class Pictured(Widget):
    """A picture as large as fits, its marks over it, clipped to the picture."""

    source = StringProperty("")
    marks = ObjectProperty(())

    def __init__(self, **kwargs: Any) -> None:
        self._image = Image(fit_mode="contain")
        self._over = StencilView()
        self._drawn = SceneView(size_hint=(1, 1))
        super().__init__(**kwargs)
        self.add_widget(self._image)
        self.add_widget(self._over)
        self._over.add_widget(self._drawn)
        self._image.bind(norm_image_size=self._place)
        self.bind(pos=self._place, size=self._place, source=self._show, marks=self._place)
        self._show()

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of the picture itself, in window units. [px]."""
        w, h = self._image.norm_image_size
        return self.center_x - w / 2, self.center_y + h / 2, w, h

    def _show(self, *_: Any) -> None:
        self._image.source = self.source
        self._place()

    def _place(self, *_: Any) -> None:
        self._image.pos, self._image.size = self.pos, self.size
        left, top, w, h = self.frame
        for part in (self._over, self._drawn):
            part.pos, part.size = (left, top - h), (w, h)
        if w > 0 and h > 0:
            self._drawn.scene = photo_marks(self.marks, w / dp(1), h / dp(1))


class PhotoView(Pictured):
    """A photo in a place of its own; where it may be marked, a touch marks it.

    A touch on a mark draws that one anew; elsewhere there is one more, as long as the photo holds
    more. ``on_marked`` comes with all marks when the finger is lifted.
    """

    shape = ObjectProperty(MarkShape.CIRCLE)
    is_markable = BooleanProperty(False)

    __events__ = ("on_marked",)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(size_hint_y=None, **kwargs)
        Window.bind(size=self._fit)
        self.bind(width=self._fit)
        self._image.bind(texture=self._fit)
        self._fit()

    def on_marked(self, marks: tuple[Mark, ...]) -> None:
        """Tell what is marked."""

    def _fit(self, *_: Any) -> None:
        share = _FLAT_SHARE if Window.width > Window.height else _TALL_SHARE
        as_wide = self.width / max(self._image.image_ratio, 0.1)
        self.height = max(dp(_LEAST_DP), min(as_wide, Window.height * share))

    def add(self) -> None:
        """Put a mark in the middle, beside those that were put there; the arrow keys move it."""
        tall = self._tall
        aside = len(self.marks) * _ASIDE
        at = MARK_PARTS // 2 + aside, min(tall, tall // 2 + aside)
        self.marks = (*self.marks, self._marked(at, at))
        self.dispatch("on_marked", self.marks)

    def take_away(self) -> None:
        """Take the last mark away."""
        self.marks = self.marks[:-1]
        self.dispatch("on_marked", self.marks)

    def nudge(self, right: int, down: int) -> None:
        """Move the last mark by so many steps, inside the picture; for the keyboard."""
        if not self.marks:
            return
        *others, old = self.marks
        x = min(MARK_PARTS, max(0, old.x + right * _STEP))
        y = min(self._tall, max(0, old.y + down * _STEP))
        moved = {"x": x, "y": y}
        moved["from_x"] = max(0, old.from_x + x - old.x)
        moved["from_y"] = max(0, old.from_y + y - old.y)
        self.marks = (*others, old.model_copy(update=moved))
        self.dispatch("on_marked", self.marks)

    def on_touch_down(self, touch: Any) -> bool:
        """Begin a mark where the evidence is; nothing else gets this finger."""
        left, top, w, h = self.frame
        inside = left <= touch.x <= left + w and top - h <= touch.y <= top
        if not self.is_markable or not inside:
            return bool(super().on_touch_down(touch))
        at = self._part(touch)
        kept = self._without(at)
        if len(kept) == MARKS_MOST:
            return True
        touch.grab(self)
        touch.ud[self.uid] = at, kept
        self.marks = (*kept, self._marked(at, at))
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Make it larger."""
        if touch.grab_current is not self:
            return bool(super().on_touch_move(touch))
        at, kept = touch.ud[self.uid]
        self.marks = (*kept, self._marked(at, self._part(touch)))
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Keep it."""
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        self.dispatch("on_marked", self.marks)
        return True

    @property
    def _tall(self) -> int:
        """The picture's height. [parts of its width]."""
        _, _, w, h = self.frame
        return round(MARK_PARTS * h / max(w, 1))

    def _without(self, at: tuple[int, int]) -> tuple[Mark, ...]:
        """Return the marks but for the nearest of those under a finger, which is drawn anew."""
        _, _, w, _ = self.frame
        reach = dp(_FINGER_DP) / w * MARK_PARTS
        away = [hypot(m.x - at[0], m.y - at[1]) for m in self.marks]
        nearest = min(range(len(away)), key=away.__getitem__, default=-1)
        if not away or away[nearest] > reach:
            return tuple(self.marks)
        return (*self.marks[:nearest], *self.marks[nearest + 1 :])

    def _part(self, touch: Any) -> tuple[int, int]:
        """Return where a finger is on the picture, in parts of its width, kept inside it."""
        left, top, w, h = self.frame
        x = min(1.0, max(0.0, (touch.x - left) / w))
        y = min(h / w, max(0.0, (top - touch.y) / w))
        return round(x * MARK_PARTS), round(y * MARK_PARTS)

    def _marked(self, at: tuple[int, int], drawn: tuple[int, int]) -> Mark:
        x, y = at
        if hypot(drawn[0] - x, drawn[1] - y) < _LEAST_DRAWN:
            drawn = self._unasked(x, y)
        return Mark(shape=self.shape, x=x, y=y, from_x=drawn[0], from_y=drawn[1])

    def _unasked(self, x: int, y: int) -> tuple[int, int]:
        """Return the other end of a mark that was only touched: toward the middle, so it shows."""
        toward = 1 if x < MARK_PARTS // 2 else -1
        if self.shape is MarkShape.CIRCLE:
            return x + toward * _RADIUS, y
        tall = self._tall
        down = 1 if y < tall / 2 else -1
        return x + toward * _ARROW, min(tall, max(0, y + down * _ARROW // 2))


class PhotoTile(Pressable):
    """One photo in small; with a name for tests and for those who cannot see it."""

    text = StringProperty("")
    source = StringProperty("")
    marks = ObjectProperty(())
    is_chosen = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._picture = Pictured(source=self.source, marks=self.marks)
        self.add_widget(self._picture)
        if self.is_chosen:
            self.rest, self.rim, self.rim_width = "accent_tint", "accent", 3


class TileRow(StackLayout):
    """Small photos, as many rows as they need."""


class PhotoKey(Pressable):
    """The small key to the photos of a check, with how many there are."""

    count = NumericProperty(0)
    text = StringProperty("Photos")
    own_height = NumericProperty(0)
    least = NumericProperty(0)
