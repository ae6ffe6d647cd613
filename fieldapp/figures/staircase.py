"""The voltage staircase: where on the path the volts go."""

from collections.abc import Sequence
from dataclasses import dataclass

from checks.verdict import VoltageStep
from fieldapp.figures.legend import SAMPLE, Key, legend
from fieldapp.figures.scene import (
    LEADING,
    TEXT,
    Circle,
    Item,
    Line,
    Point,
    Polyline,
    Rect,
    Scene,
    Text,
    Weight,
    dashed,
    text_width,
    wrapped,
)
from fieldapp.figures.ticks import nice_ticks

_GAP = 8.0
_HEAVY, _LIGHT, _BROKEN = 4.5, 2.0, 2.6
_DASH = 4.0
_MOST_PLACES = 3  # decimal places of volts
METAL = "metal alone"
_SPARE = 0.06  # of the span, room at both ends of the scale
_COLUMN_SHARE = 0.5  # of the width, the most that words beside the plot may take


@dataclass(frozen=True)
class Step:
    """Volts at one station; what was not measured, or cannot be known, is None."""

    label: str
    no_load_v: float | None
    loaded_v: float | None
    metal_v: float | None = None  # under load, if nothing but metal lay on the way


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
    The broken line is what metal alone would leave: from there to the heavy line a joint hides.

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


