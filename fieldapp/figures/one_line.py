"""The one-line diagram: the current's path from the utility to the battery, station by station."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Literal, TypeAlias

from fieldapp.figures.marks import MARK, color_of, verdict_mark
from fieldapp.figures.scene import (
    LEADING,
    Hit,
    Item,
    Line,
    Point,
    Rect,
    Scene,
    Text,
    dashed,
    placed,
    text_width,
    transposed,
    wrapped,
)
from fieldapp.figures.symbols import BOX, CONDUCTOR, symbol
from fieldapp.language import Said, say

_TITLE, _WORD, _READING, _LOW_READING = 18.0, 16.0, 28.0, 22.0
_PAD, _GAP = 6.0, 8.0
_MIN_ROW, _MIN_LOW_ROW = 64.0, 58.0
_MIN_COLUMN, _MOST_COLUMNS, _GUTTER = 200.0, 3, 20.0
_MIN_SLOT = 96.0
_LEFT = BOX + 16.0  # where the words begin, right of the symbols
_SIDE_BY_SIDE = 0.45  # share of the row a reading may take beside the title
_AXIS = BOX / 2 + 4.0


@dataclass(frozen=True)
class StationMark:
    """One station as the diagram shows it.

    Parameters
    ----------
    key : str
        What a touch on it stands for.
    title : str
        The station's name.
    symbol : str
        One of `fieldapp.figures.SYMBOLS`.
    verdict : str
        One of the five verdicts.
    reading : str
        Its one telling number with unit, or nothing.
    quantity : str
        What the number is, where it does not say so itself.
    on_path : bool
        False for what stands beside the path: surroundings and handover.
    """

    key: str
    title: str
    symbol: str
    verdict: str
    reading: str = ""
    on_path: bool = True
    quantity: str = ""


def one_line(
    stations: Sequence[StationMark],
    width: float,
    orientation: Literal["vertical", "folded", "horizontal"] = "vertical",
    *,
    text_scale: float = 1.0,
    current: str | None = None,
) -> Scene:
    """Live one-line diagram with a touchable box for each station.

    The conductor is solid below a station that has a verdict and dashed below one that was not
    measured, so that what is proved is seen to grow down the path.

    Parameters
    ----------
    stations : sequence of StationMark
        Along the path, the utility first, those beside the path last.
    width : float
        Width to fill. [unit, one dp on screen]
    orientation : {"vertical", "folded", "horizontal"}
        A row a station (phone), the same in as many columns as have room (phone on its side), or
        a column a station (wide page). Columns that would be too narrow for their words become
        rows.
    text_scale : float
        Factor on all text. [unitless]
    current : str, optional
        Key of the station that is being worked on.

    Returns
    -------
    Scene
        As wide as asked and as high as its text needs.
    """
    slot = width / max(1, len(stations))
    if orientation == "horizontal" and slot >= _MIN_SLOT * text_scale:
        return _horizontal(stations, width, text_scale, current)
    count = int(width // (_MIN_COLUMN * text_scale)) if orientation == "folded" else 1
    return _rows(stations, width, text_scale, current, max(1, min(_MOST_COLUMNS, count)))


def _rows(
    stations: Sequence[StationMark],
    width: float,
    text_scale: float,
    current: str | None,
    count: int,
) -> Scene:
    """Draw a row a station, in so many columns of equally many rows, one after the other."""
    each = ceil(len(stations) / count)
    apart = width / count
    items: list[Item] = []
    words: list[Item] = []
    hits: list[Hit] = []
    axis: list[tuple[StationMark, Point]] = []
    height = 0.0
    for i, station in enumerate(stations):
        x = apart * (i // each)
        top = hits[-1].y + hits[-1].h if i % each else 0.0
        wide = apart if x + apart >= width - 1 else apart - _GUTTER
        row = _Row(station, wide, text_scale, is_low=count > 1)
        box = Hit(station.key, x, top, wide, row.height)
        if station.key == current:
            items += _marked(box)
        words += placed(row.items, x, top)
        if i % each:
            words.append(Line((x + _LEFT, top), (x + wide, top), 1, "rule"))
        hits.append(box)
        axis.append((station, (x + _AXIS, top + row.height / 2)))
        height = max(height, top + row.height)
    items += _conductor(axis, height)
    for station, (x, y) in axis:
        items += placed(symbol(station.symbol), x - BOX / 2, y - BOX / 2)
    return Scene(width, height, (*items, *words), tuple(hits))


def _marked(box: Hit) -> list[Item]:
    """Return what shows that a station is worked at."""
    x, w = box.x + _LEFT - _GAP, box.w - _LEFT + _GAP
    return [
        Rect(x, box.y, w, box.h, fill="accent_tint"),
        Rect(x, box.y + 2, w - 2, box.h - 4, stroke="accent", width=3),
    ]


_Lines: TypeAlias = list[tuple[str, float, str]]  # words, size, color


class _Row:
    """Words of one station, laid out from the row's top left corner."""

    def __init__(
        self, station: StationMark, width: float, text_scale: float, *, is_low: bool
    ) -> None:
        self.title = _TITLE * text_scale
        self.word = _WORD * text_scale
        self.reading = (_LOW_READING if is_low else _READING) * text_scale
        room = width - _LEFT - _PAD
        place = self._in_two_lines if is_low else self._beside
        right, under = place(station, room) if station.reading else ([], [])
        wide = _width(right[:1] if is_low else right)
        title_room = room - (wide + 2 * _GAP if right else 0)
        self.items: list[Item] = []
        above = _GAP / 2 if is_low else _PAD
        self._y = above
        for line in wrapped(station.title, self.title, title_room):
            self._text(line, self.title, "ink")
        self._verdict(station.verdict, room if is_low else title_room)
        for words, size, color in under:
            for line in wrapped(words, size, room):
                self._text(line, size, color)
        tall = _height(right)
        least = _MIN_LOW_ROW if is_low else _MIN_ROW
        self.height = max(least, self._y + above, tall + 2 * above)
        down = (self.height - self._y - above) / 2
        self.items = placed(self.items, 0, down)
        top = (self.height - tall) / 2
        if is_low:  # on the title's line
            top = above + down + (self.title - self.reading) * LEADING / 2
        for line, size, color in right:
            at = (width - _PAD - _GAP, top + size * LEADING / 2)
            self.items.append(Text(at, line, size, color, "end", "semibold"))
            top += size * LEADING

    def _beside(self, station: StationMark, room: float) -> tuple[_Lines, _Lines]:
        """Put number and quantity right of title and verdict where they have room, else under."""
        side = _SIDE_BY_SIDE * room
        longest = max(
            *(text_width(word, self.title) for word in say(station.title).split() or [""]),
            *(self._after_mark(word) for word in say(station.verdict).split()),
        )
        number = (station.reading, self.reading, "ink")
        of = [(x, self.word, "ink_soft") for x in _lines(station.quantity, self.word, side)]
        if _width([number, *of]) <= min(side, room - longest - 2 * _GAP):
            return [number, *of], []
        return [], [number, *((station.quantity, *x[1:]) for x in of[:1])]

    def _in_two_lines(self, station: StationMark, room: float) -> tuple[_Lines, _Lines]:
        """Put the number beside the title and the quantity beside the verdict, each if it fits."""
        number = (station.reading, self.reading, "ink")
        of = [(station.quantity, self.word, "ink_soft")] if station.quantity else []
        if _width([number]) > room - text_width(station.title, self.title) - 2 * _GAP:
            return [], [number, *of]
        if _width(of) > room - self._after_mark(station.verdict) - 2 * _GAP:
            return [number], of
        return [number, *of], []

    def _after_mark(self, words: str) -> float:
        """Width of words of a verdict with its mark before them."""
        return self.word * 1.25 + _GAP + text_width(words, self.word)

    def _text(self, line: str, size: float, color: str) -> None:
        height = size * LEADING
        at = (_LEFT, self._y + height / 2)
        self.items.append(Text(at, line, size, color, weight="semibold"))
        self._y += height

    def _verdict(self, verdict: str, room: float) -> None:
        size = self.word * 1.25
        mark = placed(
            verdict_mark(verdict).items,
            _LEFT,
            self._y + (self.word * LEADING - size) / 2 + 2,
            size / MARK,
        )
        self.items += mark
        indent = size + _GAP
        self._y += 2
        for line in wrapped(verdict, self.word, room - indent):
            height = self.word * LEADING
            at = (_LEFT + indent, self._y + height / 2)
            self.items.append(Text(at, line, self.word, color_of(verdict), weight="semibold"))
            self._y += height


