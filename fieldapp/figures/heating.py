"""The heating curve: readings, where they lead, and what the end is held against."""

from itertools import pairwise
from typing import NamedTuple

from checks.verdict import HeatEnd, HeatingCurve, HeatLine, HeatPoint
from fieldapp.figures.legend import SAMPLE, Key, legend
from fieldapp.figures.scene import (
    LEADING,
    TEXT,
    Circle,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Rect,
    Scene,
    Text,
    dashed,
    text_width,
)
from fieldapp.figures.ticks import nice_ticks

_GAP = 8.0
_HIGH, _LEAST_HIGH = 0.5, 190.0  # of the width, and the least height of the plot
_SHORTEST_MIN = 10.0
_SPARE = 0.06  # of the span of temperatures, room above and below
_READING, _LIKE = 4.2, 3.4
_BAR, _ARROW = 9.0, 7.0
_EDGE = 2.0  # of the band: a hairline is lost in the sun
_AIR = "air"
_DOT = 2.0  # of the line of the air, which is no axis


class _Band(NamedTuple):
    """What the end may be at a time: lowest, best and highest, and whether it is open upward."""

    minute: float
    low: float
    best: float
    high: float


def heating(curve: HeatingCurve, width: float = 328.0, *, text_scale: float = 1.0) -> Scene:
    """Heating curve over time, with the band of its end, and bars of the end at the right.

    Filled dots are readings, open ones a like part, a cross one that was left out. The band opens
    from the last reading to the bounds of the end; where it is open upward it runs out of the
    plot and ends in an arrow.

    Parameters
    ----------
    curve : HeatingCurve
        What is drawn.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]

    Returns
    -------
    Scene
        As wide as asked and as high as its text needs.
    """
    return _Heating(curve, width, TEXT * text_scale).scene()


def _xy(points: tuple[HeatPoint, ...]) -> list[tuple[float, float]]:
    return [(float(p.minute), float(p.value)) for p in points]


