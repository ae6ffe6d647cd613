"""Photos on screen: large with a mark over it, small in a row, and the key that leads to them."""

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

from checks.record import MARK_PARTS, Mark, MarkShape
from fieldapp.figures.photo_mark import photo_mark
from fieldapp.widgets.scene_view import SceneView
from fieldapp.widgets.slab import Pressable

_TALL_SHARE, _FLAT_SHARE = 0.38, 0.56  # of the window's height, upright and lying
_LEAST_DP = 150
_LEAST_DRAWN: Final = 400  # parts of the picture's width: less is a touch, not a stroke
_STEP = 250  # of a mark that a key moves, in the same parts
_RADIUS, _ARROW = 1200, 2200  # of a mark that was only touched, in the same parts


class Pictured(Widget):
    """A picture as large as fits, its mark over it, clipped to the picture."""

    source = StringProperty("")
    mark = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        self._image = Image(fit_mode="contain")
        self._over = StencilView()
        self._drawn = SceneView(size_hint=(1, 1))
        super().__init__(**kwargs)
        self.add_widget(self._image)
        self.add_widget(self._over)
        self._over.add_widget(self._drawn)
        self._image.bind(norm_image_size=self._place)
        self.bind(pos=self._place, size=self._place, source=self._show, mark=self._place)
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
            self._drawn.scene = photo_mark(self.mark, w / dp(1), h / dp(1))


class PhotoView(Pictured):
    """A photo in a place of its own; where it may be marked, a touch marks it.

    ``on_marked`` comes with the new mark when the finger is lifted.
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

    def on_marked(self, mark: Mark) -> None:
        """Tell what was marked."""

    def _fit(self, *_: Any) -> None:
        share = _FLAT_SHARE if Window.width > Window.height else _TALL_SHARE
        as_wide = self.width / max(self._image.image_ratio, 0.1)
        self.height = max(dp(_LEAST_DP), min(as_wide, Window.height * share))

    def reshape(self, shape: MarkShape) -> None:
        """Turn the mark into another shape; without one, put it in the middle."""
        self.shape = shape
        _, _, w, h = self.frame
        middle = MARK_PARTS // 2, round(MARK_PARTS * h / max(w, 1) / 2)
        at = (self.mark.x, self.mark.y) if self.mark is not None else middle
        self.mark = self._marked(at, at)
        self.dispatch("on_marked", self.mark)

    def nudge(self, right: int, down: int) -> None:
        """Move the mark by so many steps, inside the picture; for the keyboard."""
        if self.mark is None:
            return
        _, _, w, h = self.frame
        old, most = self.mark, (MARK_PARTS, round(MARK_PARTS * h / max(w, 1)))
        x = min(most[0], max(0, old.x + right * _STEP))
        y = min(most[1], max(0, old.y + down * _STEP))
        moved = {"x": x, "y": y}
        moved["from_x"] = max(0, old.from_x + x - old.x)
        moved["from_y"] = max(0, old.from_y + y - old.y)
        self.mark = old.model_copy(update=moved)
        self.dispatch("on_marked", self.mark)

    def on_touch_down(self, touch: Any) -> bool:
        """Begin a mark where the evidence is; nothing else gets this finger."""
        left, top, w, h = self.frame
        inside = left <= touch.x <= left + w and top - h <= touch.y <= top
        if not self.is_markable or not inside:
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        touch.ud[self.uid] = self._part(touch)
        self.mark = self._marked(touch.ud[self.uid], touch.ud[self.uid])
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Make it larger."""
        if touch.grab_current is not self:
            return bool(super().on_touch_move(touch))
        self.mark = self._marked(touch.ud[self.uid], self._part(touch))
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Keep it."""
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        self.dispatch("on_marked", self.mark)
        return True

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
        _, _, w, h = self.frame
        down = 1 if y < MARK_PARTS * h / w / 2 else -1
        tall = round(MARK_PARTS * h / w)
        return x + toward * _ARROW, min(tall, max(0, y + down * _ARROW // 2))


class PhotoTile(Pressable):
    """One photo in small; with a name for tests and for those who cannot see it."""

    text = StringProperty("")
    source = StringProperty("")
    mark = ObjectProperty(None, allownone=True)
    is_chosen = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._picture = Pictured(source=self.source, mark=self.mark)
        self.add_widget(self._picture)
        if self.is_chosen:
            self.rest, self.rim, self.rim_width = "accent_tint", "accent", 3


class TileRow(StackLayout):
    """Small photos, as many rows as they need."""


class PhotoKey(Pressable):
    """The small key to the photos of a check, with how many there are."""

    count = NumericProperty(0)
    text = StringProperty("Photos")
