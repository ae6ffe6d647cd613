"""A number under a finger: its limit, its margin, its doubt, its unit, its instrument."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.gallery.looks import Look  # before Kivy: it chooses the window
from tests.gallery.looks import come_up as come_up_in

from kivy.metrics import dp  # isort: skip

from checks.verdict import Verdict
from fieldapp.widgets import (
    CautionSheet,
    IconButton,
    NumberPad,
    PadKey,
    PrimaryButton,
    ValueDisplay,
    Words,
    theme,
)
from tests.gallery.walking import begin, desk_in, make, walk_to
from tests.ui.driver import Ui
from tests.ui.hand import Hand
from tests.ui.sight import box_of

Open = Callable[[str], Ui]


def test_the_limit_is_in_view_before_a_number_is_typed_and_its_margin_while_it_is(
    come_up: Open,
) -> None:
    ui = come_up("number")
    assert ui.sees("at least 1 MΩ")
    assert ui.one(NumberPad).text == ""
    ui.pad("0.40")
    assert ui.sees("outside")
    assert ui.sees("Take 0.40 MΩ")


@pytest.mark.parametrize(
    ("state", "typed", "limit"),
    [
        ("number", "0.98", "at least 1 MΩ"),
        ("number_signed", "", "−12.6 to −11.4 V"),
        ("drop_empty", "233.6", "Heat in one joint: at"),
    ],
)
@pytest.mark.parametrize("size", ["small", "landscape"])
def test_in_the_largest_text_limit_margin_and_verdict_stay_in_view_while_it_is_typed(
    state: str, typed: str, limit: str, size: str
) -> None:
    with come_up_in(Look(state, size, "day", 2.0)) as ui:
        for digit in typed:
            ui.pad(digit)
            ui.rest()
        shown = ui.one(ValueDisplay)
        assert ui._seen_box(shown) == pytest.approx(box_of(shown))
        assert shown.figure is not None
        assert ui.sees(limit)
        assert ui.sees(shown.verdict)
        assert all(min(key.size) >= dp(64) for key in ui.all(PadKey))


@pytest.mark.parametrize("size", ["small", "landscape"])
@pytest.mark.parametrize(
    ("state", "name"),
    [("number", "Line 1 to ground"), ("drop", "Outlet, loaded"), ("measuring_due", "Outlet")],
)
def test_in_the_largest_text_the_question_its_keys_and_the_number_are_in_view_while_it_is_typed(
    state: str, name: str, size: str
) -> None:
    with come_up_in(Look(state, size, "day", 2.0)) as ui:
        ui.pad("3")
        ui.rest()
        header = ui.app.guide.screen.header
        title = next(w for w in ui.all(Words, header) if w.text.startswith(name))
        value = next(w for w in ui.all(Words, ui.one(ValueDisplay)) if "3" in w.text)
        keys = ui.all(IconButton, header)
        assert len(keys) == 2
        for each in (title, value, *keys):
            assert ui._seen_box(each) == pytest.approx(box_of(each))
        assert title.height < 2 * title.font_size  # one line
        assert title.font_size > theme.px["body"] / 2  # larger than text that nobody enlarged


def test_what_is_computed_from_volts_is_drawn_against_its_own_limit_while_they_are_typed(
    come_up: Open,
) -> None:
    ui = come_up("drop_empty")
    ui.pad("233.6")
    # what it must come to is held in tests/unit/stations/test_outlet_load.py
    assert ui.sees("Heat in one joint: ")
    assert ui.sees("at most 10 W")


def test_what_is_missing_stands_beside_not_measured(come_up: Open, tmp_path: Path) -> None:
    with desk_in(tmp_path) as desk:
        walk = begin(desk)
        make(walk, "service.rating", {})
        make(walk, "service.load", {}, "demand_a")
        desk.ledger.go("check", walk.visit.id, "service.load")
    ui = come_up()
    assert not ui.sees("Still open: does a system limit the chargers.")
    ui.pad("60")  # a part of a sum: it has no limit of its own
    assert ui.sees("not measured")
    assert ui.sees("Still open: does a system limit the chargers.")


def test_a_hardly_possible_number_can_be_stood_by(come_up: Open) -> None:
    ui = come_up("drop_empty")
    ui.pad("2395")
    ui.tap_text("Take 2395 V")
    ui.tap_text("2395 V is right")
    walk = ui.app.guide.walk
    assert walk.questions.entry.answer("outlet_loaded").value == "2395"


def test_the_back_key_closes_the_question_about_a_slip_and_takes_nothing(come_up: Open) -> None:
    ui = come_up("drop_empty")
    ui.pad("2395")
    ui.tap_text("Take 2395 V")
    assert ui.back()
    assert not isinstance(ui.top, CautionSheet)
    assert ui.app.guide.walk.questions.entry.answer("outlet_loaded") is None
    assert ui.one(NumberPad).text == "2395"


def test_the_unit_is_chosen_and_goes_into_the_record_as_typed(come_up: Open) -> None:
    ui = come_up("number")
    ui.tap_text("Unit: MΩ")
    ui.tap_text("GΩ")
    ui.pad("1.200")
    ui.tap_text("Take 1.200 GΩ")
    reading = ui.app.guide.walk.questions.entry.answer("line_ground")
    assert (reading.value, reading.unit) == ("1.200", "GΩ")


def test_customary_units_are_offered_first_when_they_are_set(come_up: Open, tmp_path: Path) -> None:
    with desk_in(tmp_path) as desk:
        desk.set(is_customary=True)
        walk = begin(desk)
        walk_to(walk, "run.length")
        make(walk, "run.length", {}, "length")
        desk.ledger.go("check", walk.visit.id, "run.length")
    ui = come_up()
    ui.pad("60")
    ui.tap_text("Take 60 ft")
    entry = next(e for e in ui.app.guide.walk.visit.entries if e.check == "run.length")
    assert entry.answer("length").unit == "ft"


def test_without_a_fit_instrument_the_entry_is_not_offered_and_can_be_left_out(
    come_up: Open,
) -> None:
    ui = come_up("no_instrument")
    assert ui.sees("Not offered: no measuring tape")
    assert not ui.all(NumberPad)
    ui.tap_text("Leave this check out")
    assert ui.one(PrimaryButton).disabled
    ui.tap_text("No fit instrument here")
    Hand(ui).press_main()
    row = ui.app.guide.walk.assessment.row("panel.working_space", "p1")
    assert row.judgement.verdict is Verdict.NOT_MEASURED
    assert row.entry is not None


def test_an_instrument_is_added_where_it_is_missing_and_the_question_is_asked(
    come_up: Open,
) -> None:
    ui = come_up("no_instrument")
    ui.tap_text("Add or correct an instrument")
    ui.tap_text("Add an instrument")
    ui.tap_text("Measuring tape")
    ui.tap_text("Remove it")
    ui.tap_text("Keep it")
    (row,) = ui.app.guide.walk.visit.instruments
    assert ui.app.guide.ledger.position.of == f"visit@{row.id}"
    ui.tap_text("Done")
    ui.tap_text("Done")
    assert ui.app.guide.ledger.position.screen == "check"
    assert ui.one(NumberPad)
