"""Power, range and time at each charging point, and the night's sharing plan of each group."""

from collections.abc import Iterator
from typing import Final

from checks.assess import Expected, NightPlan, Refused, expected, nights, notes
from checks.assess.energy import NO_PROMISE
from fieldapp.figures.night import night_scene
from fieldapp.report.layout import BOTTOM, LEFT, RIGHT, TOP, WIDTH
from fieldapp.report.sheet import LEAD, SMALL, STRONG, Para, Sheet
from fieldapp.report.words import Case, sentence

_SCALE: Final = 0.6  # a figure's unit on the page, so that its text of 16 units prints at 9.6 pt
_FIGURE: Final = 292.0
_GAP: Final = 16.0
_LABELS: Final = 62.0
_STRIPS: Final = 7  # of one figure, so that it finds room on a page; more go on in the next


def energy(sheet: Sheet, case: Case) -> None:
    """Set what each point gives and how each group shares; nothing where there are no numbers.

    Why there are none stands in the findings, the decision, and what was not measured.
    """
    found = expected(case.visit, case.assessment)
    plans = nights(case.visit, case.assessment)
    if not any(isinstance(each, Expected) for each in found):
        return
    sheet.section("Power, range and time")
    sheet.flow(NO_PROMISE, STRONG)
    for each in found:
        if isinstance(each, Expected):
            _together(sheet, tuple(_point(each)))
    for plan in plans:
        if isinstance(plan, NightPlan):
            _night(sheet, plan)
    refused = [each for each in (*found, *plans) if isinstance(each, Refused)]
    if refused:
        _together(sheet, tuple(_refused(refused)))
    sheet.y += 6
    for note in notes(found, plans):
        sheet.flow(sentence(note), SMALL, "ink_soft")


def _together(sheet: Sheet, paras: tuple[Para, ...]) -> None:
    sheet.y += 6
    sheet.need(sheet.height(paras, WIDTH, _LABELS))
    sheet.paras(paras, label_width=_LABELS)


def _point(found: Expected) -> Iterator[Para]:
    yield Para(found.name, style=LEAD)
    for label, text in found.lines:
        yield Para(text, label, SMALL if label != "Power" else STRONG)


def _refused(refused: list[Refused]) -> Iterator[Para]:
    yield Para("Not worked out", style=LEAD)
    for each in refused:
        yield Para(sentence(each.why), each.name, SMALL)


def _night(sheet: Sheet, plan: NightPlan) -> None:
    """Set the figure on the left, in parts where it has many strips, and its words beside it."""
    paras = tuple(_words(plan))
    width = WIDTH - _FIGURE - _GAP
    for first in range(0, len(plan.shares), _STRIPS):
        part = plan.model_copy(update={"shares": plan.shares[first : first + _STRIPS]})
        scene = night_scene(part, _FIGURE / _SCALE)
        drawn = scene.height * _SCALE
        beside = () if first else paras
        height = max(drawn, sheet.height(beside, width, _LABELS)) + 12
        sheet.y += 8
        sheet.need(min(height, BOTTOM - TOP))
        sheet.rule()
        top = sheet.y + 8
        sheet.scene(scene, LEFT, top, _SCALE)
        sheet.y = top
        sheet.paras(beside, RIGHT - width, width, _LABELS)
        sheet.y = max(sheet.y, top + drawn)


def _words(plan: NightPlan) -> Iterator[Para]:
    yield Para("The night's sharing plan", style=LEAD)
    yield Para(plan.where, style=SMALL, color="ink_soft")
    for outcome in plan.outcomes:
        yield Para(outcome, style=STRONG, before=3)
    for text in plan.rests_on:
        yield Para(text, style=SMALL, before=4)
