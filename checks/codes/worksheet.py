"""A load calculation as an inspector reads it: every line, its factor and its clause."""

from collections.abc import Iterable
from dataclasses import dataclass

from checks.codes.answer import weakest
from checks.source import Source


@dataclass(frozen=True)
class Line:
    """One line of a load calculation.

    Parameters
    ----------
    name : str
        What it is.
    connected_va : float
        Its rating or nameplate. [VA]
    counted_va : float
        What counts of it. [VA]
    why : str
        Factor or rule in a few words.
    source : Source
        The clause.
    parts : tuple of Line
        The lines whose counted values make up what is connected here.
    """

    name: str
    connected_va: float
    counted_va: float
    why: str
    source: Source
    parts: tuple["Line", ...] = ()

    @property
    def every(self) -> tuple["Line", ...]:
        """The parts in order, then the line itself."""
        return (*(each for part in self.parts for each in part.every), self)

    def __str__(self) -> str:
        """Say the line as it stands in the working."""
        return (
            f"{self.name}: {self.connected_va:.0f} VA, {self.why}: {self.counted_va:.0f} VA "
            f"({self.source})"
        )


@dataclass(frozen=True)
class Worksheet:
    """One reading of one method.

    Parameters
    ----------
    method : str
        The method.
    reading : str
        How its text is read; empty where it is read one way.
    lines : tuple of Line
        Every line; the total is the sum of what they count, or ``least_va`` where that is more.
    least_va : Line or None
        The least that the method lets count. [VA]
    """

    method: str
    reading: str
    lines: tuple[Line, ...]
    least_va: Line | None = None

    @property
    def total_va(self) -> float:
        """The calculated load. [VA]."""
        total = sum(line.counted_va for line in self.lines)
        return total if self.least_va is None else max(total, self.least_va.counted_va)

    @property
    def sources(self) -> tuple[Source, ...]:
        """Every clause it rests on, once."""
        lines = self.lines if self.least_va is None else (*self.lines, self.least_va)
        return tuple(dict.fromkeys(each.source for line in lines for each in line.every))

    @property
    def source(self) -> Source:
        """The weakest clause that the total rests on."""
        return weakest(self.sources)

    @property
    def working(self) -> tuple[str, ...]:
        """One line a step, the total last."""
        head = f"{self.method}{f', {self.reading}' if self.reading else ''}"
        least = () if self.least_va is None else (f"not less than: {self.least_va}",)
        lines = (str(each) for line in self.lines for each in line.every)
        return (head, *lines, *least, f"total {self.total_va:.0f} VA")


def by_bands(
    name: str, parts: tuple[Line, ...], bands: Iterable[tuple[float, float]], source: Source
) -> Line:
    """Count the sum of lines in bands, as an income tax does.

    Parameters
    ----------
    name : str
        What the sum is called.
    parts : tuple of Line
        Lines whose counted values are added. [VA]
    bands : iterable of (float, float)
        Upper end of each band [VA] and the share that counts. [-]
    source : Source
        The clause.
    """
    total = sum(line.counted_va for line in parts)
    counted, below, said = 0.0, 0.0, []
    for upto, ratio in bands:
        part = max(0.0, min(total, upto) - below)
        counted, below = counted + part * ratio, upto
        if part:
            said.append(f"{part:.0f} VA × {ratio:g}")
    return Line(name, total, counted, " + ".join(said) or "nothing", source, parts)
