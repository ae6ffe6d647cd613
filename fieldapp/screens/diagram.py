"""The live one-line diagram of the charging point that is walked."""

from collections.abc import Callable
from typing import Literal

from fieldapp.figures.along import station_marks
from fieldapp.figures.one_line import one_line
from fieldapp.figures.scene import Scene
from fieldapp.walk.visit import Walk
from fieldapp.widgets import theme


def path_diagram(
    walk: Walk, current: str | None = None, *, is_folded: bool = False
) -> Callable[[float], Scene]:
    """Return what draws the path of the point at a width.

    Parameters
    ----------
    walk : Walk
        The visit that is open.
    current : str, optional
        The station that is worked at.
    is_folded : bool
        In columns beside each other, so that a flat window shows all of it.
    """
    found = next(p for p in walk.assessment.points if p.point == walk.point_id)
    marks = station_marks((*found.path, *found.beside), walk.point)

    def build(width: float) -> Scene:
        way: Literal["folded", "vertical"] = "folded" if is_folded else "vertical"
        return one_line(marks, width, way, text_scale=theme.text_scale, current=current)

    return build
