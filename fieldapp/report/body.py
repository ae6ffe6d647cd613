"""Findings, charging points, and every check with its readings."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from checks.assess import Finding, PointSummary, Row, StationSummary
from checks.check import CircuitState
from checks.path import Station
from checks.record import SITE, Attachment, ChargingPoint
from checks.verdict import Verdict, VoltageStep
from fieldapp.figures import Scene, StationMark, Step, one_line, staircase
from fieldapp.report.blocks import (
    block,
    block_height,
    entered,
    grounds,
    heading,
    judged,
    pictures,
    sources,
)
from fieldapp.report.layout import BOTTOM, LEFT, RIGHT, TOP, WIDTH
from fieldapp.report.sheet import BODY, LEAD, SECTION, STRONG, Para, Sheet
from fieldapp.report.words import Case, check_title

_SCALE = 0.6  # a figure's unit on the page, so that its text of 16 units prints at 9.6 pt [pt]
_HALF = 238.0
_TOGETHER = 0.5  # a finding up to this share of a page is not torn apart
Photo = Callable[[str], bytes] | None


def findings(sheet: Sheet, case: Case) -> None:
    """Set the findings, worst first, each with what to do."""
    blocks = [(f, tuple(_finding(case, f))) for f in case.assessment.findings]
    first = block_height(sheet, blocks[0][1]) if blocks else 40.0
    sheet.section("Findings", min(first, _TOGETHER * (BOTTOM - TOP)))
    if not case.assessment.findings:
        sheet.flow("Nothing was found outside or borderline among what was measured.")
        waiting = case.count(Verdict.NOT_MEASURED)
        if waiting:
            sheet.flow(f"Not measured: {waiting}. They are listed below with the reason.")
    for finding, paras in blocks:
        verdict = finding.row.judgement.verdict
        block(sheet, verdict, paras, severity=finding.severity, together=_TOGETHER)


def _finding(case: Case, finding: Finding) -> Iterator[Para]:
    row, judgement = finding.row, finding.row.judgement
    yield Para(f"{row.title} · {case.place(row.subject)}", style=LEAD)
    yield Para(_sentence(judgement.explanation))
    yield from judged(judgement)
    for label, text in (
        ("Why it matters", judgement.why),
        ("What to do", judgement.remedy),
        ("What settles it", judgement.settles),
    ):
        if text:
            yield Para(_sentence(text), label, STRONG if label == "What to do" else BODY)
    yield from sources(judgement)


def points(sheet: Sheet, case: Case) -> None:
    """Set each charging point: its path with verdicts, where its volts go, its circuit's states."""
    for summary in case.assessment.points:
        point = case.visit.point(summary.point)
        path = one_line(_marks(summary, point), _HALF / _SCALE)
        installed = _installed(point)
        above = BODY.leading * len(sheet.lines(installed, WIDTH)) + LEAD.leading + 16
        most = BOTTOM - TOP - SECTION.leading - 5 - above
        sheet.section(f"Charging point: {summary.name}", min(path.height * _SCALE, most) + above)
        sheet.flow(installed)
        sheet.y += 8
        top, page = sheet.y, sheet.pdf.page
        scale = min(_SCALE, most / path.height)
        sheet.put(LEFT, top + LEAD.size, "The path of the current", LEAD, "accent")
        sheet.scene(path, LEFT, top + LEAD.leading + 4, scale)
        sheet.y = top
        _beside_the_path(sheet, case, summary)
        if sheet.pdf.page == page:
            sheet.y = max(sheet.y, top + LEAD.leading + 4 + path.height * scale)


def _beside_the_path(sheet: Sheet, case: Case, summary: PointSummary) -> None:
    x = RIGHT - _HALF
    stairs = _stairs(summary.staircase)
    sheet.put(x, sheet.y + LEAD.size, "Where the volts go", LEAD, "accent")
    sheet.y += LEAD.leading + 4
    if stairs is None:
        sheet.flow("No voltage was measured: no staircase.", BODY, "ink", x, _HALF)
    else:
        sheet.scene(stairs, x, sheet.y, min(_SCALE, (BOTTOM - sheet.y) / stairs.height))
        sheet.y += stairs.height * _SCALE
    sheet.y += 18
    sheet.need(80)
    sheet.flow("Circuit states", LEAD, "accent", x, _HALF)
    _states(sheet, case, summary, x)


