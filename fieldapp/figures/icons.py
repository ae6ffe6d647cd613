"""The few icons of the interface, drawn as strokes in a box of 24 by 24 units."""

from collections.abc import Callable

from checks.errors import ChecksError
from fieldapp.figures.scene import Circle, Item, Line, Polyline, Rect, Scene

_BOX, _STROKE = 24.0, 2.6


def icon(name: str, color: str = "ink") -> Scene:
    """Icon in one color token.

    Raises
    ------
    ChecksError
        There is no such icon.
    """
    if name not in _DRAW:
        raise ChecksError(
            f"there is no icon '{name}'", where="Figure", remedy=f"Use one of: {ICONS}"
        )
    return Scene(_BOX, _BOX, tuple(_DRAW[name](color)))


def _back(color: str) -> list[Item]:
    return [
        Line((4, 12), (21, 12), _STROKE, color),
        Polyline(((11, 4.5), (3.5, 12), (11, 19.5)), _STROKE, color),
    ]


def _next(color: str) -> list[Item]:
    return [Polyline(((9, 4.5), (16.5, 12), (9, 19.5)), _STROKE, color)]


def _backspace(color: str) -> list[Item]:
    frame = ((8.5, 4.5), (22, 4.5), (22, 19.5), (8.5, 19.5), (2, 12))
    return [
        Polyline(frame, 2.2, color, closed=True),
        Line((12, 9), (18, 15), 2.2, color),
        Line((12, 15), (18, 9), 2.2, color),
    ]


def _close(color: str) -> list[Item]:
    return [Line((5, 5), (19, 19), _STROKE, color), Line((5, 19), (19, 5), _STROKE, color)]


def _add(color: str) -> list[Item]:
    return [Line((12, 4), (12, 20), _STROKE, color), Line((4, 12), (20, 12), _STROKE, color)]


def _camera(color: str) -> list[Item]:
    return [
        Polyline(((7.5, 6.5), (9.5, 3.5), (14.5, 3.5), (16.5, 6.5)), 2.2, color),
        Rect(2, 6.5, 20, 14, stroke=color, width=2.2),
        Circle((12, 13.5), 4, stroke=color, width=2.2),
    ]


def _light(color: str) -> list[Item]:
    rays = (
        ((12, 1.5), (12, 4)),
        ((12, 20), (12, 22.5)),
        ((1.5, 12), (4, 12)),
        ((20, 12), (22.5, 12)),
    )
    slants = (((4.6, 4.6), (6.3, 6.3)), ((17.7, 17.7), (19.4, 19.4)))
    others = (((4.6, 19.4), (6.3, 17.7)), ((17.7, 6.3), (19.4, 4.6)))
    lines: list[Item] = [Line(a, b, 2.2, color) for a, b in (*rays, *slants, *others)]
    return [Circle((12, 12), 4.6, stroke=color, width=2.2), *lines]


def _empty(color: str) -> list[Item]:
    return [Circle((12, 12), 9, stroke=color, width=2.2)]


def _chosen(color: str) -> list[Item]:
    return [Circle((12, 12), 9, stroke=color, width=2.2), Circle((12, 12), 5, fill=color)]


def _more(color: str) -> list[Item]:
    return [Circle((x, 12), 2.4, fill=color) for x in (4.5, 12, 19.5)]


def _message(color: str) -> list[Item]:
    bubble = ((2.5, 4), (21.5, 4), (21.5, 16.5), (12, 16.5), (7, 21.5), (7, 16.5), (2.5, 16.5))
    lines = [Line((7, y), (17, y), 2.0, color) for y in (8.4, 12.2)]
    return [Polyline(bubble, 2.2, color, closed=True), *lines]


_DRAW: dict[str, Callable[[str], list[Item]]] = {
    "back": _back,
    "next": _next,
    "backspace": _backspace,
    "close": _close,
    "add": _add,
    "camera": _camera,
    "light": _light,
    "empty": _empty,
    "chosen": _chosen,
    "more": _more,
    "message": _message,
}
ICONS = tuple(_DRAW)
