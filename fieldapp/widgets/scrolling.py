"""Scrolling by the keyboard: no more than it takes, and at once."""

from kivy.metrics import dp
from kivy.uix.scrollview import ScrollView

Box = tuple[float, float, float, float]  # left, bottom, right, top in the window. [px]

_MOST_OF_A_VIEW = 0.8
_MARGIN_DP = 16  # that stays free around what was scrolled to


def spare(area: ScrollView) -> float:
    """Return how much of what scrolls is out of view. [px]."""
    return float(area.children[0].height - area.height) if area.children else 0.0


def frame(area: ScrollView) -> Box:
    """Return where an area is in the window."""
    x, y = area.to_window(*area.pos)
    return x, y, x + area.width, y + area.height


def scroll(area: ScrollView, views: float) -> bool:
    """Scroll by so many views, up where it is more than none. True when there was more."""
    before = area.scroll_y
    if spare(area) > 0:
        area.scroll_y = min(1.0, max(0.0, before + views * area.height / spare(area)))
    return bool(area.scroll_y != before)


def is_at_end(area: ScrollView) -> bool:
    """Whether all is in view below, but for the room that stays free under it."""
    return bool(max(0.0, area.scroll_y) * spare(area) <= dp(_MARGIN_DP))


def read_on(area: ScrollView) -> None:
    """Bring up what comes below, with the last of what was seen on top of it."""
    scroll(area, -_MOST_OF_A_VIEW)


def bring(area: ScrollView, box: Box) -> None:
    """Scroll until a box is in view; its top, where it is higher than the area."""
    _, low, _, high = frame(area)
    margin = dp(_MARGIN_DP)
    away = max(0.0, box[3] + margin - high)
    if not away:
        away = min(0.0, max(box[1] - margin - low, box[3] + margin - high))
    scroll(area, away / max(1.0, area.height))
