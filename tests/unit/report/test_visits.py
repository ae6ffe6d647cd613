"""The annex on earlier visits: each quantity with its figure, its sentence and its limit."""

from contextlib import closing
from datetime import UTC, datetime
from io import BytesIO

from pypdf import PdfReader

from checks.assess import Assessment
from checks.record import Visit
from checks.trends import trends
from fieldapp.report.findings import foreseen
from fieldapp.report.front import by_severity
from fieldapp.report.sheet import Sheet
from fieldapp.report.visits import over_visits
from fieldapp.report.words import Case
from tests.unit.report import matter
from tests.unit.test_trends import seen


def test_what_changed_is_set_with_its_figure_its_date_and_what_to_do() -> None:
    found = trends(seen(2025, "2.00"), [seen(2024, "3.00"), seen(2023, "4.00")])
    with closing(Sheet(datetime(2025, 6, 2, tzinfo=UTC))) as sheet:
        over_visits(sheet, found)
        (page,) = PdfReader(BytesIO(bytes(sheet.pdf.output()))).pages
    text = " ".join(page.extract_text().split())

    assert "Since earlier visits" in text
    assert "visit v2023-6 of 2023-06-02" in text
    assert "Grip of the contacts · Bay 1 CAUTION" in text
    assert "if it goes on: 2026-04" in text
    assert "2024-06-02: 3.000 ± 0.073 N" in text
    assert "NFPA 99" in text


def test_what_is_to_come_stands_as_a_finding_and_is_counted_beside_them(
    visit: Visit, assessment: Assessment
) -> None:
    found = trends(seen(2025, "2.00"), [seen(2024, "3.00"), seen(2023, "4.00")])
    with closing(Sheet(datetime(2025, 6, 2, tzinfo=UTC))) as sheet:
        foreseen(sheet, found)
        (page,) = PdfReader(BytesIO(bytes(sheet.pdf.output()))).pages
    text = " ".join(page.extract_text().split())
    assert "CAUTION to come Grip of the contacts · Bay 1" in text
    assert "What to do Have it mended before 2026-04" in text

    case = Case(visit, assessment, matter.AT, "", found)
    assert by_severity(case).endswith(" To come if the trend goes on: 1 caution.")


def test_without_earlier_visits_nothing_is_said() -> None:
    with closing(Sheet(datetime(2025, 6, 2, tzinfo=UTC))) as sheet:
        over_visits(sheet, ())
        (page,) = PdfReader(BytesIO(bytes(sheet.pdf.output()))).pages
    assert page.extract_text().strip() == ""
