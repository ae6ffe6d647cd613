"""Figures that the record gives rise to: one list of makers, each for one kind of figure."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from fieldapp.figures.heating import heating
from fieldapp.figures.scene import Scene
from fieldapp.figures.staircase import stairs
from fieldapp.report.words import Case


@dataclass(frozen=True)
class Drawing:
    """A figure with its title, as it goes onto the page."""

    title: str
    scene: Scene


Maker = Callable[[Case, str, float], Iterator[Drawing]]


def voltage_staircase(case: Case, subject: str, width: float) -> Iterator[Drawing]:
    """Draw where the volts of a charging point go."""
    for summary in case.assessment.points:
        scene = stairs(summary.staircase, width) if summary.point == subject else None
        if scene is not None:
            yield Drawing("Where the volts go", scene)


def heating_curves(case: Case, subject: str, width: float) -> Iterator[Drawing]:
    """Draw the heating curves of a subject's contacts, each once it has two readings."""
    for row in case.assessment.rows:
        curve = row.judgement.heating
        if row.subject == subject and curve is not None and len(curve.readings) > 1:
            yield Drawing(row.title, heating(curve, width))


# A maker is given the case, a subject (site, panel or charging point) and the width of half a
# page, and yields the figures that belong there; a figure that is wider takes the whole page.
MAKERS: Final[tuple[Maker, ...]] = (voltage_staircase, heating_curves)


def drawings(case: Case, subject: str, width: float) -> tuple[Drawing, ...]:
    """Return every figure of a subject."""
    return tuple(d for make in MAKERS for d in make(case, subject, width))
