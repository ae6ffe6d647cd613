"""What keeps a hand safe: cautions, states, dangers, and what is shut until then."""

import gc
import weakref
from collections.abc import Callable

import pytest

from tests.gallery.looks import Look  # before Kivy: it chooses the window
from tests.gallery.looks import come_up as come_up_in

from checks.check import CASE_UNREAD, CircuitState  # isort: skip
from checks.record import DangerAnswer, StateEntry
from checks.stations.all import BY_ID
from fieldapp.figures.icons import icon
from fieldapp.screens.interruptions import DangerSheet
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.widgets import MESSAGE, CautionSheet, ListRow, Message, SeverityBanner, Words
from fieldapp.widgets.scrolling import is_at_end
from tests.gallery.walking import make
from tests.ui.driver import Ui
from tests.ui.hand import Hand
from tests.ui.sight import box_of

Open = Callable[[str], Ui]


def test_cautions_come_before_the_first_question_and_declining_goes_back(come_up: Open) -> None:
    ui = come_up("caution")
    assert isinstance(ui.top, CautionSheet)
    assert ui.sees("WARNING")
    ui.back()
    assert ui.app.guide.ledger.position.screen == "path"


def test_a_state_is_recorded_only_after_each_of_its_cautions(come_up: Open) -> None:
    ui = come_up("state_caution")
    walk = ui.app.guide.walk
    ui.tap_text("Read and understood")
    assert ui.sees("2 of 2: read before you switch")
    assert walk.state is None
    ui.tap_text("Read and understood")
    assert walk.state is None
    ui.tap_text("The circuit is off")
    assert walk.state is CircuitState.DEAD


def test_what_keeps_a_circuit_off_is_told_in_the_words_of_the_causes(come_up: Open) -> None:
    ui = come_up("causes_empty")
    guide = ui.app.guide
    told = {"breaker.trip_history.when": "hours", "breaker.trip_history.kind": "unknown"}
    make(guide.walk, "breaker.trip_history", told)
    for screen in ("causes", "path", "findings", "work", "sign_off", "state"):
        guide.go(screen, "energised" if screen == "state" else "")
        ui.settle()
        assert ui.sees("It tripped, and the kind of trip is not known: the circuit stays off."), (
            screen
        )
    assert ui.sees("Not yet: the circuit must not be energised until these stand.")


def test_a_danger_that_was_found_live_says_what_lets_it_be_read_again(come_up: Open) -> None:
    ui = come_up("state_caution")
    walk, case = ui.app.guide.walk, "charger.enclosure_voltage"
    live = StateEntry(number=9_000, point=walk.point_id, state="energised", at=walk.visit.started)
    walk._change(states=(*walk.visit.states, live))
    make(walk, case, {f"{case}.touch": "58"})
    walk.enter_state(CircuitState.DEAD)
    ui.app.guide.go("state", "energised")
    ui.settle()
    assert ui.sees(
        "What was found live is mended with the circuit dead. Once what is opened or measured "
        "there is made again, it may be read again live."
    )


def test_a_caution_is_understood_only_at_its_end_however_large_the_text() -> None:
    with come_up_in(Look("state_caution", "small", "day", 2.0)) as ui:
        screen = ui.app.guide.screen
        presses = 0
        while not ui.sees("Read and understood"):
            assert screen.scroll.scroll_y > 0
            ui.tap_text("Read on")
            presses += 1
            assert presses < 9
        assert presses
        assert is_at_end(screen.scroll)
        ui.tap_text("Read and understood")
        assert ui.sees("2 of 2: read before you switch")
        assert ui.sees("Read on")


def test_a_danger_interrupts_with_its_own_sheet_before_anything_goes_on(come_up: Open) -> None:
    ui = come_up("yes_no")
    ui.tap_text("Seen")
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
    ui.tap_text("Seen")
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


def test_a_danger_says_first_what_to_do_and_then_what_it_is(come_up: Open) -> None:
    ui = come_up("result_danger")
    told = [w for w in ui.all(Words) if ui._is_seen(w)]
    told.sort(key=lambda w: -w.to_window(*w.pos)[1])
    lines = [w.text for w in told]
    at = lines.index("DANGER")
    assert lines[at + 1].startswith("Stop. Keep it off;")
    assert lines[at + 2] == "The panel shows heat marks or smells burnt."


