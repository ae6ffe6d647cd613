import io
import re
from collections.abc import Iterator
from contextlib import closing
from hashlib import sha256

import pytest
import rfc8785
from pypdf import PdfReader

from checks.assess import MENDING, Assessment, work
from checks.record import Instrument, InstrumentKind, Visit
from checks.verdict import Verdict
from fieldapp.figures.scene import Scene, Text
from fieldapp.report import drawings
from fieldapp.report.drawings import Drawing
from fieldapp.report.embedded import document
from fieldapp.report.errors import ReportError
from fieldapp.report.layout import BOTTOM
from fieldapp.report.pages import build
from fieldapp.report.sheet import Sheet
from fieldapp.report.words import DEFERENCE, Case
from tests.unit.report import matter


def flat(text: str) -> str:
    return " ".join(text.split())


def words_of(pdf: bytes) -> str:
    return flat(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages))


def make(visit: Visit, assessment: Assessment) -> bytes:
    return build(visit, assessment, at=matter.AT, fingerprint="ab" * 32, photo=matter.photo)


def between(text: str, start: str, end: str) -> str:
    at = text.index(start)
    return text[at : text.index(end, at)]


@pytest.fixture(scope="module")
def text(unsigned: bytes) -> str:
    return words_of(unsigned)


def test_every_finding_is_printed_with_its_words_limit_remedy_and_signal(
    text: str, assessment: Assessment
) -> None:
    assert len(assessment.findings) == 4
    section = between(text, "What to do", "Every check that was made")
    for finding in assessment.findings:
        judgement = finding.row.judgement
        assert finding.severity.upper() in section
        assert finding.row.title in section
        assert judgement.explanation[1:] in section
        assert judgement.remedy[1:] in section
        for limit in judgement.limits:
            assert f"{limit} · {limit.force}, {limit.source}" in section


def test_the_first_page_says_what_to_do_about_each_finding_in_its_order(
    reader: PdfReader, assessment: Assessment
) -> None:
    words = flat(reader.pages[0].extract_text())
    assert "Do not use it: keep it off and locked until a licensed electrician" in words
    places = [words.index(f"{n} {f.row.title} · ") for n, f in enumerate(assessment.findings, 1)]
    assert places == sorted(places)
    for finding in assessment.findings:
        assert finding.row.judgement.remedy[1:] in words
    for row in assessment.unfinished:
        assert row.title in words[words.index("Not measured: 2.") :]


def test_the_work_stands_part_by_part_each_task_with_its_check(
    text: str, assessment: Assessment
) -> None:
    section = between(text, "Work to do", "Every check that was made")
    tasks = work(assessment)
    assert MENDING in section
    parts = [
        section.index(f"{n}. {p}") for n, p in enumerate(dict.fromkeys(t.part for t in tasks), 1)
    ]
    assert parts == sorted(parts)
    for task in tasks:
        assert task.told[1:] in section
        assert task.row.title in section


def test_findings_stand_in_the_order_of_the_assessment(text: str, assessment: Assessment) -> None:
    start = text.index("Findings by severity")
    places = [text.index(f.row.title, start) for f in assessment.findings]
    assert places == sorted(places)


def test_a_limit_from_memory_says_so(text: str) -> None:
    assert "NEC (NFPA 70) 2023 625.41 (from memory)" in text


def test_readings_are_printed_with_the_digits_that_were_typed(text: str) -> None:
    for typed in ("241.3 V", "232.4 V", "200 A", "24.0 °C", "49.5 °C"):
        assert typed in text


def test_the_reading_that_was_replaced_is_printed_too(text: str) -> None:
    assert "Earlier, 10:20: entry 2" in text
    assert "230.1 V" in text
    assert "Repeated after something was mended on site" in text


def test_what_was_not_measured_is_listed_with_its_reason_and_never_as_good(
    text: str, assessment: Assessment
) -> None:
    section = text[text.index("Not measured, and why") : text.index("Not applicable, and why")]
    for row in assessment.unfinished:
        assert row.title in section
        assert row.judgement.explanation[1:] in section
    assert "2 checks that apply have no result" in text
    made = text[text.index("Every check that was made") : text.index("Not measured, and why")]
    assert "Torque of the breaker" not in made


def test_a_visit_with_nothing_measured_never_reads_as_good(
    visit: Visit, assessment: Assessment
) -> None:
    rows = tuple(
        r.model_copy(
            update={
                "judgement": r.judgement.model_copy(
                    update={"verdict": Verdict.NOT_MEASURED, "severity": None}
                )
            }
        )
        for r in assessment.rows
    )
    empty = assessment.model_copy(
        update={"rows": rows, "findings": (), "verdict": Verdict.NOT_MEASURED}
    )
    text = words_of(make(visit, empty))
    assert "checks that apply were not made" in text
    assert "Every check that applies was made" not in text
    assert f"Not measured: {len(rows)}" in text


