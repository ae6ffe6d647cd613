"""Without a finger: the work goes on by the keys of a desktop alone."""

from collections.abc import Callable

from kivy.core.window import Window
from kivy.uix.textinput import TextInput

from fieldapp.walk import forms
from fieldapp.walk.forms import said
from fieldapp.widgets import CautionSheet, ListRow, NumberPad, Option, PadKey, RowList, focus
from tests.ui.driver import Ui
from tests.ui.hand import Hand
from tests.ui.keyboard import Keyboard
from tests.ui.sight import parents
from tests.ui.specimen import Specimen

Open = Callable[[str], Ui]


def test_a_whole_check_is_made_by_keys(come_up: Open) -> None:
    """Cautions read by the arrows, choices by Tab and Space, numbers by the digits."""
    ui = come_up("caution")
    keys, hand = Keyboard(ui), Hand(ui)
    assert isinstance(ui.top, CautionSheet)
    keys.read_cautions()
    before = len(hand.walk.visit.entries)
    while hand.at == "check":
        asked = hand.walk.questions.current
        if ui.all(NumberPad, ui.top):
            keys.type("210")
            assert ui.one(NumberPad).text == "210"
            keys.press("enter")
        elif ui.all(Option, ui.top):
            keys.press("tab", "space")
        else:
            raise AssertionError(asked)
        ui.rest()
    assert hand.at == "result"
    assert len(hand.walk.visit.entries) == before + 1
    keys.press_at("Next check")
    assert hand.at == "check"


def test_a_check_is_left_out_by_keys(come_up: Open) -> None:
    ui = come_up("number")
    keys, hand = Keyboard(ui), Hand(ui)
    keys.press_at("About this check")
    keys.press_at("Leave this check out")
    assert hand.at == "leave_out"
    keys.press("tab")
    ui.type("Closed wall")
    keys.press("tab", "down", "enter")
    chosen = [option.key for option in ui.all(Option) if option.chosen]
    keys.press_at("Leave it out")
    left = hand.walk.visit.entries[-1]
    assert left.check == "run.insulation"
    assert left.not_done is not None
    assert [left.not_done.reason] == chosen
    assert left.not_done.text == "Closed wall"


def test_a_text_is_written_and_taken_by_keys(come_up: Open) -> None:
    ui = come_up("form_words")
    keys = Keyboard(ui)
    keys.press("tab")
    assert keys.at.text == "Invented garage, 12 Exam"
    keys.press("end")
    ui.type("ple Street")
    keys.press("enter")
    ui.rest()
    assert said(ui.app.guide.desk.form(forms.BEGIN).entry, "site") == (
        "Invented garage, 12 Example Street"
    )


def test_tab_leaves_a_field_and_escape_goes_back(come_up: Open) -> None:
    ui = come_up("note")
    keys, hand = Keyboard(ui), Hand(ui)
    keys.press("tab")
    ui.type("A nick in the sheath")
    keys.press("tab")
    assert not ui.one(TextInput).focus
    assert keys.at is not None
    keys.press("escape")
    ui.rest()
    assert hand.at == "about"


def test_a_station_is_opened_by_keys_and_the_page_follows(come_up: Open) -> None:
    ui = come_up("path")
    keys, hand = Keyboard(ui), Hand(ui)
    keys.to("connector")
    assert keys.at.focused_key == "connector"
    keys.press("up")
    assert keys.at.focused_key == "charger"
    keys.press("enter")
    ui.rest()
    assert (hand.at, hand.guide.screen.of) == ("station", "charger")


def test_arrows_walk_the_keys_of_the_pad_as_they_lie(come_up: Open) -> None:
    ui = come_up("number")
    keys = Keyboard(ui)
    keys.to("5")
    for key, found in (("up", "2"), ("right", "3"), ("down", "6"), ("down", "9"), ("left", "8")):
        keys.press(key)
        assert isinstance(keys.at, PadKey)
        assert keys.at.text == found
    keys.press("space")
    assert ui.one(NumberPad).text == "8"


def test_a_long_list_is_one_place_and_scrolls_after_its_row(ui: Callable[..., Ui]) -> None:
    driver = ui(Specimen("list"))
    keys, page = Keyboard(driver), driver.app.root
    keys.press("tab")
    keys.press(*["down"] * 20)
    assert isinstance(keys.at, RowList)
    driver.rest()
    ringed = [row.title for row in driver.all(ListRow) if row.focused]
    assert ringed == ["Invented garage 20, charging point with a longer name"]
    keys.press("page down", "end", "enter")
    assert page.chosen == [399]
    assert keys.at is page.rows
    keys.press("tab")
    assert keys.at is not page.rows


def test_a_text_without_keys_is_scrolled_by_keys(come_up: Open) -> None:
    ui = come_up("about")
    keys, scroll = Keyboard(ui), ui.app.guide.screen.scroll
    keys.press("down")
    assert scroll.scroll_y < 1 or focus.focused(ui.top) is not None
    keys.press("end")
    assert scroll.scroll_y == 0
    keys.press("home")
    assert scroll.scroll_y == 1


def test_the_keyboard_stays_on_the_sheet_and_is_back_behind_it_after(come_up: Open) -> None:
    ui = come_up("number_signed")
    keys = Keyboard(ui)
    keys.to("Pilot-signal tester")
    under = keys.at
    keys.press("enter")
    assert isinstance(ui.top, CautionSheet)
    for _ in range(8):
        keys.press("tab")
        assert ui.top in parents(keys.at)
    keys.press("escape")
    assert keys.at is under


def test_a_touch_takes_the_ring_away(come_up: Open) -> None:
    ui = come_up("number")
    keys = Keyboard(ui)
    keys.press("tab")
    assert keys.at is not None
    ui.tap_text("5")
    assert focus.focused(ui.top) is None


def test_the_row_of_digits_types_where_its_signs_are_others(come_up: Open) -> None:
    """The key of 1 has "&" on it, unshifted, on some keyboards; its place is the same."""
    ui = come_up("number")
    Window.dispatch("on_key_down", ord("&"), 30, "&", [])
    assert ui.one(NumberPad).text == "1"