@pytest.mark.parametrize(
    "state", ["danger", "path_long", "result_danger", "result_outside", "result_joint"]
)
@pytest.mark.parametrize("size", ["small", "landscape"])
def test_a_danger_is_in_view_in_the_largest_text_with_what_to_do(state: str, size: str) -> None:
    with come_up_in(Look(state, size, "day", 2.0)) as ui:
        (word,) = [w for w in ui.all(Words, ui.top) if w.text == "DANGER"]
        assert ui._seen_box(word) == pytest.approx(box_of(word))
        banner = next(b for b in ui.all(SeverityBanner, ui.top))
        lines = ui.all(Words, banner)
        first = next(w for w in lines if w.text.startswith(("Stop. ", "Do not use it")))
        _, low, _, high = ui._seen_box(first)
        assert high - low >= min(2 * first.font_size, first.height - 1)


def test_who_cannot_switch_it_off_is_not_told_to_at_the_result(come_up: Open) -> None:
    ui = come_up("yes_no")
    ui.tap_text("Seen")
    ui.tap_text("It cannot be switched off")
    ui.tap_text("People are away, help is called")
    Hand(ui).make_check()
    assert ui.app.guide.ledger.position.screen == "result"
    assert ui.sees("Stay away from it until who may cut the supply has cut it.")
    assert not ui.sees("switch it off")


@pytest.mark.parametrize("state", ["no_instrument", "about_shut", "sign_off_earlier"])
def test_what_the_app_says_of_itself_stands_under_no_signal_word(come_up: Open, state: str) -> None:
    ui = come_up(state)
    assert ui.all(Message)
    assert not [x for x in ui.all(SeverityBanner) if x.severity in ("notice", "caution")]


def test_a_file_that_cannot_be_read_is_marked_as_a_message(come_up: Open) -> None:
    ui = come_up("visits")
    (row,) = [x for x in ui.all(ListRow) if x.title == "Needs attention"]
    assert row.sign == MESSAGE
    assert row.mark == icon(MESSAGE)


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
    assert ui.app.guide.ledger.position.screen == "station"
    assert ui.app.guide.walk.questions is None


@pytest.mark.parametrize("kind", [Sheet, DangerSheet])
def test_a_sheet_is_gone_once_it_is_answered(come_up: Open, kind: type[Sheet]) -> None:
    ui = come_up("path")
    kind("Invented", words=("It is read.",), accept=("Close", nothing)).open()
    ui.rest()
    assert ui.sees("It is read.")
    left = weakref.ref(ui.one(kind))
    ui.one(kind).accept()
    ui.rest()
    gc.collect()
    assert left() is None


def test_a_state_leads_to_what_it_was_entered_for_and_is_taken_back_from_there(
    come_up: Open,
) -> None:
    """Off is not dead: what proves it comes first (NFPA 70E article 120, from memory)."""
    ui = come_up("state_caution")
    hand = Hand(ui)
    hand.bring_into_state()
    assert (hand.at, hand.walk.questions.check.id) == ("check", "breaker.lock_and_tag")
    hand.accept_cautions()
    ui.tap_text("Circuit: off, not proved dead yet")
    assert hand.at == "path"
    assert ui.sees("off, not proved dead yet")
    ui.tap_text("Undo: circuit dead and proved")
    assert hand.walk.visit.states == ()


def test_a_caution_acknowledged_in_this_state_stands_on_the_next_page_and_needs_no_touch(
    come_up: Open,
) -> None:
    ui = come_up("path_new")
    hand = Hand(ui)
    hand.station("connector")
    ui.tap_text(BY_ID["connector.pins"].title)
    assert isinstance(ui.top, CautionSheet)
    hand.make_check()
    hand.to_path()
    hand.station("charger")
    ui.tap_text(BY_ID["charger.mounting"].title)
    assert not isinstance(ui.top, CautionSheet)
    (banner,) = ui.all(SeverityBanner, ui.top)
    assert (banner.severity, banner.text) == ("warning", CASE_UNREAD.text)
    ui.tap_text("Back")
    hand.station("charger")
    ui.tap_text(BY_ID["charger.cable"].title)
    assert isinstance(ui.top, CautionSheet)  # a number is typed there: the pad takes the room
