"""The kit under a finger: what a touch does, what a key does, and whether everything fits."""

import pytest

from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.scene import text_width
from fieldapp.figures.signature import SIGNATURE_ASPECT
from fieldapp.theme import PALETTES
from fieldapp.walk.numbers import press
from fieldapp.widgets import (
    CautionSheet,
    ChoiceList,
    NumberPad,
    Page,
    PrimaryButton,
    RowList,
    SceneView,
    SecondaryButton,
    SignaturePad,
    TextEntry,
    ValueDisplay,
    Words,
    theme,
)
from tests.ui.driver import App, Window
from tests.ui.loop import SIZES, window
from tests.ui.specimen import PAGES, Specimen, caution_sheet


class Alone(App):
    """A page with one widget on it."""

    def __init__(self, widget):
        super().__init__()
        self.widget = widget

    def build(self):
        page = Page(title="Alone")
        page.add_widget(self.widget)
        return page


# -- the number pad


def test_the_pad_types_what_is_touched(ui):
    driver = ui(Specimen("reading"))
    driver.pad("2.95")
    assert driver.one(NumberPad).text == "2.95"
    assert driver.sees("2.95")


def test_backspace_takes_back_one_sign(ui):
    driver = ui(Specimen("reading"))
    driver.pad("12.")
    back = next(k for k in driver.one(NumberPad).walk() if getattr(k, "does", "") == "back")
    driver.tap(back)
    driver.tap(back)
    assert driver.one(NumberPad).text == "1"


def test_the_verdict_follows_the_digits_with_its_word(ui):
    driver = ui(Specimen("reading"))
    assert driver.sees("not measured")
    driver.pad("2")
    assert driver.sees("within")
    driver.pad(".9")
    assert driver.sees("borderline")
    driver.pad("9")
    driver.key("backspace")
    driver.key("backspace")
    driver.key("backspace")
    driver.pad("5")
    assert driver.sees("outside")


def test_the_limit_is_in_view_before_anything_is_typed(ui, size):
    driver = ui(Specimen("reading"))
    driver.settle()
    assert driver.sees("at most 3.0 %")


def test_the_pad_takes_a_keyboard_too(ui):
    driver = ui(Specimen("reading"))
    done = []
    driver.one(PrimaryButton).bind(on_release=done.append)
    for key in ("2", "3", ",", "5"):
        driver.key(key)
    driver.key("enter")
    assert driver.one(NumberPad).text == "23.5"
    assert len(done) == 1


def test_a_count_has_no_decimal_mark(ui):
    driver = ui(Alone(NumberPad(press, has_point=False)))
    driver.tap_text("4")
    driver.tap_text(".")
    assert driver.one(NumberPad).text == "4"


def test_the_decimal_mark_is_the_users_and_the_text_keeps_a_point(ui):
    driver = ui(Alone(NumberPad(press, mark=",")))
    driver.pad("4,2")
    assert driver.one(NumberPad).text == "4.2"


def test_a_long_value_shrinks_instead_of_being_cut(ui):
    driver = ui(Alone(ValueDisplay(text="1234567", unit="kWh")))
    driver.settle()
    assert not driver.clipped_labels()


# -- choices


def test_nothing_is_chosen_beforehand_and_a_touch_chooses(ui):
    driver = ui(Specimen("choice"))
    page = driver.app.root
    assert page.choice.selected is None
    assert page.yes_no.selected is None
    driver.tap_text("6-50")
    driver.tap_text("No")
    assert page.choice.selected == "6-50"
    assert page.yes_no.selected == "no"


def test_a_second_touch_changes_the_choice_and_only_one_is_chosen(ui):
    driver = ui(Specimen("choice"))
    choice = driver.app.root.choice
    driver.tap_text("6-50")
    driver.tap_text("5-20")
    assert [option.text for option in choice.children if option.chosen] == ["5-20"]


def test_a_choice_reports_its_key_once(ui):
    choice = ChoiceList(options=[("a", "First"), ("b", "Second")])
    told = []
    choice.bind(on_choice=lambda _, key: told.append(key))
    driver = ui(Alone(choice))
    driver.tap_text("Second")
    assert told == ["b"]


# -- the signature


def paper_point(pad, x, y):
    paper = pad.ids.paper
    left, top = paper.to_window(paper.x, paper.top)
    return left + x * paper.width, top - y * paper.width


