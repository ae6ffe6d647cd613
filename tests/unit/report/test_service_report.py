"""The invented service call, from the same walk as a user's, read back from its report."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from checks.assess import Assessment
from checks.record import Visit
from fieldapp import demo

Made = tuple[Visit, Assessment, str]


@pytest.fixture(scope="module")
def made() -> Made:
    walked = demo.run("cottage")
    text = "\n".join(page.extract_text() for page in PdfReader(BytesIO(walked.pdf)).pages)
    return walked.visit, walked.assessment, " ".join(text.split())


def test_a_level_1_unit_and_a_kettle_on_one_circuit_are_found(made: Made) -> None:
    """Common practice, no source: together they trip a 15 A breaker within half an hour."""
    _, assessment, text = made
    (ranking,) = assessment.causes
    assert ranking.status == "proven"
    assert ranking.causes[0].cause == "shared_circuit"
    assert "Likely causes: Carport outlet" in text
    assert "Other loads on the charger's circuit · Run · proven" in text
    for words in ("Speaks for it", "Against it", "None of these", "Tests made"):
        assert words in text, words
    section = text.partition("Likely causes:")[2].partition("Before and after mending")[0]
    assert "(97 %)" not in section


def test_the_first_reading_stands_beside_the_second(made: Made) -> None:
    visit, assessment, text = made
    repeat = next(r for r in assessment.repeats if r.after.check == "run.dedicated")
    assert (repeat.before.judgement.verdict, repeat.after.judgement.verdict) == (
        "outside",
        "within",
    )
    assert {repeat.before.entry, repeat.after.entry} <= {e.number for e in visit.entries}
    assert f"Entry {repeat.before.entry}, repeated as entry {repeat.after.entry}." in text


def test_a_circuit_that_tripped_is_tested_before_a_person_decides(made: Made) -> None:
    visit, assessment, text = made
    made_checks = [e.check for e in visit.entries]
    assert made_checks.index("run.insulation") > made_checks.index("surroundings.repair")
    assert assessment.causes[0].barred == ()
    assert visit.signoff is not None
    assert visit.signoff.decision == "return to service"
    assert "DO NOT ENERGIZE" not in text
    assert "INVENTED" in text
