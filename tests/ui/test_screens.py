"""What each screen does, at the small phone."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.ui.driver import SIZES, TextInput, Ui, window  # before Kivy: it chooses the window

from kivy.core.window import Window  # isort: skip

from checks.check import CircuitState
from checks.path import Station
from checks.record import DangerAnswer
from checks.stations.all import CHECKS
from checks.verdict import Verdict
from fieldapp.app import FieldApp
from fieldapp.screens.phrases import question_title
from fieldapp.screens.screen import Screen
from fieldapp.store.visits import Store
from fieldapp.widgets import CautionSheet, NumberPad, PrimaryButton, SceneView, theme
from tests.fakes.device import FakeDevice
from tests.gallery.states import stage
from tests.gallery.walking import begin, desk_in, make, walk_to
from tests.ui.hand import Hand

Open = Callable[[str], Ui]


@pytest.fixture
def come_up(tmp_path: Path) -> Iterator[Open]:
    """Brings the app up in one of the gallery's states."""
    running: list[Ui] = []

    def run(state: str = "") -> Ui:
        if state:
            stage(state, tmp_path)
        running.append(Ui(FieldApp(tmp_path, FakeDevice(tmp_path))))
        running[-1].settle()
        return running[-1]

    with window(SIZES["small"]):
        yield run
        for ui in running:
            ui.close()
        theme.name, theme.text_scale = "day", 1.0
    assert not [error for ui in running for error in ui.caught.seen]


def test_a_question_asked_of_several_parts_names_its_part() -> None:
    parts: dict[str, set[Station]] = {}
    for check in CHECKS:
        for asked in check.inputs:
            parts.setdefault(question_title(check, asked).lower(), set()).add(check.station)
    assert not [title for title, found in parts.items() if len(found) > 1]


def test_a_screen_that_shows_nothing_cannot_be_made() -> None:
    with pytest.raises(TypeError, match="abstract method fill"):
        Screen(None)


# -- numbers --------------------------------------------------------------------------------------
def test_the_limit_is_in_view_before_a_number_is_typed_and_its_margin_while_it_is(
    come_up: Open,
) -> None:
    ui = come_up("number")
    assert ui.sees("at least 1 MΩ")
    assert ui.one(NumberPad).text == ""
    ui.pad("0.40")
    assert ui.sees("outside")
    assert ui.sees("Take 0.40 MΩ")


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
        walk_to(walk, "charger.configuration")
        make(walk, "charger.configuration", {}, "configured_a")
        desk.go("check", walk.visit.id, "charger.configuration")
    ui = come_up()
    assert not ui.sees("Missing: ")
    ui.pad("40")
    assert ui.sees("Missing: who may change it.")


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
        desk.go("check", walk.visit.id, "run.length")
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
    assert ui.app.guide.desk.position.of == f"visit@{row.id}"
    ui.tap_text("Done")
    ui.tap_text("Done")
    assert ui.app.guide.desk.position.screen == "check"
    assert ui.one(NumberPad)


# -- safety ---------------------------------------------------------------------------------------
def test_cautions_come_before_the_first_question_and_declining_goes_back(come_up: Open) -> None:
    ui = come_up("caution")
    assert isinstance(ui.top, CautionSheet)
    assert ui.sees("WARNING")
    ui.back()
    assert ui.app.guide.desk.position.screen == "path"


def test_a_state_is_recorded_only_after_each_of_its_cautions(come_up: Open) -> None:
    ui = come_up("state_caution")
    walk = ui.app.guide.walk
    ui.tap_text("Read and understood")
    assert ui.sees("Caution 2 of 2")
    assert walk.state is None
    ui.tap_text("Read and understood")
    assert walk.state is None
    ui.tap_text("The circuit is off")
    assert walk.state is CircuitState.DEAD


def test_a_danger_interrupts_with_its_own_sheet_before_anything_goes_on(come_up: Open) -> None:
    ui = come_up("yes_no")
    ui.tap_text("Yes")
    assert ui.sees("DANGER")
    assert ui.sees("Switch the current off from a safe point")
    ui.back()
    assert ui.sees("DANGER")  # no back key answers it
    ui.tap_text("It is off, and people are away")
    assert not isinstance(ui.top, CautionSheet)
    entry = ui.app.guide.walk.questions.entry
    assert entry.answer("has_heat_marks").yes
    assert entry.danger is DangerAnswer.OFF


