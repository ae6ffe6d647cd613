"""A figure on screen: draws a `Scene` and answers touches on its boxes."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from kivy.clock import Clock
from kivy.core.text import Label as CoreLabel
from kivy.graphics import (
    Color,
    Mesh,
    Rectangle,
    SmoothEllipse,
    SmoothLine,
)
from kivy.metrics import dp
from kivy.properties import ListProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.widget import Widget

from fieldapp.figures.scene import Circle, Item, Line, Polygon, Polyline, Rect, Scene, Text
from fieldapp.language import say
from fieldapp.widgets.theming import theme

_TAP_SLOP_DP = 12
_RING = 4.0  # of a box that has the keyboard. [dp]
_SHARP = 40  # a polyline of more points is a curve and needs no round joints


@lru_cache(maxsize=512)
def _label(text: str, size_px: float, font: str) -> CoreLabel:
    """One line of text, kept whole: the label draws its texture anew when a phone loses it."""
    label = CoreLabel(text=text, font_size=size_px, font_name=font, color=(1, 1, 1, 1))
    label.refresh()
    return label


def _smooth_width(stroke_px: float) -> float:
    """Kivy's number for a smooth line that is seen as wide as asked.

    Kivy fills one less than its width to each side and fades over the overdraw, of which half is
    seen.
    """
    return max(1.0, stroke_px / 2 + 0.5)


class SceneView(Widget):
    """Draws the scene that ``build(width)`` gives for the width at hand, one unit a dp.

    Its height follows the scene. A touch on one of the scene's boxes dispatches ``on_hit`` with
    the box's key.
    """

    build = ObjectProperty(None, allownone=True)
    scene = ObjectProperty(None, allownone=True)
    scale = NumericProperty(1.0)
    words = ListProperty([])
    focused_key = StringProperty("")  # of the box that has the keyboard

    __events__ = ("on_hit",)

    def __init__(self, **kwargs: Any) -> None:
        self._draw = Clock.create_trigger(self._redraw, -1)
        self._is_built = False
        if "size_hint" not in kwargs:
            kwargs.setdefault("size_hint_y", None)
        super().__init__(**kwargs)
        self.bind(width=self._rebuild, build=self._rebuild)
        self.bind(scene=self._draw, pos=self._draw, size=self._draw, focused_key=self._draw)
        theme.follow(self, "_rebuild")
        self._rebuild()

    def on_hit(self, key: str) -> None:
        """Answer a touch on the box ``key``."""

    def _rebuild(self, *_: Any) -> None:
        build: Callable[[float], Scene] | None = self.build
        if build is not None:
            self.scene = build(self.width / dp(1))
            self.height = dp(self.scene.height)
            self._is_built = True
        elif self._is_built:  # a scene that was given stays
            self.scene, self.height, self._is_built = None, 0, False
        self._draw()

    def _redraw(self, *_: Any) -> None:
        self.canvas.clear()
        scene: Scene | None = self.scene
        if scene is None or not scene.width:
            return
        self.scale = min(self.width / scene.width, self.height / scene.height)
        self.words = [say(item.text) for item in scene.items if isinstance(item, Text)]
        with self.canvas:
            for item in (*scene.items, *self._ring(scene)):
                self._draw_item(item)

    def _ring(self, scene: Scene) -> list[Item]:
        """Return what shows that a box has the keyboard."""
        inset = _RING / 2
        return [
            Rect(h.x + inset, h.y + inset, h.w - _RING, h.h - _RING, stroke="ink", width=_RING)
            for h in scene.hits
            if h.key == self.focused_key
        ]

    def _at(self, point: tuple[float, float]) -> tuple[float, float]:
        return self.x + point[0] * self.scale, self.top - point[1] * self.scale

    def _flat(self, points: tuple[tuple[float, float], ...]) -> list[float]:
        return [c for point in points for c in self._at(point)]

    def _draw_item(self, item: Item) -> None:
        match item:
            case Line():
                self._stroke((item.start, item.end), item.width, item.color)
            case Polyline():
                self._stroke(item.points, item.width, item.color, item.closed)
            case Polygon():
                self._polygon(item)
            case Circle():
                self._circle(item)
            case Rect():
                self._rect(item)
            case Text():
                self._text(item)

    def _stroke(
        self,
        points: tuple[tuple[float, float], ...],
        width: float,
        color: str,
        closed: bool = False,
    ) -> None:
        Color(*theme.color[color])
        SmoothLine(
            points=self._flat(points),
            width=_smooth_width(width * self.scale),
            close=closed,
            overdraw_width=1.0,
        )
        radius = width * self.scale / 2
        if radius > 1:  # a smooth line has no round ends of its own
            for point in points if len(points) <= _SHARP else (points[0], points[-1]):
                x, y = self._at(point)
                SmoothEllipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius))

    def _polygon(self, item: Polygon) -> None:
        Color(*theme.color[item.fill])
        flat = self._flat(item.points)
        vertices = [v for i in range(0, len(flat), 2) for v in (flat[i], flat[i + 1], 0, 0)]
        Mesh(vertices=vertices, indices=range(len(item.points)), mode="triangle_fan")
        SmoothLine(points=flat, width=1.0, close=True, overdraw_width=1.0)

    def _circle(self, item: Circle) -> None:
        x, y = self._at(item.center)
        outer = (item.radius + item.width / 2) * self.scale
        if item.stroke:
            Color(*theme.color[item.stroke])
            if item.fill:
                SmoothEllipse(pos=(x - outer, y - outer), size=(2 * outer, 2 * outer))
                outer -= item.width * self.scale
            else:
                half = item.width * self.scale / 2
                line_width = _smooth_width(item.width * self.scale)
                SmoothLine(circle=(x, y, outer - half), width=line_width, overdraw_width=1.0)
        if item.fill:
            Color(*theme.color[item.fill])
            SmoothEllipse(pos=(x - outer, y - outer), size=(2 * outer, 2 * outer))

    def _rect(self, item: Rect) -> None:
        left, top = self._at((item.x, item.y))
        w, h = item.w * self.scale, item.h * self.scale
        if item.fill:
            Color(*theme.color[item.fill])
            Rectangle(pos=(left, top - h), size=(w, h))
        if item.stroke:
            x2, y2 = item.x + item.w, item.y + item.h
            corners = ((item.x, item.y), (x2, item.y), (x2, y2), (item.x, y2))
            self._stroke(corners, item.width, item.stroke, closed=True)

    def _text(self, item: Text) -> None:
        font = theme.strong if item.weight == "semibold" else theme.font
        texture = _label(say(item.text), round(item.size * self.scale, 1), font).texture
        x, y = self._at(item.at)
        w, h = texture.size
        x -= {"start": 0.0, "middle": w / 2, "end": w}[item.anchor]
        Color(*theme.color[item.color])
        Rectangle(texture=texture, pos=(round(x), round(y - h / 2)), size=(w, h))

    def on_touch_down(self, touch: Any) -> bool:
        """Remember a touch that begins on a box."""
        key = self.key_at(touch.pos)
        if key is None:
            return bool(super().on_touch_down(touch))
        touch.ud[self.uid] = key
        touch.grab(self)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Answer when the touch ends on the box it began on and did not travel."""
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        key = touch.ud.get(self.uid)
        if key == self.key_at(touch.pos) and abs(touch.y - touch.oy) < dp(_TAP_SLOP_DP):
            self.dispatch("on_hit", key)
        return True

    def key_at(self, pos: tuple[float, float]) -> str | None:
        """Key of the box under a position in the parent's coordinates."""
        if self.scene is None or not self.collide_point(*pos):
            return None
        point = (pos[0] - self.x) / self.scale, (self.top - pos[1]) / self.scale
        return next((hit.key for hit in self.scene.hits if hit.holds(point)), None)

    def window_box(self, key: str) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of a box in the window. [px]."""
        hit = next(hit for hit in self.scene.hits if hit.key == key)
        left, bottom = self.to_window(*self._at((hit.x, hit.y + hit.h)))
        return left, bottom, left + hit.w * self.scale, bottom + hit.h * self.scale
