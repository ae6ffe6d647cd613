"""A place to sign with a finger."""

from typing import Any

from kivy.metrics import dp
from kivy.properties import ListProperty, NumericProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.figures.scene import Line, Scene
from fieldapp.figures.signature import SIGNATURE_ASPECT, signature
from fieldapp.widgets.scene_view import SceneView

_LEAST_MOVE_DP = 2
_BASE_LINE = 0.78


class SignaturePad(BoxLayout):
    """``strokes`` is a list of strokes of (x, y) in shares of the paper's width, y downward."""

    strokes = ListProperty([])
    aspect = NumericProperty(SIGNATURE_ASPECT)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._view = SceneView(size_hint=(1, 1))
        self.ids.paper.add_widget(self._view)
        self.bind(strokes=self._redraw)
        self._redraw()

    def undo(self) -> None:
        """Take back the last stroke."""
        self.strokes = self.strokes[:-1]

    def clear(self) -> None:
        """Take back all strokes."""
        self.strokes = []

    def on_touch_down(self, touch: Any) -> bool:
        """Begin a stroke; nothing else gets this finger until it is lifted."""
        if not self.ids.paper.collide_point(*touch.pos) or self.disabled:
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        self.strokes = [*self.strokes, [self._share(touch)]]
        touch.ud[self.uid] = touch.pos
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Draw on."""
        if touch.grab_current is not self:
            return bool(super().on_touch_move(touch))
        x, y = touch.ud[self.uid]
        if abs(touch.x - x) + abs(touch.y - y) >= dp(_LEAST_MOVE_DP):
            touch.ud[self.uid] = touch.pos
            self.strokes = [*self.strokes[:-1], [*self.strokes[-1], self._share(touch)]]
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """End the stroke."""
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        return True

    def _share(self, touch: Any) -> tuple[float, float]:
        paper = self.ids.paper
        x = min(1.0, max(0.0, (touch.x - paper.x) / paper.width))
        y = min(self.aspect, max(0.0, (paper.top - touch.y) / paper.width))
        return round(x, 4), round(y, 4)

    def _redraw(self, *_: Any) -> None:
        drawn = signature(self.strokes)
        y = drawn.height * _BASE_LINE
        base = (
            Line((8, y), (drawn.width - 4, y), 0.5, "edge"),
            Line((3, y - 4), (6, y), 0.6, "edge"),
            Line((6, y - 4), (3, y), 0.6, "edge"),
        )
        self._view.scene = Scene(drawn.width, drawn.height, (*base, *drawn.items))
