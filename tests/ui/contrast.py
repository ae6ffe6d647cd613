"""Contrast of every text on screen, from the colors that its widget and what is behind it draw."""

import re
from collections.abc import Iterator
from typing import Any

from kivy.core.window import Window
from kivy.graphics import (
    Canvas,
    Color,
    Ellipse,
    Instruction,
    InstructionGroup,
    Rectangle,
    RoundedRectangle,
)
from kivy.uix.label import Label
from kivy.uix.scrollview import ScrollView
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

from fieldapp.figures.scene import Circle, Polygon, Rect, Scene, Text
from fieldapp.theme import PALETTES
from fieldapp.widgets import SceneView, theme
from tests.ui.sight import name_of, parents
from tests.wcag import contrast_ratio

# The least contrast of a text; outdoors it is read in the sun. WCAG 2.2, 1.4.3 and 1.4.6.
BARS = {"day": 4.5, "night": 4.5, "outdoor": 7.0}
_MARKED = re.compile(r"\[color=#?([0-9a-fA-F]{6})")
_LEAST_ALPHA = 0.99

Point = tuple[float, float]


def faint_texts(widgets: list[Any]) -> list[str]:
    """Texts whose contrast with what is painted behind them is under the palette's bar."""
    bar = BARS[theme.name]
    return [
        f"{name!r}: {ratio:.1f}"
        for name, ink, paper in _inks(widgets)
        if (ratio := contrast_ratio(ink, paper)) < bar
    ]


def _inks(widgets: list[Any]) -> Iterator[tuple[str, str, str]]:
    """Every text: its words, its color, the color behind it."""
    for widget in widgets:
        if isinstance(widget, SceneView) and widget.scene is not None:
            yield from _in_scene(widget)
        elif isinstance(widget, Label) and widget.text.strip() and widget.opacity:
            paper = behind(widget)
            color = widget.disabled_color if widget.disabled else widget.color
            marked = _MARKED.findall(widget.text) if widget.markup else []
            for ink in [f"#{c}" for c in marked] or [_hex(color)]:
                yield name_of(widget), ink, paper
        elif isinstance(widget, TextInput):
            shown = widget.foreground_color if widget.text else widget.hint_text_color
            yield name_of(widget), _hex(shown), behind(widget)


def _in_scene(view: SceneView) -> Iterator[tuple[str, str, str]]:
    scene: Scene = view.scene
    paper = behind(view)
    palette = PALETTES[theme.name]
    for place, item in enumerate(scene.items):
        if isinstance(item, Text):
            under = [
                other.fill
                for other in scene.items[:place]
                if isinstance(other, Rect | Circle | Polygon) and other.fill
                if _covers(other, item.at)
            ]
            yield item.text, palette[item.color], palette[under[-1]] if under else paper


def _covers(item: Rect | Circle | Polygon, at: Point) -> bool:
    x, y = at
    if isinstance(item, Rect):
        return item.x <= x <= item.x + item.w and item.y <= y <= item.y + item.h
    if isinstance(item, Circle):
        return (x - item.center[0]) ** 2 + (y - item.center[1]) ** 2 <= item.radius**2
    xs, ys = zip(*item.points, strict=True)
    return min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys)


def behind(widget: Widget) -> str:
    """Color of the topmost opaque shape that an ancestor paints behind a widget's center."""
    at = widget.to_window(*widget.center)
    for parent in (widget, *parents(widget)):
        if isinstance(parent, ScrollView):
            at = parent.to_window(*parent.center)  # what is scrolled away comes into it
        found = _painted(parent, at)
        if found is not None:
            return found
    return _hex(Window.clearcolor)


def _painted(widget: Widget, at: Point) -> str | None:
    found, color = None, None
    for shape in _instructions(widget.canvas.before):
        if isinstance(shape, Color):
            color = shape
        elif isinstance(shape, Rectangle | RoundedRectangle | Ellipse) and color is not None:
            x, y = widget.to_window(*shape.pos)
            width, height = shape.size
            is_here = x <= at[0] <= x + width and y <= at[1] <= y + height
            if is_here and color.a >= _LEAST_ALPHA:
                found = _hex(color.rgba)
    return found


def _instructions(group: InstructionGroup | Canvas) -> Iterator[Instruction]:
    for child in group.children:
        if isinstance(child, InstructionGroup):
            yield from _instructions(child)
        else:
            yield child


def _hex(color: Any) -> str:
    return "#" + "".join(f"{round(c * 255):02x}" for c in tuple(color)[:3])
