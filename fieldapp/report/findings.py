"""Findings, worst first: what was found against what, why it matters, what to do."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from checks.assess import Finding, SetAside
from checks.trends import PointTrend, Reinspection
from checks.verdict import Severity, Verdict, margin_words
from fieldapp.figures.marks import color_of, severity_mark
from fieldapp.report.front import mark
from fieldapp.report.layout import BOTTOM, LEFT, TOP, WIDTH
from fieldapp.report.sheet import BODY, LEAD, SMALL, STRONG, Para, Sheet, Style
from fieldapp.report.words import (
    Case,
    found_words,
    limit_words,
    limits_gathered,
    sentence,
    sources_gathered,
)

_SIGNAL_WIDTH: Final = 100.0
_TEXT_X: Final = LEFT + _SIGNAL_WIDTH + 8
_TEXT_WIDTH: Final = WIDTH - _SIGNAL_WIDTH - 8
_LABELS: Final = 70.0
_TOGETHER: Final = 0.5  # a finding up to this share of a page is not torn apart
_SIGNAL: Final = Style("semibold", 11.0, 14.0)


def findings(sheet: Sheet, case: Case) -> None:
    """Set the findings, worst first, each with what to do."""
    blocks = [(f, tuple(_finding(case, n, f))) for n, f in enumerate(case.assessment.findings, 1)]
    first = _height(sheet, blocks[0][1]) if blocks else 40.0
    sheet.section("Findings", min(first, _TOGETHER * (BOTTOM - TOP)))
    aside = case.assessment.set_aside
    if not blocks:
        sheet.flow(
            "No finding stands; what was found and set aside by a correction is told here."
            if aside
            else "Nothing was found outside or borderline among what was measured."
        )
        waiting = case.count(Verdict.NOT_MEASURED)
        if waiting:
            sheet.flow(f"Not measured: {waiting}. They are listed below with the reason.")
    for finding, paras in blocks:
        _block(sheet, finding.severity, finding.row.judgement.verdict, paras)
    for each in aside:
        verdict = each.finding.row.judgement.verdict
        _block(sheet, each.severity, verdict, tuple(_aside(case, each)))


def foreseen(sheet: Sheet, trends: Sequence[PointTrend]) -> None:
    """Set, after the findings of this visit, what meets a limit before the next if it goes on."""
    for each in trends:
        if each.severity is not None:
            paras = (
                Para(f"{each.title} · {each.name}", style=LEAD),
                Para(sentence(each.explanation)),
                Para(limit_words(each.limit), "Limit", SMALL),
                Para(sentence(each.remedy), "What to do", STRONG),
            )
            _block(sheet, each.severity, None, paras)


def inspected_again(sheet: Sheet, case: Case) -> None:
    """Set what became of the findings that earlier visits left open."""
    if not case.again:
        return
    sheet.section("Findings of earlier visits", 110)
    sheet.flow(
        "Each stays open until the same check is made again at the same place. What was not "
        "inspected again may still be so.",
        SMALL,
        "ink_soft",
    )
    for each in case.again:
        paras = tuple(_again(each))
        verdict = each.now.verdict if each.now is not None else Verdict.NOT_MEASURED
        _block(sheet, each.before.severity or Severity.NOTICE, verdict, paras)


def _again(each: Reinspection) -> Iterator[Para]:
    yield Para(f"{each.title} · {each.name}", style=LEAD)
    yield Para(f"{each.found}, {each.stands[0].lower()}{each.stands[1:]}.", style=STRONG)
    yield Para(sentence(each.before.explanation), "Then")
    if each.now is not None:
        yield Para(sentence(each.now.explanation), "Now")
    else:
        yield Para(sentence(each.before.remedy), "What to do", STRONG)
    yield Para(f"{each.visit}, {each.on}", "Visit", SMALL)


def _aside(case: Case, each: SetAside) -> Iterator[Para]:
    row = each.finding.row
    yield Para(f"{row.title} · {case.place(row.subject)}", style=LEAD)
    said = f"Set aside by the correction of {each.what}. It may be so yet: have it looked at."
    if each.is_judged_anew:
        severity = each.finding.severity
        said = f"A {severity} under {each.what} named before, and none under the one named now."
    yield Para(said, case.clock(each.at), STRONG)
    yield Para(sentence(row.judgement.explanation), "Then")
    yield Para(sentence(row.judgement.remedy), "Then advised", STRONG)


def _finding(case: Case, number: int, finding: Finding) -> Iterator[Para]:
    row, judgement = finding.row, finding.row.judgement
    yield Para(f"{number}  {row.title} · {case.place(row.subject)}", style=LEAD)
    yield Para(sentence(judgement.explanation))
    found = "; ".join(filter(None, (found_words(judgement), margin_words(judgement.margin))))
    if found:
        yield Para(found, "Found", STRONG)
    for i, said in enumerate(limits_gathered(judgement.limits)):
        yield Para(said, " " if i else "Limit", SMALL)
    for label, text in (
        ("Why it matters", judgement.why),
        ("What to do", judgement.remedy),
        ("What settles it", judgement.settles),
    ):
        if text:
            yield Para(sentence(text), label, STRONG if label == "What to do" else BODY)
    if judgement.sources:
        yield Para(sources_gathered(judgement.sources), "Source", SMALL)


def _block(
    sheet: Sheet, severity: Severity, verdict: Verdict | None, paras: tuple[Para, ...]
) -> None:
    """Set a finding: signal word and verdict on the left, its words on the right."""
    height = _height(sheet, paras)
    sheet.need(height if height < _TOGETHER * (BOTTOM - TOP) else 110)
    sheet.rule()
    sheet.y += 5
    top, page = sheet.y, sheet.pdf.page
    _signal(sheet, severity, top)
    if verdict is None:
        sheet.put(LEFT, top + 35, "to come", STRONG)
    else:
        mark(sheet, verdict, LEFT, top + 25, 13)
        sheet.put(LEFT + 19, top + 35, verdict, STRONG, color_of(verdict))
    title = f"{paras[0].text}, continued"
    sheet.head = lambda: sheet.put(LEFT, sheet.y - 6, title, SMALL, "ink_soft")
    sheet.paras(paras, _TEXT_X, _TEXT_WIDTH, _LABELS)
    sheet.head = None
    if sheet.pdf.page == page:
        sheet.y = max(sheet.y, top + 40)
    sheet.y += 5


def _height(sheet: Sheet, paras: tuple[Para, ...]) -> float:
    return max(40.0, sheet.height(paras, _TEXT_WIDTH, _LABELS)) + 10


def _signal(sheet: Sheet, severity: Severity, top: float) -> None:
    color = color_of(severity)
    word = severity.upper()
    fits = sheet.width(word, _SIGNAL) <= _SIGNAL_WIDTH - 26
    style = _SIGNAL if fits else replace(_SIGNAL, size=SMALL.size)
    sheet.box(LEFT, top, _SIGNAL_WIDTH, 19, fill=color)
    sheet.scene(severity_mark(severity), LEFT + 2, top + 1.5, 16 / 24)
    sheet.put(LEFT + 22, top + 13.5, word, style, f"on_{color}")