def _lines(text: str, size: float, width: float) -> Sequence[str]:
    return wrapped(text, size, width) if text else ()


def _width(lines: _Lines) -> float:
    return max((text_width(line, size) for line, size, _ in lines), default=0.0)


def _height(lines: _Lines) -> float:
    return sum(size * LEADING for _, size, _ in lines)


def _conductor(axis: Sequence[tuple[StationMark, Point]], height: float = 0.0) -> list[Item]:
    """Draw the trunk through all stations on the path; a fold leads round to the next column."""
    on_path = [(station, at) for station, at in axis if station.on_path]
    items: list[Item] = []
    for (station, here), (_, there) in pairwise(on_path):
        turns: tuple[Point, ...] = ()
        if there[0] != here[0]:
            low, high = height - CONDUCTOR / 2 - 1, CONDUCTOR / 2 + 1
            between = there[0] - _AXIS - _GUTTER / 2
            turns = ((here[0], low), (between, low), (between, high), (there[0], high))
        for start, end in pairwise((here, *turns, there)):
            if station.verdict == "not measured":
                items += dashed(start, end, CONDUCTOR, "accent")
            else:
                items.append(Line(start, end, CONDUCTOR, "accent"))
    return items


def _horizontal(
    stations: Sequence[StationMark], width: float, text_scale: float, current: str | None
) -> Scene:
    slot = width / max(1, len(stations))
    middle = _PAD + BOX / 2
    words: list[Item] = []
    hits: list[Hit] = []
    axis: list[tuple[StationMark, Point]] = []
    height = 0.0
    for i, station in enumerate(stations):
        column, bottom = _column(station, slot, text_scale)
        words += placed(column, slot * i, 2 * _PAD + BOX)
        height = max(height, 3 * _PAD + BOX + bottom)
        axis.append((station, (_AXIS, slot * (i + 0.5))))
    items: list[Item] = []
    for i, station in enumerate(stations):
        hits.append(Hit(station.key, slot * i, 0, slot, height))
        if station.key == current:
            items.append(Rect(slot * i, 0, slot, height, fill="accent_tint"))
            items.append(Rect(slot * i + 2, 2, slot - 4, height - 4, stroke="accent", width=3))
    items += placed(transposed(_conductor(axis)), 0, middle - _AXIS)
    for station, (_, center) in axis:
        items += placed(transposed(symbol(station.symbol)), center - BOX / 2, _PAD)
    return Scene(width, height, (*items, *words), tuple(hits))


def _fit(text: str, size: float, room: float) -> float:
    """Return the factor on the size at which the longest word of a text is not broken."""
    longest = max((text_width(Said(word), size) for word in say(text).split()), default=0.0)
    return min(1.0, room / longest) if longest else 1.0


def _column(station: StationMark, slot: float, text_scale: float) -> tuple[list[Item], float]:
    """Words below one symbol, centered in the slot, and their height."""
    items: list[Item] = []
    y = 0.0
    parts = (
        (station.title, _TITLE, "ink"),
        (station.reading, _TITLE, "ink"),
        (station.quantity if station.reading else "", _WORD, "ink_soft"),
        (station.verdict, _WORD, color_of(station.verdict)),
    )
    for text, base, color in parts:
        size = base * text_scale * _fit(text, base * text_scale, slot - _GAP)
        if text == station.verdict:
            mark = size * 1.25
            items += placed(verdict_mark(text).items, (slot - mark) / 2, y + 3, mark / MARK)
            y += mark + 6
        for line in _lines(text, size, slot - _GAP):
            height = size * LEADING
            at = (slot / 2, y + height / 2)
            items.append(Text(at, line, size, color, "middle", "semibold"))
            y += height
    return items, y