def stairs(steps: Sequence[VoltageStep], width: float, *, text_scale: float = 1.0) -> Scene | None:
    """Staircase of the steps that an assessment gives, with the digits that were read.

    Parameters
    ----------
    steps : sequence of VoltageStep
        From the utility to the vehicle.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]

    Returns
    -------
    Scene or None
        Nothing where no voltage was read.
    """
    typed = [v for s in steps for v in (s.no_load_v, s.loaded_v) if v]
    if not typed:
        return None
    places = min(_MOST_PLACES, max(len(v.partition(".")[2]) for v in typed))
    made = [
        Step(s.label, *(float(v) if v else None for v in (s.no_load_v, s.loaded_v, s.metal_v)))
        for s in steps
    ]
    return staircase(made, width=width, text_scale=text_scale, places=places)


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
        self.size = TEXT * text_scale
        self.row = self.size * LEADING
        volts = [v for s in steps for v in (s.no_load_v, s.loaded_v, s.metal_v) if v is not None]
        self.has_metal = any(self._is_apart(s) for s in steps)
        volts += [limit.volts for limit in limits]
        self.plot_left = self._column()
        about = max(2, int((width - self.plot_left) / (5 * self.size)))
        self.ticks = nice_ticks(min(volts), max(volts), about) if volts else []
        span = max(volts, default=0) - min(volts, default=0) or 1.0
        self.has_volts = bool(volts)
        self.lo = min(volts, default=0) - _SPARE * span
        self.hi = max(volts, default=0) + _SPARE * span
        self.ticks = [tick for tick in self.ticks if self.lo <= tick <= self.hi]
        self.items: list[Item] = []
        self.words: list[Item] = []

    def scene(self) -> Scene:
        if not self.has_volts:
            height = 2 * self.row
            note = Text((0, height / 2), "No voltage measured yet", self.size, "ink_soft")
            return Scene(self.width, height, (note,))
        y = self._legend(0.0)
        if self.is_numbered:
            y = self._table(y)
        top = y
        bands: list[Point] = []
        for i, step in enumerate(self.steps, start=1):
            words = (str(i),) if self.is_numbered else self._words(step)
            bands.append((y, y + len(words) * self.row + _GAP))
            self._beside(words, y)
            y = bands[-1][1]
        self._grid(top, y)
        self._bands(bands)
        self._line([s.no_load_v for s in self.steps], bands, _LIGHT, "ink_soft")
        self._line([s.loaded_v for s in self.steps], bands, _HEAVY, "accent")
        self._metal(bands)
        y = self._limit_words(self._axis(y))
        return Scene(self.width, y, (*self.items, *self.words))

    def _column(self) -> float:
        """Width of the column left of the plot; words that are too wide for it go into a table."""
        widths = [
            text_width(words, self.size) for step in self.steps for words in self._words(step)
        ]
        column = max(widths, default=0.0) + 2 * _GAP
        self.is_numbered = column > _COLUMN_SHARE * self.width
        return text_width("00", self.size) + _GAP if self.is_numbered else column

    def x(self, volts: float) -> float:
        margin = self.size
        room = self.width - self.plot_left - 2 * margin
        return self.plot_left + margin + (volts - self.lo) / (self.hi - self.lo) * room

    def _legend(self, y: float) -> float:
        keys = [
            Key(words, [Line((weight / 2, 0), (SAMPLE, 0), weight, color)])
            for words, weight, color in (
                ("no load", _LIGHT, "ink_soft"),
                ("under load", _HEAVY, "accent"),
            )
        ]
        if self.has_metal:
            keys.append(Key(METAL, dashed((0, 0), (SAMPLE, 0), _BROKEN, "ink", _DASH)))
        items, y = legend(keys, y, self.width, self.size, "ink_soft")
        self.words += items
        return y + _GAP

    def _beside(self, words: Sequence[str], y: float) -> None:
        """Words of a step in the column left of the plot, the first of them strong."""
        middle = y + _GAP / 2 + self.row / 2
        for i, line in enumerate(words):
            at = (0.0, middle + i * self.row)
            weight: Weight = "regular" if i else "semibold"
            self.words.append(Text(at, line, self.size, "ink", weight=weight))

    def _table(self, y: float) -> float:
        """Numbered words of all steps above the plot; returns where they end."""
        for i, step in enumerate(self.steps, start=1):
            label, *rest = self._words(step)
            for j, text in enumerate((f"{i}  {label}", *rest)):
                weight: Weight = "regular" if j else "semibold"
                for line in wrapped(text, self.size, self.width):
                    at = (0.0, y + self.row / 2)
                    self.words.append(Text(at, line, self.size, "ink", weight=weight))
                    y += self.row
            y += _GAP
        return y

    def _words(self, step: Step) -> tuple[str, ...]:
        """Label and numbers of a step, one to a line."""

        def shown(volts: float | None) -> str:
            return "" if volts is None else f"{volts:.{self.places}f}"

        if step.no_load_v is None and step.loaded_v is None:
            return step.label, "not measured"
        numbers = f"{shown(step.no_load_v)} → {shown(step.loaded_v)} V"
        if step.loaded_v is None:
            numbers = f"{shown(step.no_load_v)} V, no load"
        elif step.no_load_v is None:
            numbers = f"{shown(step.loaded_v)} V, under load"
        if not self._is_apart(step):
            return step.label, numbers
        return step.label, numbers, f"{METAL} {shown(step.metal_v)} V"

    def _is_apart(self, step: Step) -> bool:
        """Whether metal alone would leave other volts than were read."""
        return step.metal_v is not None and step.metal_v != step.loaded_v

    def _bands(self, bands: Sequence[Point]) -> None:
        for step, (top, bottom) in zip(self.steps, bands, strict=True):
            if step.no_load_v is None or step.loaded_v is None:
                continue
            left, right = sorted((self.x(step.loaded_v), self.x(step.no_load_v)))
            band = Rect(left, top, max(1.0, right - left), bottom - top, fill="accent_tint")
            self.items.append(band)

    def _line(
        self, volts: Sequence[float | None], bands: Sequence[Point], weight: float, color: str
    ) -> None:
        """One flight of stairs; it is broken where a station was not measured."""
        flight: list[Point] = []
        for value, (top, bottom) in zip(volts, bands, strict=True):
            if value is None:
                self._flight(flight, weight, color)
                flight = []
                continue
            if flight:
                flight.append((flight[-1][0], top))
            flight += [(self.x(value), top), (self.x(value), bottom)]
        self._flight(flight, weight, color)

    def _metal(self, bands: Sequence[Point]) -> None:
        """Broken posts where metal alone would leave the volts; beside the heavy line only."""
        for step, (top, bottom) in zip(self.steps, bands, strict=True):
            if step.metal_v is not None and self._is_apart(step):
                x = self.x(step.metal_v)
                self.items += dashed((x, top), (x, bottom), _BROKEN, "ink", _DASH)

    def _flight(self, points: Sequence[Point], weight: float, color: str) -> None:
        if points:
            self.items.append(Polyline(tuple(points), weight, color))
            self.items.append(Circle(points[0], weight, fill=color))

    def _grid(self, top: float, bottom: float) -> None:
        for tick in self.ticks:
            x = self.x(tick)
            self.items.insert(0, Line((x, top), (x, bottom + 4), 1, "rule"))
        for limit in self.limits:
            x = self.x(limit.volts)
            self.items += dashed((x, top), (x, bottom + 4), 2.6, "outside")

    def _axis(self, y: float) -> float:
        last_end = -1.0
        for tick in self.ticks:
            words = f"{tick:g}"
            half = text_width(words, self.size) / 2
            x = min(max(self.x(tick), self.plot_left + half), self.width - half)
            if x - half > last_end:
                at = (x, y + 6 + self.row / 2)
                self.words.append(Text(at, words, self.size, "ink_soft", "middle"))
                last_end = x + half + _GAP
        return y + 6 + self.row

    def _limit_words(self, y: float) -> float:
        for limit in self.limits:
            text = f"{limit.label} {limit.volts:.{self.places}f} V"
            for line in wrapped(text, self.size, self.width - 28):
                middle = y + self.row / 2
                if line == wrapped(text, self.size, self.width - 28)[0]:
                    self.items += dashed((0, middle), (20, middle), 2.6, "outside", 4.0)
                self.words.append(Text((28, middle), line, self.size, "outside"))
                y += self.row
        return y