def test_a_danger_that_cannot_be_switched_off_has_a_way_on_that_touches_nothing(
    come_up: Open,
) -> None:
    ui = come_up("yes_no")
    ui.tap_text("Yes")
    ui.tap_text("It cannot be switched off")
    assert ui.sees("Touch nothing")
    ui.tap_text("Go back")
    ui.tap_text("It cannot be switched off")
    ui.tap_text("People are away, help is called")
    assert ui.app.guide.walk.questions.entry.danger is DangerAnswer.STAYS_ON
    hand = Hand(ui)
    hand.make_check()
    ui.tap_text("Path")
    assert ui.sees("Stay away from it until who may cut the supply has cut it.")


def test_who_opens_nothing_says_who_allows_a_charge(come_up: Open) -> None:
    ui = come_up("state_told")
    assert ui.sees("May a charge be started?")
    Hand(ui).press_main()
    Hand(ui).press_main()
    ui.tap_text("A charge runs already")
    assert ui.sees("Nobody is named.")
    ui.tap_text("Close")
    Hand(ui).write("Sam Sample")
    ui.tap_text("A charge runs already")
    last = ui.app.guide.walk.visit.states[-1]
    assert (last.state, last.brought_by, last.is_found) == ("under load", "Sam Sample", True)


def test_a_load_is_taken_back_only_after_the_charge_has_ended(come_up: Open) -> None:
    ui = come_up("state_load_off")
    ui.tap_text("Undo: circuit under load")
    assert ui.sees("Has the charge ended?")
    ui.back()
    assert ui.app.guide.walk.state is CircuitState.UNDER_LOAD
    ui.tap_text("Undo: circuit under load")
    ui.tap_text("Yes, current at zero")
    assert ui.app.guide.walk.state is CircuitState.ENERGISED


def test_a_shut_check_is_left_out_from_its_station_and_that_is_undone(come_up: Open) -> None:
    ui = come_up("station_run")
    ui.tap_text("Insulation")
    ui.tap_text("About this check")
    assert ui.sees("Not now: the circuit must be dead and proved.")
    ui.tap_text("Leave this check out")
    ui.tap_text("No access")
    Hand(ui).press_main()
    assert ui.app.guide.walk.visit.entries[-1].not_done is not None
    ui.tap_text("Undo: not left out")
    assert ui.app.guide.desk.position.screen == "station"
    assert ui.app.guide.walk.questions is None


# -- results --------------------------------------------------------------------------------------
def test_a_finding_says_limit_force_source_reason_and_remedy_and_can_be_measured_again(
    come_up: Open,
) -> None:
    ui = come_up("findings")
    ui.tap_text("Receptacle against circuit")
    for words in ("Receptacle rating: at least 50 A", "code rule · NEC (NFPA 70) 2023"):
        ui.show(ui.find_text(words))
        assert ui.sees(words)
    assert ui.find_text("Why it matters")
    assert ui.find_text("What to do")
    ui.tap_text("Mended: measure again")
    hand = Hand(ui)
    hand.make_check()
    entries = [e for e in hand.walk.visit.entries if e.check == "outlet.configuration"]
    assert [e.after_mending for e in entries] == [False, True]
    assert ui.sees("within")


def test_an_entry_is_undone_and_its_answers_changed(come_up: Open) -> None:
    ui = come_up("result_outside")
    ui.tap_text("Undo: change the answers")
    assert ui.sees("All answers")
    ui.tap_text("14-30")
    ui.tap_text("14-50")
    assert ui.app.guide.desk.position.screen == "result"
    assert ui.sees("within")


def test_a_result_that_was_left_out_never_looks_good(come_up: Open) -> None:
    ui = come_up("result_left_out")
    assert ui.sees("not measured")
    assert not ui.sees("within")


def test_the_sign_off_names_everything_that_was_not_measured(come_up: Open) -> None:
    ui = come_up("sign_off")
    missing = ui.app.guide.walk.assessment.unfinished
    assert missing
    assert ui.sees(f"{len(missing)} not measured")
    for row in missing:
        assert ui.find_text(row.title)


# -- around ---------------------------------------------------------------------------------------
def test_back_leads_from_everywhere_to_the_list_and_leaves_the_app_there(come_up: Open) -> None:
    ui = come_up("number")
    trail = []
    while ui.back():
        trail.append(ui.app.guide.desk.position.screen)
    assert trail == ["path", "visits"]