def test_what_does_not_apply_is_gathered_by_reason(text: str) -> None:
    section = text[text.index("Not applicable, and why") :]
    assert section.count("The charger is hard-wired") == 1
    assert "Retention of the receptacle (Bay 2, behind the ramp)" in section


def test_instruments_show_category_accuracy_calibration_and_generic_class(text: str) -> None:
    assert "CAT III up to 600 V" in text
    assert "±(% of reading + counts of the last digit)" in text
    assert "voltage: ±(0.7 % + 2 counts)" in text
    assert "2025-12-31, past due at this visit" in text
    assert "number 00417 · 4 readings" in text
    assert "Infrared thermometer 16 readings" in text
    assert "the maker's data sheet was not read" in text
    assert "none stated, a plain hand-held class is assumed; generic" in text


def test_cautions_and_states_are_printed_with_their_times(text: str) -> None:
    assert "dead and proved Entered 10:02." in text
    section = between(text, "Cautions acknowledged", "Code, and what it leaves out")
    assert "prove the meter before and after. [Bay 1: dead and proved, 10:02]" in section
    assert "stop at a smell or discoloration. [entry 4, 11:30]" in section


def test_every_page_defers_to_the_code_and_says_where_it_belongs(
    reader: PdfReader, visit: Visit
) -> None:
    count = len(reader.pages)
    record = document(visit)
    ending = sha256(rfc8785.dumps(record)).hexdigest()[-8:]
    for number, page in enumerate(reader.pages, 1):
        words = flat(page.extract_text())
        assert DEFERENCE in words
        assert f"page {number} of {count}" in words
        assert f"Visit invented-0042 · record …{ending}" in words
        assert "INVENTED, a demonstration" in words


def test_the_last_page_holds_who_signs_and_under_which_key(reader: PdfReader) -> None:
    words = flat(reader.pages[-1].extract_text())
    for said in ("Ada Example", "INV-000-17", "Invented Electric Works", "keep out of service"):
        assert said in words
    assert re.search(r"([0-9a-f]{4} ){15}[0-9a-f]{4}", words)


def test_a_draft_says_that_nobody_signed_it(visit: Visit, assessment: Assessment) -> None:
    text = words_of(make(visit.model_copy(update={"signoff": None}), assessment))
    assert "NOT SIGNED OFF" in text
    assert "none recorded" in text


def test_a_sign_that_the_typeface_lacks_is_written_as_its_code(text: str) -> None:
    assert "[U+7AEF]" in text


def test_a_photo_is_printed_and_a_lost_one_is_named(reader: PdfReader, text: str) -> None:
    images = [image for page in reader.pages for image in page.images]
    assert len(images) == 1
    assert max(images[0].image.size) == 800
    assert "not printed: the photo is not stored here" in text


def test_a_photo_says_its_check_station_and_time_and_its_mark_is_drawn_over_it(
    reader: PdfReader, text: str
) -> None:
    name = matter.PHOTO_NAME[:8]
    said = f"Photo {name}: Receptacle against its circuit · outlet, Bay 1 · 2026-03-04 10:31"
    assert said in text
    assert "the pictures are untouched" in text
    with_pictures = [page for page in reader.pages if page.images]
    assert len(with_pictures) == 1
    content = with_pictures[0].get_contents().get_data()
    # after the picture comes its clip, and in it a circle: PDF 32000-1, 8.5.2 (c), 8.5.4 (W n)
    drawn = content[content.index(b" Do") :]
    assert re.search(rb"re W n.*? c\b", drawn, re.DOTALL)


def test_a_photo_that_is_not_the_recorded_one_is_not_printed(
    visit: Visit, assessment: Assessment
) -> None:
    pdf = build(
        visit, assessment, at=matter.AT, fingerprint="", photo=lambda name: b"another picture"
    )
    assert "not printed: the file is not the one that was recorded" in words_of(pdf)


def test_no_text_is_smaller_than_nine_points(reader: PdfReader) -> None:
    sizes = {
        float(size)
        for page in reader.pages
        for size in re.findall(rb"/F\d+ ([\d.]+) Tf", page.get_contents().get_data())
    }
    assert sizes
    assert min(sizes) >= 9.0


def test_no_text_leaves_the_page(reader: PdfReader) -> None:
    def spots(page: object) -> Iterator[tuple[float, float, str]]:
        found: list[tuple[float, float, str]] = []
        page.extract_text(  # type: ignore[attr-defined]
            visitor_text=lambda text, cm, tm, font, size: found.append((tm[4], tm[5], text))
        )
        yield from found

    for page in reader.pages:
        for x, y, said in spots(page):
            if said.strip():
                assert 20 <= x <= 600, said
                assert 15 <= y <= 780, said


