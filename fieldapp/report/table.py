"""Tables: a head that each page repeats, cells side by side, and a line below them in full."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final

from fieldapp.figures.scene import Scene
from fieldapp.language import Said, say
from fieldapp.report.layout import BOTTOM, LEFT, TOP
from fieldapp.report.sheet import SMALL, Para, Sheet, Style

LEADING: Final = SMALL.leading
LABEL: Final = Style("semibold", SMALL.size, LEADING)
_GUTTER: Final = 8.0  # between columns [pt]
_INDENT: Final = 14.0  # of words beside a shape [pt]
_SHAPE: Final = 10.0  # a shape's side [pt]
_TOGETHER: Final = 0.3  # a row up to this share of a page is not torn apart
_BASELINE: Final = 0.25  # of the leading, from a line's foot up to its baseline


@dataclass(frozen=True)
class Shaped(Para):
    """A paragraph with a shape before its first line."""

    shape: Scene | None = None


Cell = Sequence[Para]


@dataclass(frozen=True)
class _Line:
    x: float
    text: str
    style: Style
    color: str
    shape: Scene | None = None


class Table:
    """Rows of cells, one below the other over as many pages as they take.

    Parameters
    ----------
    sheet : Sheet
        What it is set on.
    columns : sequence of tuple
        Title and width of each column. [pt]
    """

    def __init__(self, sheet: Sheet, columns: Sequence[tuple[str, float]]) -> None:
        self.sheet = sheet
        self.columns = columns
        self.starts = [LEFT + sum(w for _, w in columns[:i]) for i in range(len(columns))]
        self.right = LEFT + sum(w for _, w in columns)
        self._band = ""
        self._next_band = ""
        self._is_headed = False

    @contextmanager
    def open(self) -> Iterator["Table"]:
        """Set the head, here and on each page that the rows within go on to."""
        self._is_headed = False
        self.sheet.head = self._head
        yield self
        self.sheet.head = None
        if self._is_headed:
            self.sheet.rule()

    def band(self, title: str) -> None:
        """Head the rows that follow with a word, here and on each page they go on to."""
        self._next_band = title

    def row(self, *cells: Cell, below: Cell = ()) -> None:
        """Set a row, and below its cells paragraphs that are as wide as the table.

        Where there are fewer cells than columns the last one takes the room of the rest.
        """
        sheet = self.sheet
        ends = [*self.starts[1 : len(cells)], self.right + _GUTTER]
        beside = [
            list(self._lines(cell, x, end - x - _GUTTER))
            for cell, x, end in zip(cells, self.starts, ends, strict=False)
        ]
        x = LEFT + _INDENT
        under = list(self._lines(below, x, self.right - x))
        most = max((len(lines) for lines in beside), default=0)
        height = (most + len(under)) * LEADING + 5
        is_whole = height < _TOGETHER * (BOTTOM - TOP)
        above = LEADING + 4 if self._next_band else 0.0
        self._band = "" if self._next_band else self._band
        head = 0 if self._is_headed else LEADING + 2
        sheet.need(head + above + (height if is_whole else 6 * LEADING))
        if not self._is_headed:
            self._head()
        self._set_band(above)
        sheet.rule()
        sheet.y += 2
        if sheet.y + most * LEADING <= BOTTOM:
            self._side_by_side(beside, most)
        else:
            self._line_by_line(beside, most)
        for line in under:
            self._advance(line)
        sheet.y += 3

    def _set_band(self, height: float) -> None:
        if not self._next_band:
            return
        sheet = self.sheet
        sheet.box(LEFT, sheet.y, self.right - LEFT, height, fill="accent_tint")
        baseline = sheet.y + 2 + LEADING * (1 - _BASELINE)
        sheet.put(LEFT + 4, baseline, self._next_band, LABEL)
        sheet.y += height
        self._band, self._next_band = self._next_band, ""

    def _side_by_side(self, cells: Sequence[Sequence[_Line]], most: int) -> None:
        """Set cell after cell, so that a reader that follows the file reads each as one text."""
        for lines in cells:
            for i, line in enumerate(lines):
                self._put(line, self.sheet.y + (i + 1) * LEADING)
        self.sheet.y += most * LEADING

    def _line_by_line(self, cells: Sequence[Sequence[_Line]], most: int) -> None:
        for i in range(most):
            self.sheet.need(LEADING)
            self.sheet.y += LEADING
            for lines in cells:
                if i < len(lines):
                    self._put(lines[i], self.sheet.y)

    def _advance(self, line: _Line) -> None:
        self.sheet.need(LEADING)
        self.sheet.y += LEADING
        self._put(line, self.sheet.y)

    def _put(self, line: _Line, foot: float) -> None:
        baseline = foot - LEADING * _BASELINE
        if line.shape is not None:
            side = _SHAPE / line.shape.height
            self.sheet.scene(line.shape, line.x - _INDENT, baseline - _SHAPE + 1.5, side)
        self.sheet.put(line.x, baseline, line.text, line.style, line.color)

    def _lines(self, cell: Cell, x: float, width: float) -> Iterator[_Line]:
        for para in cell:
            shape = para.shape if isinstance(para, Shaped) else None
            indent = _INDENT if shape is not None else 0.0
            words = Said(f"{say(para.label)}: {say(para.text)}") if para.label else para.text
            style = Style(para.style.weight, SMALL.size, LEADING)
            for n, text in enumerate(self.sheet.lines(words, width - indent, style)):
                yield _Line(x + indent, text, style, para.color, None if n else shape)

    def _head(self) -> None:
        sheet = self.sheet
        if self._band:
            x = self.right
            sheet.put(x, sheet.y - 4, f"{self._band}, continued", SMALL, "ink_soft", "end")
        titles = [sheet.lines(title, width - _GUTTER, SMALL) for title, width in self.columns]
        most = max(map(len, titles))
        for lines, x in zip(titles, self.starts, strict=True):
            for up, line in enumerate(reversed(lines)):
                sheet.put(x, sheet.y + (most - up) * LEADING - 2.5, line, SMALL, "ink_soft")
        sheet.y += most * LEADING + 2
        self._is_headed = True
