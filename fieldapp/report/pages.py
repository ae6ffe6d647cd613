"""The report: from a record and its assessment to the unsigned PDF/A-3 file."""

from collections.abc import Callable, Sequence
from contextlib import closing
from datetime import datetime
from typing import Final

from checks.assess import Assessment
from checks.record import Visit, own_words
from checks.trends import PointTrend, Reinspection
from fieldapp import language
from fieldapp.language import caveat
from fieldapp.report import annex, basis
from fieldapp.report.cards import cards
from fieldapp.report.causes import causes, repeats
from fieldapp.report.corrections import corrections
from fieldapp.report.embedded import ASSESSMENT, RECORD, canonical, document
from fieldapp.report.energy import energy
from fieldapp.report.errors import ReportError
from fieldapp.report.findings import findings, foreseen, inspected_again
from fieldapp.report.front import front
from fieldapp.report.layout import FOOT, LEFT, RIGHT, WIDTH
from fieldapp.report.metadata import xmp
from fieldapp.report.photos import photos
from fieldapp.report.readings import readings
from fieldapp.report.sheet import SMALL, Sheet
from fieldapp.report.signoff import signature
from fieldapp.report.visits import over_visits
from fieldapp.report.words import DEFERENCE, Case
from fieldapp.report.work import work_in_order

# shares of the work: the checks are the long part, and photos where there are some
_CHECKS_FROM, _CHECKS_TO, _PHOTOS_FROM = 0.1, 0.6, 0.7
Progress = Callable[[float, str], None]
HASH_DIGITS: Final = 8
_TOP_LINE: Final = 30.0  # baseline of what stands above the text [pt]
_NAME_WIDTH: Final = 240.0


def build(
    visit: Visit,
    assessment: Assessment,
    *,
    at: str,
    fingerprint: str,
    photo: Callable[[str], bytes] | None = None,
    trends: Sequence[PointTrend] = (),
    again: Sequence[Reinspection] = (),
    progress: Progress | None = None,
) -> bytes:
    """Make the report, ready to be signed.

    It knows no clock: the same matter at the same time gives the same bytes.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    at : str
        When the report is made, ISO 8601 with the offset.
    fingerprint : str
        SHA-256 of the certificate that will sign it, in hexadecimal.
    photo : callable, optional
        Gives a photo's bytes by its name; without it photos are named, not printed.
    trends : sequence of PointTrend
        What changed since earlier visits; empty, and the annex says nothing of it.
    again : sequence of Reinspection
        What became of the findings that earlier visits left open.
    progress : callable, optional
        Told the share of work done, 0 to 1, and what is being done; it may raise to cancel.

    Returns
    -------
    bytes
        An unsigned PDF/A-3 file with the record and the assessment embedded.

    Raises
    ------
    ReportError
        The assessment belongs to another visit or another revision of it.
    """
    if (assessment.visit, assessment.revision) != (visit.id, visit.revision):
        raise ReportError(
            f"the assessment is of visit {assessment.visit}, revision {assessment.revision}",
            where=f"Report of visit {visit.id}, revision {visit.revision}",
            remedy="Assess the record again and make the report from that",
        )
    tell = progress or (lambda share, what: None)
    digits = fingerprint.lower().replace(":", "").replace(" ", "")
    case = Case(visit, assessment, at, digits, trends, again)
    language.keep(lambda: own_words(visit))
    with closing(Sheet(datetime.fromisoformat(at))) as sheet:
        _fill(sheet, case, photo, tell)
        tell(0.8, "Writing the file")
        made = _finished(sheet, case)
    tell(1.0, "Report made")
    return made


def _fill(
    sheet: Sheet,
    case: Case,
    photo: Callable[[str], bytes] | None,
    tell: Progress,
) -> None:
    tell(0.0, "Summary")
    front(sheet, case)
    tell(0.05, "Findings")
    findings(sheet, case)
    foreseen(sheet, case.trends)
    inspected_again(sheet, case)
    work_in_order(sheet, case)
    causes(sheet, case)
    repeats(sheet, case)
    corrections(sheet, case)
    span = _CHECKS_TO - _CHECKS_FROM
    readings(sheet, case, lambda share, what: tell(_CHECKS_FROM + span * share, what))
    tell(_CHECKS_TO, "What was not measured")
    annex.not_measured(sheet, case)
    annex.not_applicable(sheet, case)
    over_visits(sheet, case.trends)
    energy(sheet, case)
    basis.arithmetic(sheet, case)
    annex.instruments(sheet, case)
    annex.cautions(sheet, case)
    basis.code(sheet, case)
    basis.sources(sheet, case)
    tell(_PHOTOS_FROM, "Photos")
    photos(sheet, case, photo)
    cards(sheet, case)
    signature(sheet, case)
    sheet.on_every_page(lambda page, count: _edges(sheet, case, page, count))


def _edges(sheet: Sheet, case: Case, page: int, count: int) -> None:
    """Draw what stands on every page: where it belongs, what decides, and its number."""
    number = f"page {page} of {count}"
    sheet.put(RIGHT, _TOP_LINE, number, SMALL, "ink", "end")
    if page > 1:
        name = sheet.lines(f"{case.visit.site.name}, {case.visit.kind}", _NAME_WIDTH, SMALL)[0]
        sheet.put(LEFT, _TOP_LINE, name, SMALL, "ink_soft")
    if case.visit.is_invented:
        middle = (LEFT + RIGHT) / 2 + 60
        sheet.put(middle, _TOP_LINE, "INVENTED, a demonstration", SMALL, "ink", "middle")
    y = FOOT - 8
    sheet.stroke(((LEFT, y), (RIGHT, y)), 0.7, "line")
    lines = sheet.lines(f"{DEFERENCE} {caveat()}".rstrip(), WIDTH, SMALL)
    for i, line in enumerate(lines):
        sheet.put(LEFT, FOOT + 4 + i * SMALL.leading, line, SMALL, "ink_soft")
    mark = f"Visit {case.visit.id} · record …{case.record_hash[-HASH_DIGITS:]}"
    fits = sheet.width(lines[-1], SMALL) + sheet.width(mark, SMALL) < WIDTH
    row = len(lines) - 1 if fits else len(lines)
    sheet.put(RIGHT, FOOT + 4 + row * SMALL.leading, mark, SMALL, "ink", "end")


def _finished(sheet: Sheet, case: Case) -> bytes:
    pdf = sheet.pdf
    moment = datetime.fromisoformat(case.at)
    # Only the visit's id, which has plain letters: no free text where it is not compressed.
    title = f"Charging report, visit {case.visit.id}"
    pdf.set_xmp_metadata(xmp(title, case.assessment.software, moment))
    for name, model, kind, says in (
        (RECORD, case.visit, "Source", "What was seen and measured"),
        (ASSESSMENT, case.assessment, "Data", "Verdicts, limits and findings as signed"),
    ):
        pdf.embed_file(
            bytes=canonical(document(model)),
            basename=name,
            desc=says,
            mime_type="application/json",
            associated_file_relationship=kind,
            modification_date=moment,
            compress=True,
            checksum=True,
        )
    return bytes(pdf.output())
