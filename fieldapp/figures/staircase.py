"""The voltage staircase: where on the path the volts go."""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.figures.scene import (
    Circle,
    Item,
    Line,
    Point,
    Polyline,
    Rect,
    Scene,
    Text,
    dashed,
    text_width,
    wrapped,
)
from fieldapp.figures.ticks import nice_ticks

_TEXT, _LEADING, _BAND, _GAP = 16.0, 1.3, 30.0, 8.0
_HEAVY, _LIGHT = 4.5, 2.0


@dataclass(frozen=True)
class Step:
    """Volts at one station; what was not measured is None."""

    label: str
    no_load_v: float | None
    loaded_v: float | None


@dataclass(frozen=True)
class VoltLimit:
    """A voltage the loaded line should stay above, and its words."""

    label: str
    volts: float


def staircase(
    steps: Sequence[Step],
    limits: Sequence[VoltLimit] = (),
    width: float = 328.0,
    *,
    text_scale: float = 1.0,
    places: int = 1,
) -> Scene:
    """Staircase that runs down the path, volts to the right.

    The thin line is the voltage without load, the heavy one under load; the band between them is
    what the load takes, and its growth from one station to the next is what that stretch takes.

    Parameters
    ----------
    steps : sequence of Step
        Stations from the utility to the vehicle.
    limits : sequence of VoltLimit
        Drawn as dashed posts through all steps.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]
    places : int
        Decimal places of the printed volts. [count]

    Returns
    -------
    Scene
        As wide as asked and as high as its text needs.
    """
    return _Staircase(steps, limits, width, text_scale, places).scene()


