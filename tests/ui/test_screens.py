"""What each screen does, at the small phone."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.ui.driver import TextInput, Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from kivy.core.window import Window  # isort: skip
from kivy.metrics import dp  # isort: skip

from checks.path import Station
from checks.stations.all import CHECKS
from checks.verdict import Severity
from fieldapp.app import FieldApp
from fieldapp.screens.phrases import sentences
from fieldapp.screens.screen import Screen
from fieldapp.screens.trade_phrases import question_title
from fieldapp.store.visits import Store
from fieldapp.widgets import (
    Actions,
    CautionSheet,
    KeyButton,
    PrimaryButton,
    SceneView,
    YesNo,
    theme,
)
from fieldapp.widgets.photos import PhotoKey
from tests.fakes.device import FakeDevice
from tests.gallery.looks import Look
from tests.gallery.looks import come_up as come_up_in
from tests.gallery.states import stage
from tests.gallery.touches import TOUCHED
from tests.ui.hand import Hand
from tests.ui.sight import box_of

Open = Callable[[str], Ui]


def test_a_question_asked_of_several_parts_names_its_part() -> None:
    parts: dict[str, set[Station]] = {}
    for check in CHECKS:
        for asked in check.inputs:
            parts.setdefault(question_title(check, asked).lower(), set()).add(check.station)
    assert not [title for title, found in parts.items() if len(found) > 1]


def test_a_screen_that_shows_nothing_cannot_be_made() -> None:
    with pytest.raises(TypeError, match="abstract method fill"):
        Screen(None)


def test_what_is_to_be_done_is_told_step_by_step() -> None:
    told = "Null the leads. Read 3.5 A, 6 AWG etc. at the far end. ¿Se ve? Écarter le 6-50."
    steps = [
        "Null the leads.",
        "Read 3.5 A, 6 AWG etc. at the far end.",
        "¿Se ve?",
        "Écarter le 6-50.",
    ]
    assert sentences(told) == steps


@pytest.mark.parametrize("state", ["path_new", "on_to_path"])
def test_the_path_shows_four_stations_without_a_scroll_on_the_small_phone(
    come_up: Open, state: str
) -> None:
    ui = come_up(TOUCHED[state][0] if state in TOUCHED else state)
    if state in TOUCHED:
        TOUCHED[state][1](ui)
        ui.tap_text("Back")
    view = next(v for v in ui.all(SceneView) if v.scene and v.scene.hits)
    low, high = ui._seen_box(view)[1], ui._seen_box(view)[3]
    boxes = [view.window_box(hit.key) for hit in view.scene.hits]
    assert sum(low - 1 <= box[1] and box[3] <= high + 1 for box in boxes) >= 4


def test_a_danger_takes_no_fact_off_the_path(come_up: Open) -> None:
    ui = come_up("path_long")
    walk = ui.app.guide.walk
    done, total = walk.progress
    again = sum(step.is_stale for step in walk.steps)
    assert ui.sees("DANGER")
    assert again
    assert ui.sees(f"{done} of {total} entered · {again} to repeat")


@pytest.mark.parametrize(
    "state",
    [
        "findings",
        "work",
        "about",
        "sign_off",
        "report",
        "result_outside",
        "state_refused",
        "installed",
        "installed_here",
        "points",
        "station",
        "station_causes",
    ],
)
def test_the_key_to_the_path_is_called_the_same_and_comes_first_everywhere(
    come_up: Open, state: str
) -> None:
    ui = come_up(state)
    row = ui.one(Actions)
    first = ui.all(KeyButton, row)[0]
    assert first.text == "Path"
    ui.tap(first)
    assert ui.app.guide.ledger.position.screen == "path"


def test_a_station_leads_to_the_check_that_is_open_there(come_up: Open) -> None:
    ui = come_up("path_new")
    guide = ui.app.guide
    first = guide.walk.next_step.row
    guide.go("station", first.station.value)
    ui.rest()
    main = ui.one(PrimaryButton)
    assert main.text == f"Next: {first.title}"
    ui.tap(main)
    at = guide.ledger.position
    assert (at.screen, at.of) == ("check", first.check)


def test_after_a_danger_a_station_leads_to_the_work(come_up: Open) -> None:
    ui = come_up("station_long")
    assert Severity.DANGER in ui.app.guide.walk.severities
    assert ui.one(PrimaryButton).text == "Work to do"


@pytest.mark.parametrize("text_scale", [1.0, 2.0])
def test_the_key_to_the_question_before_stands_left_and_the_photos_right_in_one_row(
    text_scale: float,
) -> None:
    with come_up_in(Look("yes_no", "small", "day", text_scale)) as ui:
        ui.tap_text("None seen")
        ui.rest()
        previous = ui.find_text("Previous")
        (photos,) = [
            w
            for w in ui.all((PhotoKey, KeyButton), ui.one(Actions))
            if isinstance(w, PhotoKey) or w.icon == "camera"
        ]
        before, after = box_of(previous), box_of(photos)
        assert before[2] < after[0]
        assert before[1] < after[3]
        assert after[1] < before[3]
        assert min(previous.height, photos.height) >= dp(64)


def test_answers_that_say_what_is_seen_have_the_sound_one_first(come_up: Open) -> None:
    ui = come_up("yes_no_seen")
    assert [o.text for o in reversed(ui.one(YesNo).children)] == [
        "Clean and dry",
        "Wet or corroded",
    ]
    ui.tap_text("Clean and dry")
    made = [e for e in ui.app.guide.walk.visit.entries if e.check == "outlet.damage"]
    assert made[-1].answer("is_wet").yes is False


def test_back_leads_from_everywhere_to_the_list_and_leaves_the_app_there(come_up: Open) -> None:
    ui = come_up("number")
    trail = []
    while ui.back():
        trail.append(ui.app.guide.ledger.position.screen)
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
    ui.tap_text("Add a charging point")
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
    assert ui.sees("Bay 2 · state not recorded · ")  # under a danger its state, for the kind


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
    assert ui.app.guide.ledger.position.screen == "visits"


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
    for _ in ("technician", "witness"):
        Hand(ui).draw()
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
