"""What was corrected stands in the report, with what stood before and what it left behind."""

from io import BytesIO

from pypdf import PdfReader

from checks.assess import assess
from checks.codes import profile
from checks.record import Correction, Coupler, Site, Visit
from fieldapp.report.pages import build
from tests.builders import NOON, PANEL, POINT, Panel, entry, point, visit
from tests.unit.test_set_aside import long_run

BURNT = {"is_pitted": True}


def text_of(made: Visit) -> str:
    return " ".join(pages_of(made))


def pages_of(made: Visit) -> list[str]:
    pdf = build(made, assess(made, profile(made.code)), at=NOON, fingerprint="00" * 32)
    pages = PdfReader(BytesIO(pdf)).pages
    return [" ".join(page.extract_text().split()) for page in pages]


def corrected() -> Visit:
    """The inlet was typed wrong; the permit number and the panel's name were learned later."""
    return visit(
        site=Site(name="Invented site", permit_number="P-0000"),
        entries=(
            entry("adapter.pins", POINT, 1, **BURNT),
            entry("vehicle.inlet_condition", POINT, 2, is_pitted=False),
        ),
        corrections=(
            Correction(number=3, at=NOON, points=(point(inlet=Coupler.J3400),)),
            Correction(number=4, at=NOON, site=Site(name="Invented site")),
            Correction(number=5, at=NOON, panels=(Panel(id=PANEL, name="Panel AA"),)),
        ),
    )


def test_a_report_says_what_stood_before_and_after_each_correction():
    told = text_of(corrected())
    assert "Corrected during the visit" in told
    assert "vehicle inlet SAE J3400, by adapter" in told
    assert "Permit number: not said" in told
    assert "Permit number: P-0000" in told
    assert "Name: Panel AA" in told


def test_a_report_says_what_was_found_at_a_station_that_is_no_more():
    told = text_of(corrected())
    left = told[told.index("Made for what is not installed") :]
    assert "Adapter: pins and housing" in left
    assert "entry 1" in left
    assert "DANGER" in left.upper()[:1500] or "WARNING" in left.upper()[:1500]


def test_each_entry_that_is_left_behind_is_told_as_it_was_judged_when_it_was_made():
    made = corrected()
    adapter = entry("adapter.pins", POINT, 1, **BURNT)
    first, later = adapter, entry("adapter.pins", POINT, 2, is_pitted=False)
    told = text_of(made.model_copy(update={"entries": (first, later)}))
    left = told[told.index("Made for what is not installed") :]
    assert left.index("Pitted or bent pins") < left.index("entry 1") < left.index("entry 2")


def test_a_report_says_why_a_check_is_owed_again():
    assert "Made before the vehicle's inlet was corrected" in text_of(corrected())


def test_a_report_of_a_visit_in_which_nothing_was_corrected_says_nothing_of_it():
    assert "Corrected during the visit" not in text_of(visit())


def test_the_first_page_and_the_sign_off_tell_a_danger_that_a_correction_set_aside():
    burnt = entry("vehicle.inlet_condition", POINT, 1, has_burn_marks=True)
    made = visit(
        points=(point(inlet=None),),
        entries=(burnt,),
        corrections=(Correction(number=2, at=NOON, points=(point(inlet=Coupler.TYPE_1),)),),
    )
    first, *_ = pages = pages_of(made)
    assert "Nothing wrong was found" not in " ".join(pages)
    assert "No findings." not in first
    assert "Set aside by a correction: 1 danger." in first
    assert "set aside by a correction: Vehicle's inlet (Bay 1). It may be so yet" in first
    assert "set aside by the correction of Bay 1: Burn marks" in first
    told = " ".join(pages)
    signed = told[told.index("What is signed") :]
    assert "Set aside by a correction: 1 danger." in signed
    assert "It may be so yet" in signed
    assert "Set aside by the correction of Bay 1. It may be so yet: have it looked at." in told
    assert "Nothing was found outside or borderline" not in told


def test_what_is_a_warning_by_the_code_named_before_only_is_said_and_is_no_alarm():
    first, *_ = pages = pages_of(long_run())
    said = (
        "A danger or a warning under the code named before, and neither under the one named now: "
        "Run length (Bay 1)."
    )
    assert said in first
    told = " ".join(pages)
    assert "A warning under the code named before, and none under the one named now." in told
    assert "may be so yet" not in told
    assert "Set aside by a correction: 1 warning" not in told