class _Heating:
    def __init__(self, curve: HeatingCurve, width: float, size: float) -> None:
        self.curve, self.width, self.size = curve, width, size
        self.row = size * LEADING
        self.readings, self.like = _xy(curve.readings), _xy(curve.like)
        self.line = _xy(curve.curve)
        self.last = max((t for t, _ in self.readings), default=0.0)
        times = [t for t, _ in (*self.readings, *self.like, *self.line)]
        self.until = max([_SHORTEST_MIN, *times])
        self._scale_up_and_down()
        self.left = max(text_width(f"{t:g}", size) for t in self.ticks) + _GAP
        self.columns = [text_width(e.label, size) + _GAP for e in curve.ends]
        self.right = width - sum(self.columns) - (_GAP if self.columns else self.size / 2)
        self.top = self.row + _GAP / 2
        self.bottom = self.top + max(_LEAST_HIGH, _HIGH * width)
        self.under = self.bottom + size / 2  # clear of the lowest number beside the plot
        self.band = self._band()
        self.named_y = [self._named_at(line) for line in curve.lines]
        self.items: list[Item] = []
        self.words: list[Item] = []

    def _scale_up_and_down(self) -> None:
        ends = [float(x) for e in self.curve.ends for x in (e.low, e.value, e.high) if x]
        held = [float(line.value) for line in self.curve.lines]
        all_of_it = [v for _, v in (*self.readings, *self.like)] + ends + held
        low, high = min(all_of_it, default=0.0), max(all_of_it, default=1.0)
        span = max(high - low, 1.0)
        self.lo, self.hi = low - _SPARE * span, high + _SPARE * span
        self.ticks = [t for t in nice_ticks(self.lo, self.hi, 5) if self.lo <= t <= self.hi]

    def x(self, minute: float) -> float:
        return self.left + minute / self.until * (self.right - self.left)

    def y(self, value: float) -> float:
        share = (min(max(value, self.lo), self.hi) - self.lo) / (self.hi - self.lo)
        return self.bottom - share * (self.bottom - self.top)

    def scene(self) -> Scene:
        self._grid()
        self._draw_band()
        for line, named_y in zip(self.curve.lines, self.named_y, strict=True):
            self._held_against(line, named_y)
        if self.line:
            points = tuple((self.x(t), self.y(v)) for t, v in self.line)
            self.items.append(Polyline(points, 2.4, "accent"))
        self._dots()
        self._bars()
        high = self._legend(self._axis())
        return Scene(self.width, high, (*self.items, *self.words))

    # -- the plot ----------------------------------------------------------------------------------
    def _grid(self) -> None:
        for tick in self.ticks:
            y = self.y(tick)
            self.items.append(Line((self.left, y), (self.right, y), 1, "rule"))
            at = (self.left - _GAP / 2, y)
            self.words.append(Text(at, f"{tick:g}", self.size, "ink_soft", "end"))
        self.words.append(Text((0, self.row / 2 - 2), self.curve.unit, self.size, "ink_soft"))

    def _band(self) -> list[_Band]:
        """Open the band from the last reading to the bounds of the end at this current."""
        end = self.curve.ends[0] if self.curve.ends else None
        ahead = [(t, v) for t, v in self.line if t > self.last]
        if end is None or not ahead:
            return []
        reach = ahead[-1][0] - self.last
        now = next((v for t, v in reversed(self.line) if t <= self.last), ahead[0][1])
        below = float(end.value) - float(end.low)
        above = float(end.high) - float(end.value) if end.high else 2 * (self.hi - self.lo)
        off = float(end.value) - ahead[-1][1]
        band = [_Band(self.last, now, now, now)]
        for t, v in ahead:
            share = (t - self.last) / reach
            best = v + off * share
            band.append(_Band(t, best - below * share, best, best + above * share))
        return band

    def _draw_band(self) -> None:
        for one, then in pairwise(self.band):
            corners: tuple[Point, ...] = (
                (self.x(one.minute), self.y(one.high)),
                (self.x(then.minute), self.y(then.high)),
                (self.x(then.minute), self.y(then.low)),
                (self.x(one.minute), self.y(one.low)),
            )
            self.items.append(Polygon(corners, "accent_tint"))
            # outdoors no tint can be seen: its edges and its hatching tell the band
            if one.high < self.hi:  # beyond it the band runs out of the plot
                self.items.append(Line(corners[0], corners[1], _EDGE, "accent"))
            self.items.append(Line(corners[3], corners[2], _EDGE, "accent"))
            self.items.append(Line(corners[1], corners[2], 1.0, "accent"))

    def _held_against(self, line: HeatLine, named_y: float | None) -> None:
        y = self.y(float(line.value))
        start, end = (self.left, y), (self.width, y)
        if line.is_stop:
            self.items.append(Line(start, end, 3.2, "outside"))
        elif line.label == _AIR:
            self.items += dashed(start, (self.right, y), 1.6, "edge", _DOT)
        else:
            self.items += dashed(start, end, 2.6, "outside")
        if named_y is not None:
            at = self.left + _GAP, named_y
            self.words.append(Text(at, self._said(line), self.size, "outside", "start", "semibold"))

    def _said(self, line: HeatLine) -> str:
        return f"{line.label}: {float(line.value):.0f} {self.curve.unit}"

    def _named_at(self, line: HeatLine) -> float | None:
        """Return where the words of a line stand, above it or below; None where all is full."""
        y, half = self.y(float(line.value)), self.row / 2
        right = self.left + 2 * _GAP + text_width(self._said(line), self.size)
        if line.label == _AIR or right > self.right:
            return None
        drawn = [(self.x(t), self.y(v)) for t, v in (*self.readings, *self.like, *self.line)]
        spans = [(at - _READING, at + _READING) for x, at in drawn if x < right]
        spans += [(self.y(b.high), self.y(b.low)) for b in self.band if self.x(b.minute) < right]
        others = (self.y(float(o.value)) for o in self.curve.lines if o is not line)
        spans += [(at, at) for at in others]
        for middle in (y - half, y + half + 1.0):
            high, low = middle - half + 1.0, middle + half - 1.0
            is_clear = not any(top < low and high < under for top, under in spans)
            if high >= self.top - self.row / 3 and is_clear:
                return middle
        return None

    def _dots(self) -> None:
        for t, v in self.like:
            at = self.x(t), self.y(v)
            self.items.append(Circle(at, _LIKE, fill="surface", stroke="ink_soft", width=1.8))
        for (t, v), point in zip(self.readings, self.curve.readings, strict=True):
            x, y = self.x(t), self.y(v)
            if point.is_left_out:
                r = _READING
                self.items.append(Line((x - r, y - r), (x + r, y + r), 2.2, "borderline"))
                self.items.append(Line((x - r, y + r), (x + r, y - r), 2.2, "borderline"))
            else:
                self.items.append(Circle((x, y), _READING, fill="ink"))

    def _bars(self) -> None:
        x = self.right + _GAP
        for end, column in zip(self.curve.ends, self.columns, strict=True):
            self._bar(end, x + column / 2)
            x += column

    def _bar(self, end: HeatEnd, x: float) -> None:
        low, best = self.y(float(end.low)), self.y(float(end.value))
        high = self.y(float(end.high)) if end.high else self.top + 1.6 * _ARROW
        self.items.append(Rect(x - _BAR / 2, high, _BAR, max(2.0, low - high), fill="accent"))
        if not end.high:
            tip = ((x, self.top), (x - _ARROW, high), (x + _ARROW, high))
            self.items.append(Polygon(tip, "accent"))
        self.items.append(Line((x - _BAR, best), (x + _BAR, best), 3.0, "ink"))
        at = (x, self.under + self.row / 2)
        self.words.append(Text(at, end.label, self.size, "ink", "middle", "semibold"))

    def _axis(self) -> float:
        self.items.append(Line((self.left, self.bottom), (self.right, self.bottom), 1.4, "edge"))
        y, last_end = self.under + self.row / 2, -1.0
        for tick in nice_ticks(0.0, self.until, 4):
            words = f"{tick:g} min" if tick == 0 else f"{tick:g}"
            half = text_width(words, self.size) / 2
            x = max(self.x(tick), half)
            if tick <= self.until and x - half > last_end and x + half < self.right + _GAP:
                self.words.append(Text((x, y), words, self.size, "ink_soft", "middle"))
                last_end = x + half + _GAP
        return self.under + self.row + _GAP

    # -- what is what ------------------------------------------------------------------------------
    def _legend(self, y: float) -> float:
        ring = Circle((SAMPLE / 2, 0), _LIKE, fill="surface", stroke="ink_soft", width=1.8)
        bar = Rect((SAMPLE - _BAR) / 2, -9, _BAR, 18, fill="accent")
        keys = [Key("readings", [Circle((SAMPLE / 2, 0), _READING, fill="ink")])]
        keys += [Key("like part", [ring])] if self.like else []
        keys += [
            Key(
                self._said(line),
                self._sample(line.label, is_stop=line.is_stop),
            )
            for line, named_y in zip(self.curve.lines, self.named_y, strict=True)
            if named_y is None
        ]
        if self.band:
            corners = ((2.0, 0.0), (SAMPLE, -8.0), (SAMPLE, 8.0))
            edges = [Line(corners[0], corner, _EDGE, "accent") for corner in corners[1:]]
            edges += [Line((x, -x / 3), (x, x / 3), 1.0, "accent") for x in (9.0, 16.0, 23.0)]
            keys.append(Key("what may follow", [Polygon(corners, "accent_tint"), *edges]))
        keys += [Key(self._end_words(end), [bar]) for end in self.curve.ends]
        items, y = legend(keys, y, self.width, self.size)
        self.words += items
        return y

    def _sample(self, label: str, *, is_stop: bool) -> list[Item]:
        if is_stop:
            return [Line((2, 0), (SAMPLE, 0), 3.2, "outside")]
        if label == _AIR:
            return dashed((0, 0), (SAMPLE, 0), 1.6, "edge", _DOT)
        return dashed((0, 0), (SAMPLE, 0), 2.6, "outside", 4.0)

    def _end_words(self, end: HeatEnd) -> str:
        low, unit = f"{float(end.low):.0f}", self.curve.unit
        high = f"to {float(end.high):.0f} {unit}" if end.high else f"{unit} or more, still open"
        return f"in the end at {end.label}: {low} {high}"
