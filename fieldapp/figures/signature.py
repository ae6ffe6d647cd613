"""A drawn signature: strokes as numbers, smoothed for the eye."""

from collections.abc import Sequence

from fieldapp.figures.scene import Circle, Item, Point, Polyline, Scene

# Height of the signing area over its width; strokes are measured in widths, y downward.
SIGNATURE_ASPECT = 0.42
_WIDTH = 100.0
_PEN = 0.9
_CURVE_FROM = 3


def signature(strokes: Sequence[Sequence[Point]]) -> Scene:
    """Picture of a signature.

    Parameters
    ----------
    strokes : sequence of sequence of (x, y)
        Each stroke from pen down to pen up, in shares of the area's width, y downward.

    Returns
    -------
    Scene
        In a box of 100 by 42 units.
    """
    items: list[Item] = []
    for stroke in strokes:
        points = [(x * _WIDTH, y * _WIDTH) for x, y in stroke]
        if len(points) == 1:
            items.append(Circle(points[0], _PEN, fill="ink"))
        elif points:
            items.append(Polyline(tuple(_smooth(points)), _PEN, "ink"))
    return Scene(_WIDTH, _WIDTH * SIGNATURE_ASPECT, tuple(items))


def _smooth(points: Sequence[Point]) -> list[Point]:
    """Round the corners by quadratic curves through the middles of the segments."""
    if len(points) < _CURVE_FROM:
        return list(points)
    curve = [points[0]]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        start, end = _middle(before, corner), _middle(corner, after)
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            u = 1 - t
            weights = u * u, 2 * u * t, t * t
            three = start, corner, end
            x, y = (sum(w * p[i] for w, p in zip(weights, three, strict=True)) for i in (0, 1))
            curve.append((x, y))
    return [*curve, points[-1]]


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
