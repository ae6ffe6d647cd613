"""The margin gauge: a limit, a value, and how far the value may be trusted."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fieldapp.figures.marks import color_of
from fieldapp.figures.scene import (
    LEADING,
    TEXT,
    Item,
    Line,
    Polygon,
    Rect,
    Scene,
    Text,
    text_width,
    wrapped,
)

Side = Literal["below", "above", "between"]

_TRACK, _HATCH = 20.0, 9.0
_NOTCH = 13.0  # strip above the track where the value's pointer runs
_APART = 8.0  # between the words of two limits
_POST = 8.0  # how far a limit's post reaches below the track


@dataclass(frozen=True)
class GaugeLimit:
    """A limit and its words: value with unit."""

    value: float
    label: str


@dataclass(frozen=True)
class Reading:
    """A measured value with its expanded interval and its verdict."""

    value: float
    low: float
    high: float
    verdict: str


def gauge(
    limits: Sequence[GaugeLimit],
    reading: Reading | None,
    lo: float,
    hi: float,
    side: Side,
    width: float = 328.0,
    *,
    text_scale: float = 1.0,
    both: str = "",
) -> Scene:
    """Margin gauge: posts are limits, hatching is where the value should not be.

    The reading is a bar over its whole interval with a notch at the value, so that a bar across
    a post is seen to be undecided. A reading off the scale becomes an arrow at that end.

    Parameters
    ----------
    limits : sequence of GaugeLimit
        One, or two when ``side`` is "between".
    reading : Reading or None
        None before anything is typed.
    lo, hi : float
        Ends of the scale. [unit of the limits]
    side : {"below", "above", "between"}
        Where the good side is.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]
    both : str
        Two limits in one phrase, for where the words of each would meet.

    Returns
    -------
    Scene
        The track with the limits' words under it.
    """
    return _Gauge(limits, lo, hi, side, width, TEXT * text_scale, both).scene(reading)


class _Gauge:
    def __init__(
        self,
        limits: Sequence[GaugeLimit],
        lo: float,
        hi: float,
        side: Side,
        width: float,
        size: float,
        both: str,
    ) -> None:
        self.both = both
        self.limits = sorted(limits, key=lambda limit: limit.value)
        self.lo, self.hi, self.side, self.width, self.size = lo, hi, side, width, size
        self.top = _NOTCH + 1
        self.middle = self.top + _TRACK / 2

    def scene(self, reading: Reading | None) -> Scene:
        items = self._zones()
        if reading is not None:
            items += self._reading(reading)
        for limit in self.limits:
            x = self.x(limit.value)
            bottom = self.top + _TRACK
            items.append(Line((x, self.top), (x, bottom), 6, "surface"))
            items.append(Line((x, self.top - 2), (x, bottom + _POST), 3.2, "ink"))
        words, height = self._words(self.top + _TRACK + _POST + 1)
        return Scene(self.width, height, (*items, *words))

    def x(self, value: float) -> float:
        share = (value - self.lo) / (self.hi - self.lo) if self.hi != self.lo else 0.5
        return 2 + min(1.0, max(0.0, share)) * (self.width - 4)

    def _zones(self) -> list[Item]:
        cuts = [self.lo, *(limit.value for limit in self.limits), self.hi]
        items: list[Item] = []
        for i, (start, end) in enumerate(pairwise(cuts)):
            left, right = self.x(start), self.x(end)
            good = self._is_good(i)
            fill = "within_tint" if good else "outside_tint"
            items.append(Rect(left, self.top, right - left, _TRACK, fill=fill))
            if not good:
                items += self._hatching(left, right)
        frame = Rect(2, self.top, self.width - 4, _TRACK, stroke="edge", width=1.4)
        return [*items, frame]

    def _is_good(self, zone: int) -> bool:
        if not self.limits:
            return True
        if self.side == "between":
            return zone == 1
        return zone == 0 if self.side == "below" else zone == len(self.limits)

    def _hatching(self, left: float, right: float) -> list[Item]:
        items: list[Item] = []
        x = left + _HATCH
        while x - _TRACK / 2 < right - 3:
            bottom = max(left + 1, x - _TRACK / 2)
            rise = 2 * (x - bottom)
            end = min(x, right - 1)
            start = (bottom, self.top + rise), (end, self.top + 2 * (x - end))
            items.append(Line(*start, 1.2, "outside"))
            x += _HATCH
        return items

    def _reading(self, reading: Reading) -> list[Item]:
        color = color_of(reading.verdict)
        if reading.value > self.hi or reading.value < self.lo:
            return self._off_scale(reading.value > self.hi, color)
        left, right = self.x(reading.low), self.x(reading.high)
        left, right = min(left, self.x(reading.value) - 3), max(right, self.x(reading.value) + 3)
        x = self.x(reading.value)
        notch = tuple((x + dx, self.top + dy) for dx, dy in ((-8, -_NOTCH), (8, -_NOTCH), (0, -1)))
        return [
            Rect(left - 1.5, self.middle - 7.5, right - left + 3, 15, fill="surface"),
            Rect(left, self.middle - 6, right - left, 12, fill=color),
            Polygon(notch, color),
        ]

    def _off_scale(self, is_high: bool, color: str) -> list[Item]:
        tip, base = (self.width, self.width - 16) if is_high else (0.0, 16.0)
        points = ((tip, self.middle), (base, self.middle - 13), (base, self.middle + 13))
        return [Polygon(points, color)]

    def _words(self, y: float) -> tuple[list[Item], float]:
        """Words of the limits under their posts.

        Where they would meet both are said in one phrase, or each on a line of its own.
        """
        items: list[Item] = []
        row = self.size * LEADING
        last_end = -1.0
        for x, label in self._labels():
            lines = wrapped(label, self.size, self.width)
            half = max(text_width(line, self.size) for line in lines) / 2
            x = min(max(x, half), self.width - half)
            if last_end >= 0 and x - half < last_end + _APART:
                y += row
            for i, line in enumerate(lines):
                at = (x, y + (i + 0.5) * row)
                items.append(Text(at, line, self.size, "ink", "middle", "semibold"))
            y += (len(lines) - 1) * row
            last_end = x + half
        return items, y + row

    def _labels(self) -> list[tuple[float, str]]:
        """Where the words of the limits belong, and the words."""
        each = [(self.x(limit.value), limit.label) for limit in self.limits]
        widths = [text_width(label, self.size) for _, label in each]
        fits = sum(widths) + _APART * (len(each) - 1) <= self.width
        if self.both and not fits and text_width(self.both, self.size) <= self.width:
            return [(sum(x for x, _ in each) / len(each), self.both)]
        return each
