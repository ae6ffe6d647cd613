"""Cards to cut out and leave, on pages of their own, and what is not made yet."""

from collections.abc import Iterator
from typing import Final

from checks.assess import Card, Kind, leave_behinds
from checks.verdict import Severity
from fieldapp.figures.marks import color_of, severity_mark
from fieldapp.report.layout import LEFT, RIGHT, WIDTH
from fieldapp.report.sheet import BODY, LEAD, SMALL, STRONG, Para, Sheet, Style
from fieldapp.report.words import Case

_LABEL: Final = 252.0  # as wide as a label of 3.5 in [pt]
_GAP: Final = WIDTH - 2 * _LABEL
_INSET: Final = 10.0
_LABELS: Final = 74.0
_LARGE: Final = Style("semibold", 13.0, 17.0)
_SIGNAL: Final = Style("semibold", 8.0, 10.0)
_ROW: Final = 17.5  # height of a line to be filled in by hand [pt]
_COLUMNS: Final = (("Month", 0.0), ("Day", 52.0), ("Tripped", 92.0), ("Tested by", 144.0))


def cards(sheet: Sheet, case: Case) -> None:
    """Set the cards; nothing where there is none to make."""
    found = leave_behinds(case.visit, case.assessment)
    if found.lacking:
        sheet.section("Cards to leave, not made yet")
        for each in found.lacking:
            sheet.paras(
                [Para(f"{each.where}. {each.why}.", str(each.kind), SMALL)], label_width=130
            )
    if not found.cards:
        return
    sheet.add_page()
    sheet.section("To cut out and leave")
    sheet.flow(
        "Worded from the record, each once. Print this page on one side and cut along the lines. "
        "Paper shows the words; a marking must last where it is put, and be legible there. A card "
        "replaces no label that the maker or the listing asks for.",
        SMALL,
        "ink_soft",
    )
    sheet.y += 8
    for card in found.cards:
        if card.fill_in:
            _to_fill_in(sheet, card)
    _labels(sheet, [c for c in found.cards if not c.fill_in])
    sheet.add_page()  # what is signed is not cut up


def _labels(sheet: Sheet, made: list[Card]) -> None:
    """Set cards of label size in two columns, each as high as its words."""
    room = _LABEL - 2 * _INSET
    worded = [tuple(_words(card)) for card in made]
    worded.sort(key=lambda paras: sheet.height(paras, room, _LABELS))
    for i in range(0, len(made), 2):
        row = worded[i : i + 2]
        height = max(sheet.height(paras, room, _LABELS) for paras in row) + 2 * _INSET
        sheet.need(height)
        top = sheet.y
        for x, paras in zip((LEFT, RIGHT - _LABEL), row, strict=False):
            sheet.box(x, top, _LABEL, height, edge="ink")
            sheet.y = top + _INSET
            sheet.paras(paras, x + _INSET, room, _LABELS)
        sheet.y = top + height + _GAP


def _words(card: Card) -> Iterator[Para]:
    yield Para(card.title, style=STRONG)
    yield Para(card.goes, style=SMALL, color="ink_soft")
    for i, (label, text) in enumerate(card.lines):
        if text:
            plain = STRONG if card.kind is Kind.DIRECTORY or not label else BODY
            yield Para(text, label, plain if i or label else _LARGE, before=3)
    for source in card.sources:
        yield Para(str(source), style=SMALL, color="ink_soft", before=3)


def _to_fill_in(sheet: Sheet, card: Card) -> None:
    """Set a card for a year: what to do on the left, a line for each month on the right."""
    room = WIDTH - 2 * _INSET
    half = (room - 16) / 2
    words = tuple(_steps(card))
    beside = _signals_width(sheet, card)
    height = _signals_height(sheet, card, room - beside) + 46
    height += max(sheet.height(words, half, 54), _ROW * (len(card.fill_in) + 1)) + _INSET
    sheet.need(height)
    top = sheet.y
    sheet.box(LEFT, top, WIDTH, height, edge="ink")
    sheet.y = top + _INSET
    sheet.flow(card.title, LEAD, "ink", LEFT + _INSET, room)
    sheet.flow(card.goes, SMALL, "ink_soft", LEFT + _INSET, room)
    sheet.y += 4
    for severity, text in card.cautions:
        _caution(sheet, severity, text, beside, room - beside)
    sheet.y += 4
    below = sheet.y
    sheet.paras(words, LEFT + _INSET, half, 54)
    sheet.y = below
    _lines(sheet, card, RIGHT - _INSET - half, half)
    sheet.y = top + height + _GAP


def _steps(card: Card) -> Iterator[Para]:
    for label, text in card.lines[:1]:
        yield Para(text, label, STRONG)
    for i, step in enumerate(card.steps, 1):
        yield Para(step, str(i), before=2)
    for label, text in card.lines[1:]:
        yield Para(text, label, STRONG, before=5)
    for source in card.sources:
        yield Para(str(source), style=SMALL, color="ink_soft", before=5)


def _signals_width(sheet: Sheet, card: Card) -> float:
    """Return how far the words stand behind the signal words, the longest as it is said."""
    words = [sheet.width(severity.upper(), _SIGNAL) for severity, _ in card.cautions]
    return max(words, default=0.0) + 28


def _signals_height(sheet: Sheet, card: Card, room: float) -> float:
    return sum(
        max(14.0, BODY.leading * len(sheet.lines(text, room))) + 3 for _, text in card.cautions
    )


def _caution(sheet: Sheet, severity: Severity, text: str, beside: float, room: float) -> None:
    color, x, top = color_of(severity), LEFT + _INSET, sheet.y
    sheet.box(x, top, beside - 8, 13.5, fill=color)
    sheet.scene(severity_mark(severity), x + 1.5, top + 1, 11.5 / 24)
    sheet.put(x + 15, top + 10, severity.upper(), _SIGNAL, f"on_{color}")
    for line in sheet.lines(text, room):
        sheet.y += BODY.leading
        sheet.put(x + beside, sheet.y - BODY.leading * 0.25, line)
    sheet.y = max(sheet.y, top + 14) + 3


def _lines(sheet: Sheet, card: Card, x: float, width: float) -> None:
    for title, at in _COLUMNS:
        sheet.put(x + at, sheet.y + 11, title, SMALL, "ink_soft")
    for name in card.fill_in:
        sheet.y += _ROW
        sheet.stroke(((x, sheet.y), (x + width, sheet.y)), 0.7, "edge")
        sheet.put(x, sheet.y + 12.5, name)
    sheet.y += _ROW
    sheet.stroke(((x, sheet.y), (x + width, sheet.y)), 0.7, "edge")
