"""What changed since earlier visits: a figure and a sentence for each quantity that is followed."""

from collections.abc import Iterator, Sequence

from checks.trends import INTERVAL, PointTrend
from fieldapp.figures.trend import trend_scene
from fieldapp.report.layout import LEFT, RIGHT, WIDTH
from fieldapp.report.sheet import LEAD, SMALL, STRONG, Para, Sheet
from fieldapp.report.words import limit_words

_SCALE = 0.6  # a figure's unit on the page, so that its text of 16 units prints at 9.6 pt [pt]
_FIGURE = 238.0
_LABELS = 62.0
_GAP = 16.0


def over_visits(sheet: Sheet, trends: Sequence[PointTrend]) -> None:
    """Set what changed since earlier visits; nothing where none were given."""
    if not trends:
        return
    sheet.section("Since earlier visits", 240)
    visits = sorted({(r.on, r.visit) for each in trends for r in each.readings})
    sheet.flow(f"Compared: {'; '.join(f'visit {name} of {on}' for on, name in visits)}.")
    sheet.flow(
        "Each bar is a value with its uncertainty. Between visits the meters' errors are taken as "
        f"independent. A date is a straight line carried on, no promise; {INTERVAL}."
    )
    for each in trends:
        _one(sheet, each)


def _one(sheet: Sheet, found: PointTrend) -> None:
    scene = trend_scene(found, _FIGURE / _SCALE)
    paras = tuple(_words(found))
    width = WIDTH - _FIGURE - _GAP
    height = max(scene.height * _SCALE, sheet.height(paras, width, _LABELS)) + 12
    sheet.y += 8
    sheet.need(height)
    sheet.rule()
    top = sheet.y + 8
    sheet.scene(scene, LEFT, top, _SCALE)
    sheet.y = top
    sheet.paras(paras, RIGHT - width, width, _LABELS)
    sheet.y = max(sheet.y, top + height - 12)


def _words(found: PointTrend) -> Iterator[Para]:
    yield Para(f"{found.title} · {found.name}", style=LEAD)
    if found.severity is not None:
        yield Para(found.severity.upper(), style=STRONG, color="ink")
    yield Para(f"{found.explanation}.")
    if found.remedy:
        yield Para(f"{found.remedy}.", "What to do", STRONG, before=3)
    yield Para(limit_words(found.limit), "Limit", before=3)
    for i, each in enumerate(found.readings):
        yield Para(f"{each.on}: {each.amount}", "Found" if i == 0 else " ", SMALL)
