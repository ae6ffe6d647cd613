"""A block of the report: a mark with its word on the left, title and facts on the right."""

from collections.abc import Callable, Iterator, Sequence

from checks.assess import Row
from checks.record import Entry
from checks.verdict import Judgement, Severity, Verdict
from fieldapp.figures import color_of, severity_mark
from fieldapp.report.front import mark
from fieldapp.report.layout import BOTTOM, LEFT, TOP, WIDTH
from fieldapp.report.photos import Print, small_print
from fieldapp.report.sheet import LEAD, SMALL, STRONG, Para, Sheet, Style
from fieldapp.report.words import Case, limit_words, margin_words, superseded

TEXT_X = LEFT + 102
TEXT_WIDTH = WIDTH - 102
LABELS = 82.0
_TOGETHER = 0.28  # a block up to this share of a page is not torn apart
_PHOTO = (120.0, 120.0)
_SIGNAL = Style("semibold", 11.0, 14.0)


def block(
    sheet: Sheet,
    verdict: Verdict,
    paras: Sequence[Para],
    *,
    severity: Severity | None = None,
    together: float = _TOGETHER,
    after: Callable[[], None] | None = None,
) -> None:
    """Set a block; up to ``together`` of a page it is not torn apart."""
    left = 20.0 if severity is None else 46.0
    height = block_height(sheet, paras, left)
    sheet.need(height if height < together * (BOTTOM - TOP) else 110)
    sheet.rule()
    sheet.y += 6
    top = sheet.y
    page = sheet.pdf.page
    if severity is not None:
        _signal(sheet, severity, top)
    y = top if severity is None else top + 26
    mark(sheet, verdict, LEFT, y, 14)
    sheet.put(LEFT + 20, y + 10.5, verdict, STRONG, color_of(verdict))
    sheet.running = paras[0].text
    sheet.paras(paras, TEXT_X, TEXT_WIDTH, LABELS)
    if after is not None:
        after()
    sheet.running = ""
    if sheet.pdf.page == page:
        sheet.y = max(sheet.y, top + left)
    sheet.y += 6


def block_height(sheet: Sheet, paras: Sequence[Para], left: float = 46.0) -> float:
    """Height that a block takes, in points."""
    return max(left, sheet.height(paras, TEXT_WIDTH, LABELS)) + 12


def judged(judgement: Judgement) -> Iterator[Para]:
    """Give measured value, limits, margin: the numbers a verdict rests on."""
    if judgement.measured is not None:
        of = f"{judgement.measured.of}: " if judgement.measured.of else ""
        yield Para(f"{of}{judgement.measured}", "Result", STRONG, before=2)
    for i, limit in enumerate(judgement.limits):
        of = f"{limit.amount.of}: " if limit.amount.of else ""
        several = "Limits" if len(judgement.limits) > 1 else "Limit"
        yield Para(of + limit_words(limit), " " if i else several)
    if judgement.margin is not None:
        yield Para(margin_words(judgement), "Margin")


def sources(judgement: Judgement) -> Iterator[Para]:
    """Give the sources beside the limits' own."""
    if judgement.sources:
        yield Para("; ".join(str(source) for source in judgement.sources), "Source")


def grounds(judgement: Judgement) -> Iterator[Para]:
    """Give the sources beside the limits' own, and the arithmetic line by line."""
    yield from sources(judgement)
    lines = [line for limit in judgement.limits for line in limit.working]
    for i, line in enumerate(dict.fromkeys((*lines, *judgement.working))):
        yield Para(line, "Working" if i == 0 else " ", SMALL, "ink_soft")


def entered(case: Case, row: Row, entry: Entry | None) -> Iterator[Para]:
    """Give what was recorded for a row, as it was typed, and what it replaced."""
    if entry is not None:
        for label, text in case.answers(entry):
            yield Para(text, label)
        if entry.after_mending:
            yield Para("repeated after something was mended on site", "Repeat")
        if entry.note:
            yield Para(entry.note, "Note")
    for label, text in superseded(case, row):
        yield Para(text, label, color="ink_soft")


def pictures(sheet: Sheet, entry: Entry | None, photo: Callable[[str], bytes] | None) -> None:
    """Set an entry's photos in a row, each with the beginning of its hash."""
    prints = [(n, small_print(n, photo)) for n in (entry.photos if entry else ())]
    for name, found in prints:
        if found.problem:
            sheet.paras([Para(found.problem, f"Photo {name[:8]}")], TEXT_X, TEXT_WIDTH, LABELS)
    shown = [(n, p) for n, p in prints if not p.problem]
    columns = int(TEXT_WIDTH // (_PHOTO[0] + 8))
    for start in range(0, len(shown), columns):
        _picture_row(sheet, shown[start : start + columns])


def _picture_row(sheet: Sheet, shown: Sequence[tuple[str, Print]]) -> None:
    sizes = [_fitted(p) for _, p in shown]
    height = max(h for _, h in sizes)
    sheet.need(height + 18)
    sheet.y += 4
    for i, ((name, p), (w, h)) in enumerate(zip(shown, sizes, strict=True)):
        x = TEXT_X + i * (_PHOTO[0] + 8)
        sheet.picture(p.data, x, sheet.y, w, h)
        sheet.put(x, sheet.y + height + 10, f"photo {name[:8]}", SMALL, "ink_soft")
    sheet.y += height + 14


def _fitted(p: Print) -> tuple[float, float]:
    scale = min(_PHOTO[0] / p.width, _PHOTO[1] / p.height)
    return p.width * scale, p.height * scale


def _signal(sheet: Sheet, severity: Severity, top: float) -> None:
    color = color_of(severity)
    sheet.box(LEFT, top, 94, 20, fill=color)
    sheet.scene(severity_mark(severity), LEFT + 2, top + 2, 16 / 24)
    sheet.put(LEFT + 23, top + 14, severity.upper(), _SIGNAL, f"on_{color}")


def heading(sheet: Sheet, title: str, room: float = 190.0) -> None:
    """Set a heading below a section's."""
    sheet.y += 8
    sheet.need(LEAD.leading + room)
    sheet.flow(title, LEAD, "accent")
    sheet.y += 2
