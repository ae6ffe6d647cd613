"""Every check that was made, by place and station: what was found against its limits."""

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import Final

from checks.assess import Row
from checks.record import SITE, Entry
from checks.verdict import Verdict, margin_words
from fieldapp.figures.marks import color_of, verdict_mark
from fieldapp.language import Said
from fieldapp.report.drawings import Drawing, drawings
from fieldapp.report.layout import LEFT, RIGHT, WIDTH
from fieldapp.report.paths import installed, path_strip, states
from fieldapp.report.sheet import LEAD, SMALL, STRONG, Para, Sheet
from fieldapp.report.table import Cell, Shaped, Table
from fieldapp.report.words import (
    Case,
    found_words,
    limits_gathered,
    sentence,
    superseded,
)

_COLUMNS: Final = (
    ("Verdict", 68.0),
    ("Check", 118.0),
    ("Found, with its uncertainty (k = 2)", 152.0),
    ("Limit here · what stands behind it", 182.0),
)
_SCALE: Final = 0.6  # a figure's unit on the page, so that its text of 16 units prints at 9.6 pt
_HALF: Final = 248.0  # half a page for a figure [pt]
_MADE: Final = (Verdict.WITHIN, Verdict.OUTSIDE, Verdict.BORDERLINE)


def readings(sheet: Sheet, case: Case, progress: Callable[[float, str], None]) -> None:
    """Set every check that was made, by place and along the path."""
    sheet.section("Every check that was made", 150)
    made = [r for r in case.assessment.rows if r.judgement.verdict in _MADE]
    code = f"{case.code.title} {case.code.edition}"
    sheet.flow(
        f"A clause that stands alone is of {code}; S1, S2 and so on are listed under Sources. "
        "Readings stand with the digits that were typed.",
        SMALL,
        "ink_soft",
    )
    if not made:
        sheet.flow("No check was made.")
    places = (SITE, *(p.id for p in case.visit.panels), *(p.id for p in case.visit.points))
    done = 0
    for subject in places:
        here = [r for r in made if r.subject == subject]
        _opening(sheet, case, subject, bool(here))
        if not here:
            continue
        with Table(sheet, _COLUMNS).open() as table:
            for station, rows in groupby(here, key=lambda r: r.station):
                table.band(station.value.capitalize())
                for row in rows:
                    done += 1
                    progress(done / len(made), f"{row.title}, {case.place(subject)}")
                    _check(table, case, row)


def _opening(sheet: Sheet, case: Case, subject: str, has_rows: bool) -> None:
    """Set a place's name, and of a charging point its path, states and figures."""
    summary = next((p for p in case.assessment.points if p.point == subject), None)
    shown = drawings(case, subject, _HALF / _SCALE)
    if not has_rows and summary is None and not shown:
        return
    if summary is None:
        sheet.heading(case.place(subject), 80)
        _figures(sheet, shown)
        return
    point = case.visit.point(subject)
    beside = tuple(states(case, summary))
    is_one = len(case.assessment.points) == 1
    width = _HALF if shown else WIDTH
    first = max([sheet.height(beside, width, 84), *(d.scene.height * _SCALE for d in shown[:1])])
    sheet.heading(f"Charging point: {summary.name}", first + (50 if is_one else 140))
    sheet.flow(installed(point))
    if not is_one:
        sheet.y += 6
        path_strip(sheet, summary, point)
    sheet.y += 6
    _figures(sheet, shown, beside)


def _figures(sheet: Sheet, shown: Sequence[Drawing], beside: Sequence[Para] = ()) -> None:
    """Set figures two in a row; words, where there are any, have the first half row."""
    narrow = [d for d in shown if d.scene.width * _SCALE <= _HALF + 1]
    tiles: list[Drawing | None] = [None, *narrow] if beside else [*narrow]
    for i in range(0, len(tiles), 2):
        _pair(sheet, tiles[i : i + 2], beside)
    for drawing in shown:
        if drawing not in narrow:
            scale = min(_SCALE, WIDTH / drawing.scene.width)
            sheet.need(LEAD.leading + 4 + drawing.scene.height * scale)
            _draw(sheet, drawing, LEFT, sheet.y, scale)
            sheet.y += LEAD.leading + 8 + drawing.scene.height * scale


