"""The report's sentences, where no page is needed to read them."""

from checks.assess import Assessment
from checks.record import Entry, Visit, YesNoAnswer
from checks.source import Basis, Source, trade
from fieldapp.report.words import Case, sources_gathered, superseded
from tests.unit.report import matter


def earlier(visit: Visit, assessment: Assessment, latest: Entry, *before: Entry) -> list[str]:
    """Return what is said of earlier entries of the row that the latest entry made."""
    replaced = visit.model_copy(update={"entries": (*before, latest)})
    row = next(r for r in assessment.rows if r.check == latest.check)
    numbers = tuple(e.number for e in before)
    row = row.model_copy(update={"entry": latest.number, "superseded": numbers})
    return [words for _, words in superseded(Case(replaced, assessment, matter.AT, ""), row)]


def test_an_earlier_entry_is_told_by_what_the_latest_says_otherwise(
    visit: Visit, assessment: Assessment
) -> None:
    first = visit.entries[0].model_copy(update={"note": ""})
    latest = first.model_copy(update={"number": 9})
    assert earlier(visit, assessment, latest, first) == ["entry 1: answered as now"]

    cover = YesNoAnswer(input="cover_in_place", yes=True)
    changed = latest.model_copy(update={"answers": (*latest.answers[:2], cover)})
    (said,) = earlier(visit, assessment, changed, first)
    assert said.startswith("entry 1: Seen: Configuration: NEMA 14-30; ")
    assert said.endswith("Cover in place: no")


def test_the_same_numbers_at_another_time_are_another_reading(
    visit: Visit, assessment: Assessment
) -> None:
    (said,) = earlier(visit, assessment, visit.entries[2], visit.entries[1])
    assert "241.3 V, 10:18" in said
    assert "as now" not in said


def test_a_note_and_a_reason_of_an_earlier_entry_are_not_lost(
    visit: Visit, assessment: Assessment
) -> None:
    noted = visit.entries[0]
    left_out = visit.entries[4].model_copy(update={"check": noted.check})
    latest = noted.model_copy(update={"number": 9, "note": ""})
    said = earlier(visit, assessment, latest, noted, left_out)
    assert said == [
        f"entry 1: answered as now; Note: {matter.LONG_NOTE}",
        "entry 5: left out, no fit instrument here: the torque tool is at calibration",
    ]


def test_places_in_one_document_are_named_together_each_with_its_basis() -> None:
    book = Source(
        document="NEC (NFPA 70)", edition="2023", clause="110.3(B)", basis=Basis.LOOKED_UP
    )
    recalled = book.model_copy(update={"clause": "340.80", "basis": Basis.FROM_MEMORY})
    said = sources_gathered((book, trade("what electricians see"), recalled))
    assert said == (
        "NEC (NFPA 70) 2023 110.3(B), 340.80 (from memory); "
        "what electricians see (common practice, no source)"
    )
