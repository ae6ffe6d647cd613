"""Figures that the record gives rise to: one list of makers, each for one kind of figure."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from checks.verdict import VoltageStep
from fieldapp.figures import Scene, Step, staircase
from fieldapp.report.words import Case

_MOST_PLACES: Final = 3  # decimal places of volts on the staircase


@dataclass(frozen=True)
class Drawing:
    """A figure with its title, as it goes onto the page."""

    title: str
    scene: Scene


Maker = Callable[[Case, str, float], Iterator[Drawing]]


def voltage_staircase(case: Case, subject: str, width: float) -> Iterator[Drawing]:
    """Draw where the volts of a charging point go."""
    for summary in case.assessment.points:
        stairs = summary.staircase
        if summary.point == subject and any(s.no_load_v or s.loaded_v for s in stairs):
            yield Drawing("Where the volts go", _stairs(stairs, width))


def _stairs(steps: Sequence[VoltageStep], width: float) -> Scene:
    typed = [v for s in steps for v in (s.no_load_v, s.loaded_v) if v]
    places = max(len(v.partition(".")[2]) for v in typed)
    volts = [
        Step(s.label, *(float(v) if v else None for v in (s.no_load_v, s.loaded_v))) for s in steps
    ]
    return staircase(volts, (), width, places=min(places, _MOST_PLACES))


# A maker is given the case, a subject (site, panel or charging point) and the width of half a
# page, and yields the figures that belong there; a figure that is wider takes the whole page.
MAKERS: Final[tuple[Maker, ...]] = (voltage_staircase,)


def drawings(case: Case, subject: str, width: float) -> tuple[Drawing, ...]:
    """Return every figure of a subject."""
    return tuple(d for make in MAKERS for d in make(case, subject, width))