def test_long_words_and_notes_break_and_nothing_is_lost(
    visit: Visit, assessment: Assessment
) -> None:
    long = "x" * 900 + " " + "word " * 200 + "END"
    entries = (visit.entries[0].model_copy(update={"note": long}), *visit.entries[1:])
    text = words_of(make(visit.model_copy(update={"entries": entries}), assessment))
    assert text.replace(" ", "").count("x" * 900) == 1
    assert text.count("word") >= 200
    assert "END" in text


def test_the_same_matter_at_the_same_time_gives_the_same_bytes(
    visit: Visit, assessment: Assessment, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = make(visit, assessment)
    monkeypatch.setattr("time.time", lambda: 2_000_000_000.0)
    assert make(visit, assessment) == first


def test_another_time_gives_other_bytes(visit: Visit, assessment: Assessment) -> None:
    later = build(
        visit, assessment, at="2026-03-04T16:41:00-08:00", fingerprint="ab" * 32, photo=matter.photo
    )
    assert later != make(visit, assessment)


def test_the_assessment_of_another_revision_is_refused(
    visit: Visit, assessment: Assessment
) -> None:
    other = assessment.model_copy(update={"revision": 16})
    with pytest.raises(ReportError, match="revision 16"):
        make(visit, other)


def test_progress_rises_to_one_and_may_cancel(visit: Visit, assessment: Assessment) -> None:
    told: list[float] = []
    build(
        visit,
        assessment,
        at=matter.AT,
        fingerprint="",
        progress=lambda share, what: told.append(share),
    )
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)
    assert len(told) > 15

    class CancelledError(Exception):
        pass

    def cancel(share: float, what: str) -> None:
        if share > 0.3:
            raise CancelledError

    with pytest.raises(CancelledError):
        build(visit, assessment, at=matter.AT, fingerprint="", progress=cancel)


def test_many_points_findings_and_instruments_still_make_a_report(
    visit: Visit, assessment: Assessment
) -> None:
    many = assessment.model_copy(
        update={"findings": assessment.findings * 30, "points": assessment.points * 10}
    )
    repeated = 0
    for count in (40, 46, 52, 58):
        crowd = tuple(
            Instrument(id=f"i{n}", kind=InstrumentKind.CLAMP, name=f"Clamp {n}")
            for n in range(count)
        )
        pdf = make(visit.model_copy(update={"instruments": (*visit.instruments, *crowd)}), many)
        text = words_of(pdf)
        assert f"Clamp {count - 1}" in text
        if "What is signed" in text:  # the last page had room for it
            repeated += 1
            recap = between(text, "What is signed", "Sign-off")
            assert "Findings by severity: 30 danger, 30 warning, 30 caution, 30 notice." in recap
            assert "What to do about each is said under Findings." in recap
    assert repeated


def test_a_number_is_never_parted_from_its_unit_or_its_uncertainty() -> None:
    said = "lost at 39.6 ± 1.2 A · over 12 mm² of 6 AWG, 3.5 % of 240 V"
    with closing(Sheet(matter.MADE)) as sheet:
        for width in range(60, 300, 3):
            for line in sheet.lines(said, width):
                assert not re.search(r"(\d|±)$|^[±·]", line), (width, line)


@pytest.mark.parametrize("of", ["section", "heading"])
def test_no_title_stands_alone_at_the_foot_of_a_page(of: str) -> None:
    """What needs the room that a title was begun with is on the title's own page."""
    with closing(Sheet(matter.MADE)) as sheet:
        for left in range(90, 160):
            sheet.y = BOTTOM - left
            getattr(sheet, of)("Findings", 80.0)
            page = sheet.pdf.page
            sheet.need(80.0)
            assert sheet.pdf.page == page, left


def test_a_minus_is_printed_as_a_minus_and_a_hyphen_as_a_hyphen() -> None:
    with closing(Sheet(matter.MADE)) as sheet:
        sheet.flow("-11.98 V (-12 °C) on 2026-05-12, 14-50, CAT-3, UTC-07:00")
        (page,) = PdfReader(io.BytesIO(bytes(sheet.pdf.output()))).pages
    assert "−11.98 V (−12 °C) on 2026-05-12, 14-50, CAT-3, UTC-07:00" in flat(page.extract_text())


def test_a_figure_needs_only_its_maker_in_the_list(
    visit: Visit, assessment: Assessment, monkeypatch: pytest.MonkeyPatch
) -> None:
    def hand_drawn(case: Case, subject: str, width: float) -> Iterator[Drawing]:
        for wide in (1.0, 2.0):
            words = Text((0, 10), f"{subject}, {wide:g} times half a page", 16, "ink")
            yield Drawing(f"By hand, {subject}", Scene(width * wide, 60, (words,)))

    monkeypatch.setattr(drawings, "MAKERS", (hand_drawn,))
    text = words_of(make(visit, assessment))
    for subject in ("site", "panel-1", "bay-1", "bay-2"):
        assert text.count(f"By hand, {subject}") == 2
        assert f"{subject}, 2 times half a page" in text
    assert "Where the volts go" not in text
