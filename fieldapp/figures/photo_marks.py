"""Marks that point at the evidence on a photo: white between two black edges, seen anywhere."""

from collections.abc import Sequence
from math import atan2, cos, hypot, pi, sin

from checks.record import MARK_PARTS, Mark, MarkShape
from fieldapp.figures.scene import Circle, Item, Line, Point, Polyline, Scene

_STROKE, _HALO = 0.018, 0.034  # of the picture's width
_HEAD = 0.09  # length of an arrow's head, of the picture's width
_HEAD_ANGLE = pi / 7
_LEAST_RADIUS = 0.03


def photo_marks(marks: Sequence[Mark], width: float, height: float) -> Scene:
    """Return the drawing that lies over a picture.

    Parameters
    ----------
    marks : sequence of Mark
        The marks; without any the drawing is empty.
    width, height : float
        Size at which the picture is shown. [units of the scene]
    """
    return Scene(width, height, tuple(item for mark in marks for item in _drawn(mark, width)))


def _drawn(mark: Mark, width: float) -> list[Item]:
    unit = width / MARK_PARTS
    head, tail = (mark.x * unit, mark.y * unit), (mark.from_x * unit, mark.from_y * unit)
    draw = _circle if mark.shape is MarkShape.CIRCLE else _arrow
    return [
        *draw(head, tail, width, _HALO * width, "mark_halo"),
        *draw(head, tail, width, _STROKE * width, "mark"),
    ]


def _circle(center: Point, rim: Point, width: float, stroke: float, color: str) -> list[Item]:
    radius = max(_LEAST_RADIUS * width, hypot(rim[0] - center[0], rim[1] - center[1]))
    return [Circle(center, radius, stroke=color, width=stroke)]


def _arrow(head: Point, tail: Point, width: float, stroke: float, color: str) -> list[Item]:
    away = atan2(tail[1] - head[1], tail[0] - head[0])
    barbs = [
        (head[0] + _HEAD * width * cos(a), head[1] + _HEAD * width * sin(a))
        for a in (away - _HEAD_ANGLE, away + _HEAD_ANGLE)
    ]
    return [
        Line(tail, head, stroke, color),
        Polyline((barbs[0], head, barbs[1]), stroke, color),
    ]