class _Staircase:
    def __init__(
        self,
        steps: Sequence[Step],
        limits: Sequence[VoltLimit],
        width: float,
        text_scale: float,
        places: int,
    ) -> None:
        self.steps, self.limits, self.width, self.places = steps, limits, width, places
        self.size = _TEXT * text_scale
        self.row = self.size * _LEADING
        volts = [v for s in steps for v in (s.no_load_v, s.loaded_v) if v is not None]
        volts += [limit.volts for limit in limits]
        about = max(2, int(width / (5 * self.size)))
        self.ticks = nice_ticks(min(volts), max(volts), about) if volts else []
        self.items: list[Item] = []

    def scene(self) -> Scene:
        if not self.ticks:
            height = 2 * self.row
            note = Text((0, height / 2), "No voltage measured yet", self.size, "ink_soft")
            return Scene(self.width, height, (note,))
        top = self._legend(0.0)
        tops = []
        y = top
        for step in self.steps:
            tops.append(y + self._label(step, y))
            y = tops[-1] + _BAND
        self._grid(top, y)
        self._bands(tops)
        self._line([s.no_load_v for s in self.steps], tops, _LIGHT, "ink_soft")
        self._line([s.loaded_v for s in self.steps], tops, _HEAVY, "accent")
        y = self._limit_words(self._axis(y))
        return Scene(self.width, y, tuple(self._in_order()))

    def _in_order(self) -> list[Item]:
        """Words above lines, so that no grid line strikes through a number."""
        return sorted(self.items, key=lambda item: isinstance(item, Text))

    def x(self, volts: float) -> float:
        lo, hi = self.ticks[0], self.ticks[-1]
        margin = self.size
        return margin + (volts - lo) / (hi - lo) * (self.width - 2 * margin)

    def _legend(self, y: float) -> float:
        keys = (("no load", _LIGHT, "ink_soft"), ("under load", _HEAVY, "accent"))
        x = 0.0
        for words, weight, color in keys:
            needed = 28 + text_width(words, self.size)
            if x and x + needed > self.width:
                x, y = 0.0, y + self.row
            middle = y + self.row / 2
            self.items.append(Line((x + weight / 2, middle), (x + 20, middle), weight, color))
            self.items.append(Text((x + 28, middle), words, self.size, "ink_soft"))
            x += needed + 2 * _GAP
        return y + self.row + _GAP

    def _label(self, step: Step, y: float) -> float:
        """Words above a step's band; returns their height."""
        numbers = self._numbers(step)
        numbers_width = text_width(numbers, self.size)
        together = text_width(step.label, self.size) + 2 * _GAP + numbers_width <= self.width
        used = _GAP / 2
        for line in wrapped(step.label, self.size, self.width):
            at = (0.0, y + used + self.row / 2)
            self.items.append(self._paper(at, line, "start"))
            self.items.append(Text(at, line, self.size, "ink", weight="semibold"))
            used += self.row
        if together:
            used -= self.row
        for line in [numbers] if together else wrapped(numbers, self.size, self.width):
            at = (self.width, y + used + self.row / 2)
            self.items.append(self._paper(at, line, "end"))
            self.items.append(Text(at, line, self.size, "ink", "end"))
            used += self.row
        return used + 2

    def _paper(self, at: Point, line: str, anchor: str) -> Item:
        """Ground behind a word, so that posts and grid stop short of it."""
        w = text_width(line, self.size) + _GAP
        x = at[0] if anchor == "start" else at[0] - w
        return Rect(x, at[1] - self.row / 2, w, self.row, fill="surface")

    def _numbers(self, step: Step) -> str:
        def shown(volts: float | None) -> str:
            return "not measured" if volts is None else f"{volts:.{self.places}f} V"

        if step.no_load_v is None and step.loaded_v is None:
            return "not measured"
        return f"{shown(step.no_load_v)} → {shown(step.loaded_v)}"

    def _bands(self, tops: Sequence[float]) -> None:
        for step, top in zip(self.steps, tops, strict=True):
            if step.no_load_v is None or step.loaded_v is None:
                continue
            left, right = sorted((self.x(step.loaded_v), self.x(step.no_load_v)))
            band = Rect(left, top, max(1.0, right - left), _BAND, fill="accent_tint")
            self.items.append(band)

    def _line(
        self, volts: Sequence[float | None], tops: Sequence[float], weight: float, color: str
    ) -> None:
        """One flight of stairs; it is broken where a station was not measured."""
        flight: list[Point] = []
        for value, top in zip(volts, tops, strict=True):
            if value is None:
                self._flight(flight, weight, color)
                flight = []
                continue
            if flight:
                flight.append((flight[-1][0], top))
            flight += [(self.x(value), top), (self.x(value), top + _BAND)]
        self._flight(flight, weight, color)

    def _flight(self, points: Sequence[Point], weight: float, color: str) -> None:
        if points:
            self.items.append(Polyline(tuple(points), weight, color))
            self.items.append(Circle(points[0], weight, fill=color))

    def _grid(self, top: float, bottom: float) -> None:
        for tick in self.ticks:
            x = self.x(tick)
            self.items.insert(0, Line((x, top), (x, bottom + 4), 1, "line"))
        for limit in self.limits:
            x = self.x(limit.volts)
            self.items += dashed((x, top), (x, bottom + 4), 2.6, "outside")

    def _axis(self, y: float) -> float:
        last_end = -1.0
        for tick in self.ticks:
            words = f"{tick:g}"
            half = text_width(words, self.size) / 2
            x = min(max(self.x(tick), half), self.width - half)
            if x - half > last_end:
                at = (x, y + 6 + self.row / 2)
                self.items.append(Text(at, words, self.size, "ink_soft", "middle"))
                last_end = x + half + _GAP
        return y + 6 + self.row

    def _limit_words(self, y: float) -> float:
        for limit in self.limits:
            text = f"{limit.label} {limit.volts:.{self.places}f} V"
            for line in wrapped(text, self.size, self.width - 28):
                middle = y + self.row / 2
                if line == wrapped(text, self.size, self.width - 28)[0]:
                    self.items += dashed((0, middle), (20, middle), 2.6, "outside", 4.0)
                self.items.append(Text((28, middle), line, self.size, "outside"))
                y += self.row
        return y
