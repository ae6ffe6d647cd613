"""One-line symbols of the stations, after IEEE Std 315 and IEC 60617 practice (from memory).

Each is drawn in a box of 48 by 48 units for a conductor that comes from the top middle and leaves
at the bottom middle. A symbol covers the conductor where the current passes through the device.
"""

from collections.abc import Callable
from math import cos, pi, sin

from checks.errors import ChecksError
from fieldapp.figures.scene import Circle, Item, Line, Point, Polygon, Polyline, Rect

BOX = 48.0
STROKE = 2.6
CONDUCTOR = 4.0

_INK, _PAPER, _LIVE = "ink", "surface", "accent"


def symbol(name: str) -> list[Item]:
    """Items of a station's symbol.

    Parameters
    ----------
    name : str
        One of `SYMBOLS`.

    Returns
    -------
    list of Item
        In a box of 48 by 48 units.

    Raises
    ------
    ChecksError
        There is no such symbol.
    """
    if name not in _DRAW:
        raise ChecksError(
            f"there is no symbol '{name}'", where="Figure", remedy=f"Use one of: {SYMBOLS}"
        )
    return _DRAW[name]()


def _arc(center: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    angles = [start + (end - start) * i / 24 for i in range(25)]
    return tuple((center[0] + radius * cos(a), center[1] + radius * sin(a)) for a in angles)


def _gap(top: float, bottom: float) -> Item:
    return Rect(24 - CONDUCTOR, top, 2 * CONDUCTOR, bottom - top, fill=_PAPER)


def _service() -> list[Item]:
    """Draw two windings, the utility's transformer."""
    return [
        _gap(5, 43),
        Circle((24, 17), 11, fill=_PAPER, stroke=_INK, width=STROKE),
        Circle((24, 31), 11, stroke=_INK, width=STROKE),
    ]


def _panel() -> list[Item]:
    """Draw a bus with the other branches leaving it."""
    branches: list[Item] = [Line((x, 24), (x, 34), STROKE, _INK) for x in (7, 41)]
    return [*branches, Line((4, 24), (44, 24), 6, _INK)]


def _breaker() -> list[Item]:
    """Draw an open blade and the cross of a circuit breaker at its fixed contact."""
    return [
        _gap(13, 36),
        Line((24, 36), (13, 14), STROKE, _INK),
        Line((19.5, 8.5), (28.5, 17.5), STROKE, _INK),
        Line((19.5, 17.5), (28.5, 8.5), STROKE, _INK),
        Circle((24, 36), 2.6, fill=_INK),
    ]


def _run() -> list[Item]:
    """Draw strokes across the conductor: the wires of the cable."""
    return [Line((16, y + 5), (32, y - 5), STROKE, _INK) for y in (16, 24, 32)]


def _outlet() -> list[Item]:
    """Draw the cup of a receptacle."""
    return [
        _gap(25, 48),
        Polyline(_arc((24, 33), 14, pi, 2 * pi), STROKE, _INK),
        Line((10, 19), (38, 19), STROKE, _INK),
        Line((24, 33), (24, 48), CONDUCTOR, _LIVE),
    ]


def _terminal() -> list[Item]:
    """Draw a fixed connection."""
    return [Circle((24, 24), 7, fill=_PAPER, stroke=_INK, width=STROKE)]


def _charger() -> list[Item]:
    """Draw a box that sends the pilot's square wave."""
    wave = ((11, 30), (17, 30), (17, 18), (25, 18), (25, 30), (31, 30), (31, 18), (37, 18))
    return [
        Rect(5, 7, 38, 34, fill=_PAPER, stroke=_INK, width=STROKE),
        Polyline(wave, STROKE, _INK),
    ]


def _connector() -> list[Item]:
    """Draw a pin in its cup."""
    return [
        Polyline(_arc((24, 24), 13, pi, 0), STROKE, _INK),
        _gap(18, 38.5),
        Polyline(_arc((24, 24), 13, pi, 0), STROKE, _INK),
        Rect(19.5, 10, 9, 17, fill=_INK),
    ]


def _adapter() -> list[Item]:
    """Draw two cups back to back."""
    return [
        _gap(12, 36),
        Polyline(_arc((24, 9), 12, pi, 0), STROKE, _INK),
        Polyline(_arc((24, 39), 12, pi, 2 * pi), STROKE, _INK),
        Line((24, 21), (24, 27), CONDUCTOR, _INK),
    ]


def _vehicle() -> list[Item]:
    """Draw a battery of two cells on wheels."""
    plates: list[Item] = [
        Line((24 - half, y), (24 + half, y), STROKE, _INK)
        for y, half in ((15, 11), (20, 6), (25, 11), (30, 6))
    ]
    wheels: list[Item] = [Circle((x, 41), 4, fill=_INK) for x in (13, 35)]
    return [Rect(5, 7, 38, 31, fill=_PAPER, stroke=_INK, width=STROKE), *plates, *wheels]


def _surroundings() -> list[Item]:
    """Draw a roof over a post: where the equipment stands."""
    return [
        Polyline(((6, 22), (24, 8), (42, 22)), STROKE, _INK),
        Line((5, 41), (43, 41), STROKE, _INK),
        Rect(17, 24, 14, 17, stroke=_INK, width=STROKE),
    ]


def _handover() -> list[Item]:
    """Draw a sheet with its corner turned."""
    lines: list[Item] = [Line((17, y), (31, y), STROKE, _INK) for y in (23, 30)]
    sheet = ((10, 6), (29, 6), (38, 15), (38, 42), (10, 42))
    return [
        Polyline(sheet, STROKE, _INK, closed=True),
        Polygon(((29, 6), (38, 15), (29, 15)), _INK),
        *lines,
    ]


_DRAW: dict[str, Callable[[], list[Item]]] = {
    "service": _service,
    "panel": _panel,
    "breaker": _breaker,
    "run": _run,
    "outlet": _outlet,
    "terminal": _terminal,
    "charger": _charger,
    "connector": _connector,
    "adapter": _adapter,
    "vehicle": _vehicle,
    "surroundings": _surroundings,
    "handover": _handover,
}
SYMBOLS = tuple(_DRAW)
