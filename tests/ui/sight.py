"""Where widgets are on the window, what they say, and whether it fits."""

from kivy.core.window import Window
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.label import Label
from kivy.uix.scrollview import ScrollView
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

Box = tuple[float, float, float, float]


def texts_of(widget: Widget) -> list[str]:
    words = list(getattr(widget, "words", ()))
    text = getattr(widget, "text", "")
    if isinstance(widget, Label) and widget.markup:
        text = "".join(p for p in widget._label.markup if not p.startswith("["))
    return [*words, text] if isinstance(text, str) else words


def button_of(widget: Widget) -> Widget | None:
    chain = (widget, *parents(widget))
    return next((w for w in chain if isinstance(w, ButtonBehavior | TextInput)), None)


def parents(widget: Widget) -> list[Widget]:
    found = []
    parent = widget.parent
    while isinstance(parent, Widget):
        found.append(parent)
        parent = parent.parent
    return found


def frame_of(label: Label) -> Box:
    """The scrolling content a label lies in, else the window; narrowed by its button."""
    box: Box = (0, 0, Window.width, Window.height)
    for parent in parents(label):
        if isinstance(parent, ScrollView):
            x0, _, x1, _ = box_of(parent)
            return (x0, float("-inf"), x1, float("inf"))
        if isinstance(parent, ButtonBehavior):
            return box_of(parent)
    return box


def box_of(widget: Widget) -> Box:
    x, y = widget.to_window(*widget.pos)
    return x, y, x + widget.width, y + widget.height


def common(a: Box, b: Box) -> Box:
    return max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])


def holds(outer: Box, inner: Box, slack: float = 1.0) -> bool:
    low = outer[0] <= inner[0] + slack and outer[1] <= inner[1] + slack
    return low and inner[2] <= outer[2] + slack and inner[3] <= outer[3] + slack


def apart(a: Box, b: Box, gap: float) -> bool:
    across = a[2] + gap <= b[0] or b[2] + gap <= a[0]
    return across or a[3] + gap <= b[1] or b[3] + gap <= a[1]


def name_of(widget: Widget) -> str:
    return f"{widget.__class__.__name__} {getattr(widget, 'text', '')!r}"