def test_a_drag_becomes_a_stroke_in_shares_of_the_width(ui):
    driver = ui(Specimen("sign"))
    pad = driver.one(SignaturePad)
    driver.drag([paper_point(pad, 0.1, 0.1), paper_point(pad, 0.8, 0.3)])
    assert len(pad.strokes) == 1
    assert pad.strokes[0][0] == pytest.approx((0.1, 0.1), abs=0.01)
    assert pad.strokes[0][-1] == pytest.approx((0.8, 0.3), abs=0.01)


def test_a_stroke_that_leaves_the_paper_stays_on_its_edge(ui):
    driver = ui(Specimen("sign"))
    pad = driver.one(SignaturePad)
    driver.drag([paper_point(pad, 0.5, 0.2), paper_point(pad, 0.5, 0.9)])
    assert max(y for _, y in pad.strokes[0]) == pytest.approx(SIGNATURE_ASPECT)


def test_undo_takes_back_one_stroke_and_clear_all(ui):
    driver = ui(Specimen("sign"))
    pad = driver.one(SignaturePad)
    for y in (0.1, 0.2, 0.3):
        driver.drag([paper_point(pad, 0.1, y), paper_point(pad, 0.6, y)])
    driver.tap_text("Undo stroke")
    assert len(pad.strokes) == 2
    driver.tap_text("Clear")
    assert pad.strokes == []


def test_the_signature_is_drawn_where_the_finger_went(ui):
    driver = ui(Specimen("sign"))
    pad = driver.one(SignaturePad)
    driver.drag([paper_point(pad, 0.1, 0.2), paper_point(pad, 0.9, 0.2)])
    x, y = paper_point(pad, 0.5, 0.2)
    near = [
        driver.pixels().getpixel((round(x), round(Window.height - y) + d)) for d in range(-3, 4)
    ]
    assert min(sum(pixel) for pixel in near) < 200  # ink on paper


# -- cautions


def test_a_caution_keeps_touches_from_the_page_until_it_is_acknowledged(ui):
    driver = ui(Specimen("reading"))
    pad, answers = driver.one(NumberPad), []
    caution_sheet(answers).open()
    driver.settle()
    for key in pad.walk():
        if getattr(key, "does", "") == "5":
            driver.tap(key.to_window(*key.center))
    assert pad.text == ""
    driver.tap_text("I have read these")
    assert answers == ["accepted"]
    driver.tap_text("5")
    assert pad.text == "5"


def test_back_declines_a_caution_and_never_accepts_it(ui):
    driver = ui(Specimen("reading"))
    answers = []
    caution_sheet(answers).open()
    driver.settle()
    assert driver.back()
    assert answers == ["declined"]
    assert not driver.all(CautionSheet)


def test_a_caution_that_does_not_fit_must_be_read_to_its_end(ui):
    with window(SIZES["landscape"]):
        driver = ui(Specimen("reading"))
        answers = []
        caution_sheet(answers).open()
        driver.settle()
        assert not driver.sees("I have read these")
        for _ in range(9):
            if not driver.sees("Read on"):
                break
            assert answers == []
            driver.tap_text("Read on")
            driver.settle()
        assert driver.one(CautionSheet).is_read
        driver.tap_text("I have read these")
        assert answers == ["accepted"]
        driver.close()
        driver.caught.seen.clear()


# -- pages, lists, figures, text


def test_back_is_one_event_from_header_and_key(ui):
    driver = ui(Specimen("sign"))
    went = []
    driver.app.root.bind(on_back=went.append)
    driver.tap_text("Back")
    driver.back()
    assert len(went) == 2


def test_tab_moves_the_focus_and_enter_presses(ui):
    pressed_words = []
    button = PrimaryButton(text="Press me")
    button.bind(on_release=lambda b: pressed_words.append(b.text))
    driver = ui(Alone(button))
    driver.key("tab")
    assert button.focused
    driver.key("enter")
    assert pressed_words == ["Press me"]


def test_a_disabled_key_does_nothing_by_touch_or_key(ui):
    button = SecondaryButton(text="Not yet", disabled=True)
    happened = []
    button.bind(on_release=happened.append)
    driver = ui(Alone(button))
    driver.tap(button)
    button.press()
    assert happened == []