def _pair(sheet: Sheet, tiles: Sequence[Drawing | None], beside: Sequence[Para]) -> None:
    width = WIDTH if len(tiles) == 1 else _HALF
    words = sheet.height(beside, width, 84)
    heights = [words if t is None else t.scene.height * _SCALE for t in tiles]
    sheet.need(max(heights) + LEAD.leading + 8)
    top = sheet.y
    for tile, x in zip(tiles, (LEFT, RIGHT - _HALF), strict=False):
        if tile is None:
            sheet.put(x, top + LEAD.size, "Circuit states", LEAD, "accent")
            sheet.y = top + LEAD.leading + 2
            sheet.paras(beside, x, width, 84)
        else:
            _draw(sheet, tile, x, top, _SCALE)
    sheet.y = top + max(heights) + LEAD.leading + 8


def _draw(sheet: Sheet, drawing: Drawing, x: float, top: float, scale: float) -> None:
    sheet.put(x, top + LEAD.size, drawing.title, LEAD, "accent")
    sheet.scene(drawing.scene, x, top + LEAD.leading + 4, scale)


def _check(table: Table, case: Case, row: Row) -> None:
    judgement = row.judgement
    word = str(judgement.verdict)
    entry = case.entries.get(row.entry) if row.entry is not None else None
    number = case.finding_numbers.get((row.check, row.subject))
    limits = [Para(said) for said in limits_gathered(judgement.limits, case.cite)]
    cells: list[Cell] = [
        [Shaped(word, style=STRONG, color=color_of(word), shape=verdict_mark(word))],
        [Para(row.title, style=STRONG)],
        tuple(_found(row)),
        limits if number is None else [Para(f"see finding {number}")],
    ]
    table.row(*(cell for cell in cells if cell), below=tuple(_recorded(case, row, entry)))


def _found(row: Row) -> Iterator[Para]:
    found = found_words(row.judgement)
    if not found:
        yield Para(sentence(row.judgement.explanation))
        return
    yield Para(found, style=STRONG)
    if row.judgement.margin is not None:
        yield Para(margin_words(row.judgement.margin))


def _recorded(case: Case, row: Row, entry: Entry | None) -> Iterator[Para]:
    """Give what was recorded for a row, as it was typed, and what it replaced."""
    is_told = not found_words(row.judgement) or (row.check, row.subject) in case.finding_numbers
    read = [] if is_told else [sentence(row.judgement.explanation)]
    seen: list[str] = []
    for label, text in case.answers(entry) if entry is not None else ():
        (seen if label == "Seen" else read).append(sentence(text))
    made = f"entry {entry.number}, {case.clock(entry.at)}" if entry else "from other entries"
    cited = "; ".join(dict.fromkeys(case.cite(s) for s in row.judgement.sources))
    rests = f"; rests on {cited}" if cited else ""
    (seen or read).append(sentence(f"{row.state}, {made}{rests}"))
    if read:
        yield Para(" ".join(read))
    if seen:
        yield Para(" ".join(seen), color="ink_soft")
    if entry is not None:
        yield from noted(entry)
    for label, text in superseded(case, row):
        yield Para(text, label, color="ink_soft")


def noted(entry: Entry) -> Iterator[Para]:
    """Give what stands beside an entry's answers: a repeat, a note, its photos."""
    if entry.after_mending:
        yield Para("Repeated after something was mended on site.")
    if entry.note:
        yield Para(Said(entry.note), "Note")
    for before in entry.notes_before:
        yield Para(Said(before), "Note before", color="ink_soft")
    if entry.photos:
        yield Para(", ".join(f"photo {photo.name[:8]}" for photo in entry.photos))
