"""Small type in two columns of the same height, over as many pages as it takes."""

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Final

from fieldapp.report.layout import BOTTOM, LEFT, RIGHT, WIDTH
from fieldapp.report.sheet import SMALL, Para, Sheet, Style

_HALF: Final = (WIDTH - 20.0) / 2
_INDENT: Final = 10.0  # of a paragraph's second line and those below it [pt]
_LEAST: Final = 3  # lines that a column must hold
_FEW: Final = 8  # so few lines stand in one column

_Line = tuple[str, float, Style] | None  # words, indent and style; None is the gap between blocks


def two_columns(sheet: Sheet, blocks: Sequence[Sequence[Para]]) -> None:
    """Set blocks of paragraphs; a block's first line does not end a column."""
    lines = [line for block in blocks for line in _lines(sheet, block)][:-1]
    while lines:
        if sheet.y + _LEAST * SMALL.leading > BOTTOM:
            sheet.add_page()
        room = int((BOTTOM - sheet.y) / SMALL.leading)
        most = min(room, len(lines) if len(lines) <= _FEW else (len(lines) + 1) // 2 + 1)
        top, bottom = sheet.y, sheet.y
        for x in (LEFT, RIGHT - _HALF):
            column = list(islice(lines, _end(lines, most)))
            del lines[: len(column)]
            for i, line in enumerate(column[1:] if column and column[0] is None else column, 1):
                foot = top + i * SMALL.leading
                if line is not None:
                    words, indent, style = line
                    sheet.put(x + indent, foot - SMALL.leading * 0.25, words, style)
                bottom = max(bottom, foot)
        sheet.y = bottom


def _end(lines: Sequence[_Line], most: int) -> int:
    """Return how many lines a column takes: not ending with the first line of a block."""
    if most < len(lines) and most > 1 and _is_first(lines, most - 1):
        return most - 1
    return most


def _is_first(lines: Sequence[_Line], at: int) -> bool:
    return lines[at] is not None and lines[at - 1] is None


def _lines(sheet: Sheet, block: Sequence[Para]) -> Iterator[_Line]:
    for para in block:
        style = Style(para.style.weight, SMALL.size, SMALL.leading)
        for i, words in enumerate(sheet.lines(para.text, _HALF - _INDENT, style)):
            yield words, _INDENT if i else 0.0, style
    yield None
