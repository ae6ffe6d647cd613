"""Shapes of the five verdicts and the four severities: told apart without color.

The verdict's shapes share one idea with the margin gauge: an upright post is a limit. Within is a
disc held between two posts, outside a cross beyond its post, borderline a disc that a post cuts in
half, not measured an empty frame, not applicable a bar.
"""

from collections.abc import Callable, Mapping
from math import cos, pi, sin

from checks.errors import ChecksError
from fieldapp.figures.scene import Circle, Item, Line, Polygon, Polyline, Rect, Scene

MARK = 24.0


def verdict_mark(verdict: str) -> Scene:
    """Shape of a verdict's word in a box of 24 by 24 units.

    Raises
    ------
    ChecksError
        The word is none of the five verdicts.
    """
    return _mark(verdict, _VERDICT_SHAPES, "verdict")


def severity_mark(severity: str) -> Scene:
    """Shape of a severity's signal word in a box of 24 by 24 units.

    Raises
    ------
    ChecksError
        The word is none of the four severities.
    """
    return _mark(severity, _SEVERITY_SHAPES, "severity")


def color_of(word: str) -> str:
    """Color token of a verdict's or a severity's word."""
    return word.replace(" ", "_")


def _mark(word: str, shapes: Mapping[str, Callable[[str], list[Item]]], kind: str) -> Scene:
    if word not in shapes:
        raise ChecksError(
            f"'{word}' is no {kind}", where="Figure", remedy=f"Use one of: {', '.join(shapes)}"
        )
    return Scene(MARK, MARK, tuple(shapes[word](color_of(word))))


def _within(color: str) -> list[Item]:
    posts: list[Item] = [Line((x, 3), (x, 21), 3, color) for x in (2.5, 21.5)]
    return [*posts, Circle((12, 12), 6.2, fill=color)]


def _outside(color: str) -> list[Item]:
    return [
        Line((2.5, 3), (2.5, 21), 3, color),
        Line((9.5, 6), (21.5, 18), 4, color),
        Line((9.5, 18), (21.5, 6), 4, color),
    ]


def _borderline(color: str) -> list[Item]:
    left = [(12 + 7 * cos(a), 12 + 7 * sin(a)) for a in _steps(pi / 2, 3 * pi / 2)]
    return [
        Circle((12, 12), 7, stroke=color, width=2.2),
        Polygon(tuple(left), color),
        Line((12, 2), (12, 22), 3, color),
    ]


def _not_measured(color: str) -> list[Item]:
    corners = [((3, 8.5), (3, 3), (8.5, 3)), ((15.5, 3), (21, 3), (21, 8.5))]
    corners += [((21, 15.5), (21, 21), (15.5, 21)), ((8.5, 21), (3, 21), (3, 15.5))]
    return [Polyline(points, 2.4, color) for points in corners]


def _not_applicable(color: str) -> list[Item]:
    return [Line((4, 12), (20, 12), 3, color)]


def _steps(start: float, end: float, count: int = 16) -> list[float]:
    return [start + (end - start) * i / count for i in range(count + 1)]


_VERDICT_SHAPES: dict[str, Callable[[str], list[Item]]] = {
    "within": _within,
    "outside": _outside,
    "borderline": _borderline,
    "not measured": _not_measured,
    "not applicable": _not_applicable,
}


def _plate(color: str) -> list[Item]:
    on = f"on_{color}"
    return [Rect(0.5, 0.5, 23, 23, fill=color, stroke=on, width=1)]


def _bang(color: str, top: float = 9.0) -> list[Item]:
    return [Line((12, top), (12, 14.2), 2.2, color), Circle((12, 17.4), 1.3, fill=color)]


_TRIANGLE = ((12.0, 3.5), (21.5, 20.5), (2.5, 20.5))


def _danger(color: str) -> list[Item]:
    on = f"on_{color}"
    return [*_plate(color), Polygon(_TRIANGLE, on), *_bang(color)]


def _warning(color: str) -> list[Item]:
    on = f"on_{color}"
    return [*_plate(color), Polyline(_TRIANGLE, 2.2, on, closed=True), *_bang(on)]


def _caution(color: str) -> list[Item]:
    on = f"on_{color}"
    return [*_plate(color), *_bang(on, top=5.5)]


def _notice(color: str) -> list[Item]:
    on = f"on_{color}"
    return [
        *_plate(color),
        Circle((12, 6.4), 1.5, fill=on),
        Line((12, 11), (12, 18), 2.4, on),
    ]


_SEVERITY_SHAPES: dict[str, Callable[[str], list[Item]]] = {
    "danger": _danger,
    "warning": _warning,
    "caution": _caution,
    "notice": _notice,
}
