"""Charging points: the path of each with its verdicts, what is installed, its circuit's states."""

from collections.abc import Iterator
from typing import Final

from checks.assess import Gate, PointSummary
from checks.check import CircuitState
from checks.record import Attachment, ChargingPoint
from checks.verdict import WORST_FIRST, Verdict
from fieldapp.figures.along import station_marks
from fieldapp.figures.marks import color_of, verdict_mark
from fieldapp.figures.one_line import one_line
from fieldapp.language import Said, say
from fieldapp.report.layout import LEFT, WIDTH
from fieldapp.report.sheet import SMALL, STRONG, Para, Sheet
from fieldapp.report.table import Shaped, Table
from fieldapp.report.words import Case, check_title

_OUT: Final = 8.0  # the outer columns' own margin, which the page has already [pt]
_SCALE: Final = 0.5625  # so that the figure's text of 16 units prints at 9 pt [pt]


def path_strip(sheet: Sheet, summary: PointSummary, point: ChargingPoint) -> None:
    """Draw a path from left to right, and below it what stands beside the path."""
    marks = station_marks(summary.path, point)
    scene = one_line(marks, (WIDTH + 2 * _OUT) / _SCALE, "horizontal")
    sheet.need(scene.height * _SCALE + 2 * SMALL.leading)
    sheet.scene(scene, LEFT - _OUT, sheet.y, _SCALE)
    sheet.y += scene.height * _SCALE + SMALL.leading + 2
    x, foot = LEFT, sheet.y - 3
    for station in summary.beside:
        words = Said(f"{say(station.title)} {say(station.verdict)}")
        sheet.scene(verdict_mark(station.verdict), x, foot - 8.5, 10 / 24)
        sheet.put(x + 14, foot, words, SMALL, color_of(station.verdict))
        x += 32 + sheet.width(words, SMALL)
    sheet.put(x, foot, "stand beside the path", SMALL, "ink_soft")


def points_in_short(sheet: Sheet, case: Case) -> None:
    """List charging points with the stations that are not within, the worst verdict first."""
    if not case.assessment.points:
        sheet.flow("No charging point is recorded.")
        return
    with Table(
        sheet,
        (("Charging point", 120.0), ("Stands at", 96.0), ("Stations that are not within", 304.0)),
    ).open() as table:
        for summary in case.assessment.points:
            word = str(summary.verdict)
            table.row(
                [Para(summary.name, style=STRONG)],
                [Shaped(word, style=STRONG, color=color_of(word), shape=verdict_mark(word))],
                [Para("; ".join(_by_verdict(summary)) or "none")],
            )


def _by_verdict(summary: PointSummary) -> Iterator[str]:
    for verdict in WORST_FIRST:
        titles = [s.title for s in (*summary.path, *summary.beside) if s.verdict is verdict]
        if titles and verdict not in (Verdict.WITHIN, Verdict.NOT_APPLICABLE):
            yield f"{verdict}: {', '.join(titles)}"


def installed(point: ChargingPoint) -> str:
    """Say what is installed at a charging point."""
    none = "no vehicle at this visit" if point.is_vehicle_asked else "vehicle not asked for"
    inlet = f"vehicle inlet {point.inlet}" if point.inlet else none
    parts = (
        f"Level {point.level}, {point.nominal_v} V nominal",
        str(point.attachment) if point.attachment is Attachment.HARD_WIRED else "by receptacle",
        str(point.charger_form),
        f"connector {point.connector}",
        f"{inlet}{', by adapter' if point.has_adapter else ''}",
    )
    return " · ".join(parts)


def states(case: Case, summary: PointSummary) -> Iterator[Para]:
    """Say when a circuit came into each state, and whether that stands as the record stands."""
    for before, gate in zip((None, *summary.gates), summary.gates, strict=False):
        said = _entered(case, summary.point, str(gate.state))
        if gate.waiting:
            said += f" Not open as the record stands: {_waiting(case, before, gate)}."
        elif case.visit.role.opens:
            said += " Open: all that must stand before it does."
        yield Para(said, str(gate.state), SMALL, before=2)


def _waiting(case: Case, before: Gate | None, gate: Gate) -> str:
    """Name the checks that a state waits for; those of the state before it together."""
    common = set(before.waiting) if before is not None else set()
    if not common or before is None or not common <= set(gate.waiting):
        return ", ".join(check_title(c, case.assessment) for c in gate.waiting)
    more = [check_title(c, case.assessment) for c in gate.waiting if c not in common]
    return ", ".join((f"what {before.state} waits for", *more))


def _entered(case: Case, point: str, state: str) -> str:
    """Say when a circuit came into a state, and by whom where it was not the technician."""
    said = [
        f"{'Found so' if s.is_found else 'Entered'} {case.clock(s.at)}"
        f"{f', as told, by {s.brought_by}' if s.brought_by else ''}"
        for s in case.visit.states
        if (s.point, s.state) == (point, state)
    ]
    if said:
        return f"{'; '.join(said)}."
    is_unproved = state == CircuitState.DEAD and not case.visit.role.opens
    return "Not proved at this visit: nothing was opened." if is_unproved else "Not entered."
