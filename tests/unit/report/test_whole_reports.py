"""Whole reports, read from outside: nothing of the record is lost, and every page is in order."""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from random import Random

import pytest
from pypdf import PageObject, PdfReader

from checks import codes
from checks.assess import Assessment, assess, leave_behinds, work
from checks.record import Decision, Reading, Readings, Role, Visit
from checks.source import Basis
from checks.verdict import Verdict
from fieldapp import demo
from fieldapp.report.pages import build
from fieldapp.report.words import DEFERENCE, workings
from tests.builders import hard_wired, level_1, point, visit
from tests.strategies import filled, full_entry

AT = "2026-05-12T13:13:00-07:00"
_FOOT, _TOP = 56.0, 756.0  # what stands below or above is on every page [pt from the bottom]
_HALF = 396.0
CUT_OUT = ("To cut out and leave", "Test once a month")
_HEADING = 11.0  # headings are at least this large [pt]


@dataclass(frozen=True)
class Made:
    """A visit, what it means, and its report."""

    visit: Visit
    assessment: Assessment
    pdf: bytes

    @cached_property
    def pages(self) -> list[list[tuple[float, str, float]]]:
        """Height, words and size of each line of each page, without head and foot."""
        return [lines_of(page) for page in PdfReader(io.BytesIO(self.pdf)).pages]

    @cached_property
    def text(self) -> str:
        """Every word of the report; a minus, which print has a sign of its own for, as typed."""
        pages = " ".join(" ".join(words for _, words, _ in page) for page in self.pages)
        return pages.replace("\N{MINUS SIGN}", "-")


def lines_of(page: PageObject) -> list[tuple[float, str, float]]:
    spots: list[tuple[float, str, float]] = []

    def take(text: str, cm: object, tm: list[float], font: object, size: float) -> None:
        words = " ".join(text.split())
        if words and _FOOT < tm[5] < _TOP:
            spots.append((tm[5], words, size))

    page.extract_text(visitor_text=take)
    return spots


def made(record: Visit) -> Made:
    found = assess(record, codes.profile(record.code))
    return Made(record, found, build(record, found, at=AT, fingerprint="ab" * 32))


@pytest.fixture(scope="module")
def demo_visit() -> Visit:
    return demo.run()[0]


@pytest.fixture(scope="module", params=["demo", "three points", "unfinished", "empty"])
def report(request: pytest.FixtureRequest, demo_visit: Visit) -> Made:
    if request.param == "demo":
        return made(demo_visit)
    if request.param == "three points":
        gate = level_1(id="bay-3", name="Bay 3, at the gate")
        shape = visit(points=(point(), hard_wired(id="bay-2", name="Bay 2"), gate))
        return made(filled(shape, Random(4), full_entry))
    some = {"signoff": None, "states": (), "is_invented": False}
    kept = demo_visit.entries[:9] if request.param == "unfinished" else ()
    return made(demo_visit.model_copy(update={**some, "entries": kept}))


def readings_of(record: Visit) -> Iterator[Reading]:
    for entry in record.entries:
        for answer in entry.answers:
            if isinstance(answer, Reading):
                yield answer
            elif isinstance(answer, Readings):
                yield from answer.readings


def test_every_reading_is_printed_as_it_was_typed(report: Made) -> None:
    gone = {r.entry for r in report.assessment.rows if r.judgement.verdict == "not applicable"}
    dropped = {r for e in report.visit.entries if e.number in gone for r in e.answers}
    for reading in readings_of(report.visit):
        if reading not in dropped:
            assert f"{reading.value} {reading.unit}" in report.text, reading


def test_every_limit_stands_with_its_force(report: Made) -> None:
    for row in report.assessment.rows:
        for limit in row.judgement.limits:
            assert f"{limit}" in report.text, (row.check, limit)
            assert str(limit.force) in report.text


def test_every_source_is_listed_with_its_basis(report: Made) -> None:
    start = report.text.rindex("Sources NEC") if "Sources NEC" in report.text else 0
    listed = report.text[start:]
    adopted = codes.profile(report.visit.code)
    for row in report.assessment.rows:
        for source in (*row.judgement.sources, *(x.source for x in row.judgement.limits)):
            assert (source.clause or source.document) in listed, source
            if source.document != adopted.title:
                assert source.document in listed
            if source.basis in (Basis.COMMON_PRACTICE, Basis.OWN_JUDGEMENT):
                assert str(source.basis).capitalize() in listed