def _installed(point: ChargingPoint) -> str:
    inlet = f"vehicle inlet {point.inlet}" if point.inlet else "no vehicle at this visit"
    parts = (
        f"Level {point.level}, {point.nominal_v} V nominal",
        str(point.attachment) if point.attachment is Attachment.HARD_WIRED else "by receptacle",
        str(point.charger_form),
        f"connector {point.connector}",
        f"{inlet}{', by adapter' if point.has_adapter else ''}",
    )
    return " · ".join(parts)


def _marks(summary: PointSummary, point: ChargingPoint) -> list[StationMark]:
    def one(station: StationSummary, on_path: bool) -> StationMark:
        symbol = str(station.station)
        if station.station is Station.OUTLET and point.attachment is Attachment.HARD_WIRED:
            symbol = "terminal"
        return StationMark(
            symbol, station.title, symbol, station.verdict, station.telling, on_path=on_path
        )

    return [one(s, True) for s in summary.path] + [one(s, False) for s in summary.beside]


def _stairs(steps: Sequence[VoltageStep]) -> Scene | None:
    typed = [v for s in steps for v in (s.no_load_v, s.loaded_v) if v]
    if not typed:
        return None
    places = max(len(v.partition(".")[2]) for v in typed)
    volts = [
        Step(s.label, *(float(v) if v else None for v in (s.no_load_v, s.loaded_v))) for s in steps
    ]
    return staircase(volts, (), _HALF / _SCALE, places=min(places, 3))


def _states(sheet: Sheet, case: Case, summary: PointSummary, x: float) -> None:
    for gate in summary.gates:
        said = _entered(case, summary.point, str(gate.state))
        if gate.waiting:
            names = ", ".join(check_title(c, case.assessment) for c in gate.waiting)
            said += f" Not open as the record stands: {names}."
        elif case.visit.role.opens:
            said += " Open: all that must stand before it does."
        sheet.paras([Para(said, str(gate.state), before=3)], x, _HALF, 88)


def _entered(case: Case, point: str, state: str) -> str:
    """Say when a circuit came into a state, and by whom where it was not the technician."""
    mine = [s for s in case.visit.states if s.point == point and s.state == state]
    said = [
        f"{'Found so' if s.is_found else 'Entered'} {case.clock(s.at)}"
        f"{f', by {s.brought_by}' if s.brought_by else ''}"
        for s in mine
    ]
    if said:
        return f"{'; '.join(said)}."
    is_unproved = state == CircuitState.DEAD and not case.visit.role.opens
    return "Not proved at this visit: nothing was opened." if is_unproved else "Not entered."


def every_check(
    sheet: Sheet, case: Case, photo: Photo, progress: Callable[[float, str], None]
) -> None:
    """Set every check that was made, by place and along the path."""
    sheet.section("Every check that was made")
    left_out = (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE)
    made = [r for r in case.assessment.rows if r.judgement.verdict not in left_out]
    if not made:
        sheet.flow("No check was made.")
    places = (SITE, *(p.id for p in case.visit.panels), *(p.id for p in case.visit.points))
    done = 0
    for subject in places:
        here = [r for r in made if r.subject == subject]
        if here:
            heading(sheet, case.place(subject))
        for row in here:
            done += 1
            progress(done / len(made), f"{row.title}, {case.place(subject)}")
            entry = case.entries.get(row.entry) if row.entry is not None else None
            block(
                sheet,
                row.judgement.verdict,
                tuple(_row(case, row)),
                after=partial(pictures, sheet, entry, photo),
            )


def _row(case: Case, row: Row) -> Iterator[Para]:
    entry = case.entries.get(row.entry) if row.entry is not None else None
    made = f"entry {entry.number}, {case.clock(entry.at)}" if entry else "from other entries"
    yield Para(row.title, style=LEAD)
    yield Para(f"{row.station.value.capitalize()} · {row.state} · {made}", color="ink_soft")
    yield Para(_sentence(row.judgement.explanation))
    yield from entered(case, row, entry)
    yield from judged(row.judgement)
    yield from grounds(row.judgement)


def _sentence(text: str) -> str:
    """Begin with a capital and end with a full stop; a sign of a unit stays as it is."""
    text = text.strip()
    if not text:
        return text
    return text[0].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
