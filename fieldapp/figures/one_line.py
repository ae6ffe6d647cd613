"""The one-line diagram: the current's path from the utility to the battery, station by station."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fieldapp.figures.marks import MARK, color_of, verdict_mark
from fieldapp.figures.scene import (
    LEADING,
    Hit,
    Item,
    Line,
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

_TITLE, _WORD, _READING = 18.0, 16.0, 28.0
_PAD, _GAP = 10.0, 8.0
_MIN_ROW = 72.0
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
    on_path : bool
        False for what stands beside the path: surroundings and handover.
    """

    key: str
    title: str
    symbol: str
    verdict: str
    reading: str = ""
    on_path: bool = True


def one_line(
    stations: Sequence[StationMark],
    width: float,
    orientation: Literal["vertical", "horizontal"] = "vertical",
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
    orientation : {"vertical", "horizontal"}
        A row a station (phone), or a column a station (wide page). Columns that would be too
        narrow for their words become rows.
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
    items: list[Item] = []
    words: list[Item] = []
    hits: list[Hit] = []
    axis: list[tuple[StationMark, float]] = []
    top = 0.0
    for station in stations:
        row = _Row(station, width, text_scale)
        if station.key == current:
            left = _LEFT - _GAP
            items.append(Rect(left, top, width - left, row.height, fill="accent_tint"))
            items.append(
                Rect(left, top + 2, width - left - 2, row.height - 4, stroke="accent", width=3)
            )
        words += placed(row.items, 0, top)
        if hits:
            words.append(Line((_LEFT, top), (width, top), 1, "rule"))
        hits.append(Hit(station.key, 0, top, width, row.height))
        axis.append((station, top + row.height / 2))
        top += row.height
    items += _conductor(axis)
    for station, middle in axis:
        items += placed(symbol(station.symbol), _AXIS - BOX / 2, middle - BOX / 2)
    return Scene(width, top, (*items, *words), tuple(hits))


class _Row:
    """Words of one station, laid out from the row's top left corner."""

    def __init__(self, station: StationMark, width: float, text_scale: float) -> None:
        self.title = _TITLE * text_scale
        self.word = _WORD * text_scale
        self.reading = _READING * text_scale
        room = width - _LEFT - _PAD
        reading_width = text_width(station.reading, self.reading)
        words = max(text_width(word, self.title) for word in station.title.split() or [""])
        verdict = max(text_width(word, self.word) for word in station.verdict.split())
        words = max(words, verdict + self.word * 1.25 + _GAP)
        beside = reading_width <= min(_SIDE_BY_SIDE * room, room - words - _GAP)
        title_room = room - (reading_width + _GAP if beside and station.reading else 0)
        self.items: list[Item] = []
        self._y = _PAD
        for line in wrapped(station.title, self.title, title_room):
            self._text(line, self.title, "ink", "semibold")
        self._verdict(station.verdict, title_room)
        if station.reading and not beside:
            for line in wrapped(station.reading, self.reading, room):
                self._text(line, self.reading, "ink", "semibold")
        self.height = max(_MIN_ROW, self._y + _PAD)
        self.items = placed(self.items, 0, (self.height - self._y - _PAD) / 2)
        if station.reading and beside:
            at = (width - _PAD - _GAP, self.height / 2)
            reading = Text(at, station.reading, self.reading, "ink", "end", "semibold")
            self.items.append(reading)

    def _text(self, line: str, size: float, color: str, weight: Literal["semibold"]) -> None:
        height = size * LEADING
        self.items.append(Text((_LEFT, self._y + height / 2), line, size, color, weight=weight))
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


def _conductor(axis: Sequence[tuple[StationMark, float]]) -> list[Item]:
    """Draw the trunk through all stations on the path."""
    on_path = [(station, middle) for station, middle in axis if station.on_path]
    items: list[Item] = []
    for (station, here), (_, there) in pairwise(on_path):
        start, end = (_AXIS, here), (_AXIS, there)
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
    axis: list[tuple[StationMark, float]] = []
    height = 0.0
    for i, station in enumerate(stations):
        column, bottom = _column(station, slot, text_scale)
        words += placed(column, slot * i, 2 * _PAD + BOX)
        height = max(height, 3 * _PAD + BOX + bottom)
        axis.append((station, slot * (i + 0.5)))
    items: list[Item] = []
    for i, station in enumerate(stations):
        hits.append(Hit(station.key, slot * i, 0, slot, height))
        if station.key == current:
            items.append(Rect(slot * i, 0, slot, height, fill="accent_tint"))
            items.append(Rect(slot * i + 2, 2, slot - 4, height - 4, stroke="accent", width=3))
    items += placed(transposed(_conductor(axis)), 0, middle - _AXIS)
    for station, center in axis:
        items += placed(transposed(symbol(station.symbol)), center - BOX / 2, _PAD)
    return Scene(width, height, (*items, *words), tuple(hits))


def _column(station: StationMark, slot: float, text_scale: float) -> tuple[list[Item], float]:
    """Words below one symbol, centered in the slot, and their height."""
    items: list[Item] = []
    y = 0.0
    parts = (
        (station.title, _TITLE, "ink"),
        (station.reading, _TITLE, "ink"),
        (station.verdict, _WORD, color_of(station.verdict)),
    )
    for text, base, color in parts:
        size = base * text_scale
        if text == station.verdict:
            mark = size * 1.25
            items += placed(verdict_mark(text).items, (slot - mark) / 2, y + 3, mark / MARK)
            y += mark + 6
        for line in wrapped(text, size, slot - _GAP) if text else ():
            height = size * LEADING
            at = (slot / 2, y + height / 2)
            items.append(Text(at, line, size, color, "middle", "semibold"))
            y += height
    return items, y