def test_every_check_says_what_was_found_or_why_nothing_was(report: Made) -> None:
    for row in report.assessment.rows:
        judgement = row.judgement
        assert row.title in report.text
        said = judgement.explanation
        if judgement.verdict is Verdict.NOT_MEASURED or row.check in {
            f.row.check for f in report.assessment.findings
        }:
            assert said[1:] in report.text, row.check
        if judgement.measured is not None:
            assert str(judgement.measured) in report.text, row.check


def test_every_working_can_be_followed(report: Made) -> None:
    adopted = codes.profile(report.visit.code)
    for row in report.assessment.rows:
        for line in workings(row.judgement):
            said = line.replace(f"{adopted.title} {adopted.edition} ", "")
            assert said.replace("\N{MINUS SIGN}", "-") in report.text, line


def test_what_the_code_profile_leaves_out_is_said(report: Made) -> None:
    for text in codes.profile(report.visit.code).not_covered:
        assert text in report.text


def test_no_page_but_the_last_is_less_than_half_full(report: Made) -> None:
    for number, (lines, after) in enumerate(pairwise(report.pages), 1):
        # its figures need a page's head; what is cut out is no part of what is signed
        is_broken = max(after)[1].startswith(("Charging point: ", *CUT_OUT, "What is signed"))
        if not is_broken:
            assert min(y for y, _, _ in lines) < _HALF, number


def test_no_heading_stands_alone_at_the_foot_of_a_page(report: Made) -> None:
    stations = {str(r.station).capitalize() for r in report.assessment.rows}
    for lines in report.pages:
        _, words, size = min(lines)
        assert size < _HEADING, words
        assert words not in stations | {"Verdict", "Limit here · what stands behind it"}


def test_a_table_s_head_is_repeated_on_every_page_it_goes_on_to(report: Made) -> None:
    for lines in report.pages:
        words = [text for _, text, _ in lines]
        if any(
            re.match(r"(Any state|No current|Dead and proved|Energised), entry", w) for w in words
        ):
            assert "Limit here · what stands behind it" in words


def test_every_page_defers_to_the_code(report: Made) -> None:
    for page in PdfReader(io.BytesIO(report.pdf)).pages:
        assert DEFERENCE in " ".join(page.extract_text().split())


def test_a_report_is_no_longer_than_its_visit_is_worth(report: Made) -> None:
    findings, rows = len(report.assessment.findings), len(report.assessment.rows)
    heated = sum(row.judgement.heating is not None for row in report.assessment.rows)
    pictures = sum(len(entry.photos) for entry in report.visit.entries)
    earlier = "Since earlier visits" in report.text  # a page of figures of its own
    left = leave_behinds(report.visit, report.assessment)
    cut_out = len(left.cards) / 4 + len(left.lacking) / 20 + bool(left.cards)
    listed = len(work(report.assessment)) / 20
    own = heated / 2 + pictures / 4 + earlier + cut_out + listed
    assert len(report.pages) <= 6 + findings / 4 + rows / 12 + own


def test_what_was_put_to_use_without_its_proof_is_said_first_of_all(demo_visit: Visit) -> None:
    assert demo_visit.signoff is not None
    back = demo_visit.signoff.model_copy(update={"decision": Decision.RETURN})
    entries = tuple(e for e in demo_visit.entries if e.check != "run.insulation")
    without = {"entries": entries, "signoff": back}
    text = made(demo_visit.model_copy(update=without)).text
    said = re.search("Returned to service, though this must stand [^.]*", text)
    assert said is not None
    assert "Insulation" in said[0]
    kept = {"entries": entries}
    assert "Returned to service" not in made(demo_visit.model_copy(update=kept)).text
    looked = {**without, "role": Role.INSPECTS}
    assert "Returned to service" not in made(demo_visit.model_copy(update=looked)).text


def test_times_that_cannot_be_right_are_said(demo_visit: Visit) -> None:
    assert "cannot be right" not in made(demo_visit).text
    late = demo_visit.entries[3].model_copy(update={"at": "2031-01-01T09:00:00-07:00"})
    entries = (*demo_visit.entries[:3], late, *demo_visit.entries[4:])
    text = made(demo_visit.model_copy(update={"entries": entries})).text
    assert "cannot be right beside the visit's begin and sign-off: entry 4, 2031-01-01" in text
    assert demo_visit.signoff is not None
    early = demo_visit.signoff.model_copy(update={"at": "2020-01-01T09:00:00-07:00"})
    assert "the sign-off, 2020-01-01" in made(demo_visit.model_copy(update={"signoff": early})).text


def test_a_draft_says_so_and_an_invented_one_too(report: Made) -> None:
    assert ("NOT SIGNED OFF" in report.text) == (report.visit.signoff is None)
    assert ("A demonstration" in report.text) == report.visit.is_invented
