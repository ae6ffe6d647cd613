"""One quantity over the visits: intervals, the line through them, and where it meets its limit."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from checks.electrical.trend import DAYS_PER_YEAR
from checks.quantity import Amount
from checks.trends import PointTrend
from checks.units import from_si
from checks.verdict import Side as LimitSide
from fieldapp.figures.gauge import GaugeLimit, Side
from fieldapp.figures.legend import SAMPLE, Key, legend
from fieldapp.figures.scene import (
    LEADING,
    TEXT,
    Item,
    Line,
    Rect,
    Scene,
    Text,
    dashed,
    text_width,
)
from fieldapp.figures.ticks import nice_ticks

_GAP = 8.0
_ROWS = 9.0  # height of the plot, in lines of text
_SPARE = 0.08  # of the span, room at both ends of the scale
_BAR, _NOTCH = 8.0, 18.0
_MONTH: Final = len("2025-06")


@dataclass(frozen=True)
class TrendVisit:
    """What one visit found: when, the words for it, the value with its expanded interval."""

    years: float
    label: str
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Course:
    """A straight line from the first visit to the last, and on to its limit where it meets it."""

    first: float
    last: float
    meets_years: float | None = None
    label: str = ""


def trend_plot(
    visits: Sequence[TrendVisit],
    limit: GaugeLimit,
    side: Side,
    unit: str,
    course: Course | None = None,
    width: float = 328.0,
    *,
    text_scale: float = 1.0,
) -> Scene:
    """Plot a quantity over the visits, each as the bar of its whole interval.

    Parameters
    ----------
    visits : sequence of TrendVisit
        At least two, in the order of time.
    limit : GaugeLimit
        Dashed across the plot, with its words below.
    side : {"below", "above"}
        Where the good side is; the other is tinted.
    unit : str
        Stands at the head of the scale.
    course : Course, optional
        Drawn only where a change was seen.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]

    Returns
    -------
    Scene
        As wide as asked and as high as its text needs.
    """
    return _Plot(visits, limit, side, unit, course, width, TEXT * text_scale).scene()


def trend_scene(found: PointTrend, width: float, *, text_scale: float = 1.0) -> Scene:
    """Plot what `checks.trends` found, on screen and on the page alike.

    Parameters
    ----------
    found : PointTrend
        One quantity of one charging point.
    width, text_scale : float
        As for `trend_plot`.
    """
    days = [date.fromisoformat(r.on) for r in found.readings]
    symbol = found.readings[0].amount.unit
    visits = [
        _visit(r.amount, _years(on, days[0]), r.on)
        for r, on in zip(found.readings, days, strict=True)
    ]
    course = None
    if found.is_seen and found.is_straight:
        meets = date.fromisoformat(found.crossing) if found.crossing else None
        course = Course(
            float(found.course[0].value),
            float(found.course[1].value),
            None if meets is None else _years(meets, days[0]),
            found.crossing[:_MONTH],
        )
    limit = GaugeLimit(from_si(found.limit.value, symbol), str(found.limit))
    side: Side = "below" if found.limit.side is LimitSide.AT_MOST else "above"
    return trend_plot(visits, limit, side, symbol, course, width, text_scale=text_scale)


def _visit(amount: Amount, years: float, on: str) -> TrendVisit:
    value, spread = float(amount.value), float(amount.expanded or 0)
    return TrendVisit(years, on[:_MONTH], value, value - spread, value + spread)


def _years(on: date, start: date) -> float:
    return (on - start).days / DAYS_PER_YEAR


class _Plot:
    def __init__(
        self,
        visits: Sequence[TrendVisit],
        limit: GaugeLimit,
        side: Side,
        unit: str,
        course: Course | None,
        width: float,
        size: float,
    ) -> None:
        self.visits, self.limit, self.side, self.unit = visits, limit, side, unit
        self.course, self.width, self.size = course, width, size
        self.row = size * LEADING
        values = [v for each in visits for v in (each.low, each.high)] + [limit.value]
        spare = _SPARE * ((max(values) - min(values)) or 1.0)
        self.lo, self.hi = min(values) - spare, max(values) + spare
        ticks = nice_ticks(min(values), max(values), 4)
        self.ticks = [t for t in ticks if self.lo <= t <= self.hi]
        column = max((text_width(f"{t:g}", size) for t in self.ticks), default=0.0)
        self.left = max(column, text_width(unit, size)) + _GAP
        meets = course.meets_years if course else None
        self.start = visits[0].years
        self.end = max(visits[-1].years, meets or visits[-1].years)
        self.top = self.row + _GAP / 2
        self.bottom = self.top + _ROWS * self.row

    def scene(self) -> Scene:
        items = [*self._ground(), *self._course(), *self._bars()]
        words, y = self._dates()
        more, y = self._legend(y)
        head = Text((0.0, self.row / 2), self.unit, self.size, "ink_soft")
        return Scene(self.width, y, (*items, head, *self._scale(), *words, *more))

    def x(self, years: float) -> float:
        room = self.width - self.left - 2 * _NOTCH
        return self.left + _NOTCH + (years - self.start) / (self.end - self.start) * room

    def y(self, value: float) -> float:
        return self.bottom - (value - self.lo) / (self.hi - self.lo) * (self.bottom - self.top)

    def _ground(self) -> list[Item]:
        """Tint where the value should not be, lines of the scale, and the limit."""
        at, w = self.y(self.limit.value), self.width - self.left
        top, end = (self.top, at) if self.side == "below" else (at, self.bottom)
        bad = Rect(self.left, top, w, end - top, fill="outside_tint")
        grid = [
            Line((self.left, self.y(t)), (self.width, self.y(t)), 1.0, "rule") for t in self.ticks
        ]
        limit = dashed((self.left, at), (self.width, at), 2.6, "outside")
        axis = Line((self.left, self.bottom), (self.width, self.bottom), 1.4, "edge")
        return [bad, *grid, *limit, axis]

    def _course(self) -> list[Item]:
        if self.course is None:
            return []
        last = self.x(self.visits[-1].years), self.y(self.course.last)
        first = self.x(self.start), self.y(self.course.first)
        items: list[Item] = [Line(first, last, 2.6, "accent")]
        if self.course.meets_years is not None:
            meets = self.x(self.course.meets_years), self.y(self.limit.value)
            items += dashed(last, meets, 2.6, "accent", 4.0)
            items.append(Line((meets[0], meets[1]), (meets[0], self.bottom + 5), 1.4, "ink"))
        return items

    def _bars(self) -> list[Item]:
        """Each visit's interval as a bar, notched at the value, on a rim that parts it."""
        items: list[Item] = []
        for each in self.visits:
            x, value = self.x(each.years), self.y(each.value)
            top, end = min(self.y(each.high), value - 2), max(self.y(each.low), value + 2)
            rim, half = _BAR / 2 + 1.5, _BAR / 2
            items.append(Rect(x - rim, top - 1.5, 2 * rim, end - top + 3, fill="surface"))
            items.append(Rect(x - half, top, _BAR, end - top, fill="ink_soft"))
            notch = (x - _NOTCH / 2, value), (x + _NOTCH / 2, value)
            items.append(Line(*notch, 3.2, "ink"))
            items.append(Line((x, self.bottom), (x, self.bottom + 5), 1.4, "ink"))
        return items

    def _scale(self) -> list[Item]:
        right = self.left - _GAP
        return [
            Text((right, self.y(t)), f"{t:g}", self.size, "ink_soft", "end") for t in self.ticks
        ]

    def _dates(self) -> tuple[list[Item], float]:
        """Dates under their ticks; where they would meet, the ends stay."""
        dates = [(v.years, v.label) for v in self.visits]
        if self.course is not None and self.course.meets_years is not None:
            dates.append((self.course.meets_years, self.course.label))
        kept = (dates[0], dates[-1], dates[len(self.visits) - 1])
        ordered = sorted(dates, key=lambda d: kept.index(d) if d in kept else len(kept))
        taken: list[tuple[float, float]] = []
        items: list[Item] = []
        middle = self.bottom + 6 + self.row / 2
        for years, label in ordered:
            half = text_width(label, self.size) / 2
            x = min(max(self.x(years), half), self.width - half)
            if all(x + half + _GAP <= a or b + _GAP <= x - half for a, b in taken):
                taken.append((x - half, x + half))
                items.append(Text((x, middle), label, self.size, "ink", "middle"))
        return items, self.bottom + 6 + self.row

    def _legend(self, y: float) -> tuple[list[Item], float]:
        rows = [(self.limit.label, "outside", 6.0)]
        if self.course is not None and self.course.meets_years is not None:
            rows.append((f"if it goes on: {self.course.label}", "accent", 4.0))
        items: list[Item] = []
        for words, color, dash in rows:  # each on a line of its own
            sample = dashed((0.0, 0.0), (SAMPLE, 0.0), 2.6, color, dash)
            more, y = legend([Key(words, sample)], y, self.width, self.size)
            items += more
        return items, y