def test_a_note_is_kept_while_it_is_written(come_up: Open) -> None:
    ui = come_up("about")
    ui.tap_text("Write a note")
    ui.tap(ui.one(TextInput))
    ui.type("Lid is stiff")
    ui.seconds(0.4)
    assert ui.app.guide.walk.questions.entry.note == "Lid is stiff"


def test_a_second_charging_point_is_added_and_walked(come_up: Open) -> None:
    ui = come_up("points")
    ui.tap_text("Add a point")
    hand = Hand(ui)
    hand.fill_form(
        "handover.point",
        name="Bay 2",
        connection="level 2 hard-wired",
        connector="SAE J3400",
        inlet="no vehicle here",
    )
    assert hand.at == "path"
    assert [p.name for p in hand.walk.visit.points] == ["Bay 1", "Bay 2"]
    assert hand.walk.point.name == "Bay 2"
    assert ui.sees("Bay 2 · commissioning")


def test_settings_are_kept_and_the_theme_follows_at_once(come_up: Open) -> None:
    ui = come_up("settings")
    ui.tap_text("Outdoor")
    assert theme.name == "outdoor"
    before = theme.px["body"]
    ui.tap_text("200%")
    assert theme.px["body"] == 2 * before
    ui.tap_text("ft, °F, lbf·in")
    ui.tap_text("Done")
    settings = ui.app.guide.desk.settings
    assert (settings.theme, settings.is_customary) == ("outdoor", True)
    assert settings.text_scale == 2.0


def test_the_kit_keeps_a_serial_number_and_refuses_a_day_that_is_none(come_up: Open) -> None:
    ui = come_up("instrument")
    serial, due = ui.all(TextInput)[:2]
    ui.tap(serial)
    ui.type("SN-7")
    ui.tap(due)
    ui.type("next May")
    ui.seconds(0.4)
    assert ui.sees("Write the day as 2027-01-31")
    tool = ui.app.guide.desk.settings.instruments[0]
    assert (tool.serial, tool.calibration_due) == ("SN-7", None)


def test_a_visit_that_cannot_be_read_needs_attention_and_says_why(come_up: Open) -> None:
    ui = come_up("visits")
    ui.tap_text("Needs attention")
    assert isinstance(ui.top, CautionSheet)
    ui.tap_text("Close")
    assert ui.app.guide.desk.position.screen == "visits"


def test_a_begun_visit_is_gone_on_with_or_started_again(come_up: Open) -> None:
    ui = come_up("form_words")
    ui.back()
    ui.tap_text("New visit")
    assert ui.sees("A visit was begun and not finished")
    ui.tap_text("Go on with it")
    assert ui.one(TextInput).text == "Invented garage, 12 Exam"
    ui.back()
    ui.tap_text("New visit")
    ui.tap_text("Start again")
    assert ui.sees("Why are you here?")


def test_a_folder_that_another_process_holds_is_said_and_nothing_else_is_offered(
    come_up: Open, tmp_path: Path
) -> None:
    with Store(tmp_path):
        ui = come_up()
        assert ui.sees("It cannot open")
        assert not ui.all(PrimaryButton)


def test_settings_that_cannot_be_read_are_set_aside_and_the_app_opens(
    come_up: Open, tmp_path: Path
) -> None:
    (tmp_path / "app_state.json").write_text("{")
    ui = come_up()
    assert ui.sees("Choose the settings again")
    ui.tap_text("Close")
    assert ui.sees("No visits yet")


def test_the_two_pins_of_a_new_key_must_be_the_same(come_up: Open) -> None:
    ui = come_up("signature")
    pad = next(w for w in ui.all() if type(w).__name__ == "SignaturePad")
    x, y = pad.to_window(pad.x, pad.top)
    ui.drag([(x + 40 + 12 * i, y - 60 - 25 * (i % 2)) for i in range(12)])
    ui.tap_text("Go on")
    ui.pad("012345")
    ui.tap_text("Sign the report")
    ui.pad("012346")
    ui.tap_text("Sign the report")
    assert ui.sees("The two are not the same.")
    assert ui.app.guide.walk.seal is None


def test_the_path_stands_once_on_the_page_or_beside_it_however_the_window_is_turned(
    tmp_path: Path,
) -> None:
    stage("path", tmp_path)
    with window(SIZES["phone"]):
        ui = Ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
        try:
            for size in ("tablet", "phone", "landscape", "tablet"):
                Window.size = SIZES[size]
                ui.settle()
                diagrams = [view for view in ui.all(SceneView) if view.scene and view.scene.hits]
                assert len(diagrams) == 1, size
        finally:
            ui.close()