def test_a_touch_on_a_station_tells_its_key(ui):
    stations = [StationMark(k, k.title(), k, "within", "1 A") for k in ("service", "panel", "run")]
    view = SceneView(build=lambda width: one_line(stations, width))
    told = []
    view.bind(on_hit=lambda _, key: told.append(key))
    driver = ui(Alone(view))
    driver.settle()
    driver.tap_hit(view, "panel")
    assert told == ["panel"]


def test_a_row_far_down_a_long_list_can_be_reached_and_pressed(ui):
    driver = ui(Specimen("list"))
    driver.settle()
    rows = driver.one(RowList)
    rows.scroll_y = 0
    driver.settle()
    driver.tap_text("garage 399")
    assert driver.app.root.chosen == [399]


def test_rows_are_recycled(ui):
    driver = ui(Specimen("list"))
    driver.settle()
    assert len(driver.one(RowList).layout_manager.children) < 30


def test_undo_is_offered_and_takes_back(ui):
    driver = ui(Specimen("list"))
    driver.settle()
    driver.tap_text("Undo")
    assert driver.app.root.chosen == ["undone"]
    assert not driver.sees("Visit deleted")


def test_the_offer_to_undo_leaves_by_itself(ui):
    driver = ui(Specimen("list"))
    driver.seconds(11)
    assert not driver.sees("Visit deleted")
    assert driver.app.root.chosen == []


def test_text_is_typed_into_the_field(ui):
    driver = ui(Specimen("sign"))
    entry = driver.app.root.name
    driver.tap(entry.ids.field)
    driver.type("Ann Ohm, 3 Ω")
    driver.key("backspace")
    assert entry.text == "Ann Ohm, 3 "


def test_digits_typed_into_a_field_do_not_reach_the_pad(ui):
    page = PAGES["reading"]()
    entry = TextEntry(label="Note")
    page.add_widget(entry)

    class Both(App):
        def build(self):
            return page

    driver = ui(Both())
    entry.take_focus()
    driver.frames(2)
    driver.key("5")
    assert page.pad.text == ""


def test_the_theme_changes_while_the_app_runs(ui):
    driver = ui(Specimen("marks"))
    shots = set()
    for name in PALETTES:
        theme.name = name
        driver.frames(3)
        shots.add(driver.pixels().tobytes())
    assert len(shots) == len(PALETTES)


def test_text_grows_with_the_users_text_size(ui):
    words = Words(text="Torque the terminals with the tool the maker names.")
    driver = ui(Alone(words))
    before = words.font_size, words.height
    theme.text_scale = 2.0
    driver.frames(4)
    assert words.font_size == pytest.approx(2 * before[0])
    assert words.height > before[1]


# -- geometry


@pytest.mark.parametrize("page", [*PAGES, "caution"])
@pytest.mark.parametrize("text_scale", [1.0, 2.0])
def test_everything_fits_and_can_be_touched(ui, size, page, text_scale):
    theme.text_scale = text_scale
    driver = ui(Specimen("reading" if page == "caution" else page))
    if page == "caution":
        caution_sheet([]).open()
    # Large text is tried in the widest font only.
    for palette in PALETTES if text_scale == 1 else ("outdoor",):
        theme.name = palette
        driver.settle()
        assert driver.small_targets() == []
        assert driver.overlaps() == []
        assert driver.clipped_labels() == []
        assert driver.off_screen() == []


@pytest.mark.parametrize("page", PAGES)
def test_pad_and_main_actions_are_large_enough_for_gloves(ui, size, page):
    driver = ui(Specimen(page))
    driver.settle()
    root = driver.app.root
    large = [*driver.all(PrimaryButton)]
    if root.dock is not None:
        large += [w for w in root.dock.walk() if getattr(w, "does", "")]
    assert [w.text for w in large if min(w.size) < 64] == []


def test_words_keep_a_number_and_its_unit_on_one_line(ui):
    """As a page does (common practice, no source)."""
    ui(Specimen("reading"))
    words = Words(text="Low-resistance ohmmeter, 200 mA")
    for width in range(40, 400, 3):
        words.width = width
        words.texture_update()
        lines = [" ".join(w.text for w in line.words) for line in words._label._cached_lines]
        lines = [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]
        whole = text_width("200 mA", words.font_size) <= width
        assert any("200 mA" in line for line in lines) or not whole, (width, lines)
    assert words.text == "Low-resistance ohmmeter, 200 mA"
