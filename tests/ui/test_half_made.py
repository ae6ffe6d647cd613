"""What is begun and not entered, by real touches: it is named before it would be lost."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.ui.driver import Ui  # before Kivy: it chooses the window

from checks.check import CircuitState  # isort: skip
from checks.record import DangerAnswer, NotDoneReason
from checks.stations.all import BY_ID
from checks.verdict import Severity
from fieldapp.app import FieldApp
from fieldapp.screens.interruptions import STAYS_ON_STILL
from fieldapp.screens.onward import ASK_VEHICLE
from fieldapp.walk.visit import UNREAD_DANGER, Walk
from fieldapp.widgets import PrimaryButton
from tests.fakes.device import FakeDevice
from tests.gallery.walking import SERVICE, begin, desk_in, enter, make, walk_to
from tests.ui.conftest import Running
from tests.ui.hand import Hand

DAMAGE, RETENTION, VOLTS = "outlet.damage", "outlet.retention", "outlet.no_load_voltage"
TITLE: Final = BY_ID[DAMAGE].title
OFF: Final = "It is off, and people are away"


def opened(
    ui: Running, folder: Path, do: Callable[[Walk], object] = lambda _: None, **said: str
) -> Hand:
    """The app on the path of a visit in which something was done already."""
    with desk_in(folder) as desk:
        walk = begin(desk, **said)
        do(walk)
        desk.ledger.go("path", walk.visit.id)
    return Hand(ui(FieldApp(folder, FakeDevice(folder))))


def half_made(walk: Walk) -> None:
    walk.begin(DAMAGE)
    walk.acknowledge()
    walk.answer("no")


def signs_off(hand: Hand) -> Ui:
    hand.guide.go("sign_off")
    hand.ui.settle()
    return hand.ui


def test_a_danger_stays_while_another_check_is_left_out(ui: Running, tmp_path: Path) -> None:
    hand = opened(ui, tmp_path)
    hand.station("outlet")
    hand.ui.tap_text(TITLE)
    hand.accept_cautions()
    hand.ui.tap_text("Seen")
    hand.ui.tap_text(OFF)
    hand.to_path()
    hand.station("outlet")
    hand.ui.tap_text(BY_ID[RETENTION].title)
    hand.ui.tap_text("Leave it out")
    hand.ui.tap_text(NotDoneReason.NO_ACCESS.value.capitalize())
    hand.press_main()
    assert [e.check for e in hand.walk.dangers_begun] == [DAMAGE]
    signs_off(hand).tap_text("Decide and sign")
    assert hand.ui.find_text("danger was found, and its check is not finished")


def test_a_check_with_a_danger_is_left_out_and_the_danger_stands(
    ui: Running, tmp_path: Path
) -> None:
    def found(walk: Walk) -> None:
        walk.begin(DAMAGE)
        walk.acknowledge()
        walk.answer("yes")
        walk.answer_danger(DangerAnswer.OFF)

    hand = opened(ui, tmp_path, found)
    hand.guide.go("leave_out", DAMAGE)
    hand.ui.settle()
    assert hand.ui.sees("The danger that was found stands. The rest is left out, with this reason.")
    hand.ui.tap_text(NotDoneReason.NO_ACCESS.value.capitalize())
    hand.press_main()
    assert hand.walk.dangers_begun == ()
    assert [f.severity for f in hand.walk.assessment.findings] == [Severity.DANGER]


def test_the_sign_off_names_what_is_begun_and_leads_there(ui: Running, tmp_path: Path) -> None:
    def at_two_points(walk: Walk) -> None:
        half_made(walk)
        walk.go_to_point(walk.copy_point(walk.point_id))
        half_made(walk)
        walk.go_to_point("c1")

    hand = opened(ui, tmp_path, at_two_points)
    page = signs_off(hand)
    assert page.find_text("Begun and not entered: 2.")
    row = page.find_text("begun, not entered\nReceptacle · Bay 2")
    page.show(row)
    page.tap(row)
    assert (hand.at, hand.walk.point_id, hand.walk.questions.check.id) == ("check", "c2", DAMAGE)
    hand.make_check()
    assert signs_off(hand).find_text("Begun and not entered: 1.")


def test_a_sign_off_with_nothing_begun_names_nothing(ui: Running, tmp_path: Path) -> None:
    hand = opened(ui, tmp_path, lambda walk: make(walk, DAMAGE, {}))
    assert not any("Begun and not" in text for text in signs_off(hand).texts())


def test_the_causes_ask_which_vehicle_is_here_before_anything_is_live(
    ui: Running, tmp_path: Path
) -> None:
    def another_bay(walk: Walk) -> None:
        walk.go_to_point(walk.copy_point(walk.point_id))

    hand = opened(ui, tmp_path, another_bay, **SERVICE)
    hand.guide.go("causes")
    hand.ui.settle()
    assert hand.main_key().text == ASK_VEHICLE
    hand.press_main()
    assert hand.at == "correct"
    hand.say_vehicle()
    assert (hand.at, hand.walk.asks_vehicle) == ("path", "")
    hand.press_main()
    assert hand.at == "causes"
    assert hand.main_key().text != ASK_VEHICLE


def test_after_a_danger_the_causes_have_it_made_dead_before_they_ask(
    ui: Running, tmp_path: Path
) -> None:
    def burnt(walk: Walk) -> None:
        walk.go_to_point(walk.copy_point(walk.point_id))
        make(walk, DAMAGE, {f"{DAMAGE}.has_heat_marks": "yes"})

    hand = opened(ui, tmp_path, burnt, **SERVICE)
    hand.guide.go("causes")
    hand.ui.settle()
    assert hand.walk.asks_vehicle
    assert hand.main_key().text == "Make the circuit dead"


def test_a_danger_that_was_read_live_is_entered_after_the_circuit_is_off(
    ui: Running, tmp_path: Path
) -> None:
    """The app was ended right after the answer, before its check was an entry."""

    def read_live(walk: Walk) -> None:
        walk_to(walk, until=VOLTS)
        walk.begin(VOLTS)
        walk.acknowledge()
        walk.answer("two_lines_neutral")
        for volts in ("20.0", "5.0", "240.0"):
            tool = walk.instruments_for(walk.open_questions.current)[0].id
            walk.answer(volts, unit="V", instrument=tool, sure=True)
        walk.answer_danger(DangerAnswer.OFF)
        enter(walk, CircuitState.DEAD)

    hand = opened(ui, tmp_path, read_live)
    assert hand.press_main() == f"Go on: {BY_ID[VOLTS].title}"
    hand.accept_cautions()
    hand.ui.tap_text("Enter")
    assert hand.at == "result"
    assert hand.ui.sees("outside")
    assert hand.walk.dangers_begun == ()


def test_a_danger_that_no_answer_tells_of_is_left_out_into_the_note(
    ui: Running, tmp_path: Path
) -> None:
    def found(walk: Walk) -> None:
        walk.begin(DAMAGE)
        walk.answer_danger(DangerAnswer.OFF)  # as where its answers could not be read

    hand = opened(ui, tmp_path, found)
    hand.guide.go("leave_out", DAMAGE)
    hand.ui.settle()
    assert hand.ui.sees("That it was found goes into the note")
    hand.ui.tap_text(NotDoneReason.NO_ACCESS.value.capitalize())
    hand.press_main()
    assert hand.walk.dangers_begun == ()
    assert UNREAD_DANGER in hand.walk.visit.entries[-1].note


def test_nobody_is_led_back_to_a_danger_that_stays_on(ui: Running, tmp_path: Path) -> None:
    def found(walk: Walk) -> None:
        walk.begin(DAMAGE)
        walk.acknowledge()
        walk.answer("yes")
        walk.answer_danger(DangerAnswer.STAYS_ON)

    hand = opened(ui, tmp_path, found)
    assert hand.ui.sees(STAYS_ON_STILL)
    assert not hand.ui.sees("Keep it off")
    assert hand.ui.find_text(f"Go on: {TITLE}")
    assert not hand.ui.all(PrimaryButton)


def test_the_path_leads_to_leaving_out_what_is_shut_and_tells_of_no_danger(
    ui: Running, tmp_path: Path
) -> None:
    def found(walk: Walk) -> None:
        walk_to(walk, VOLTS)
        walk.begin(VOLTS)
        walk.answer_danger(DangerAnswer.OFF)  # as where its answers could not be read
        walk.enter_state(CircuitState.DEAD)

    hand = opened(ui, tmp_path, found)
    hand.ui.tap_text(f"Go on: {BY_ID[VOLTS].title}")
    assert hand.ui.sees("That it was found goes into the note")
    hand.ui.tap_text(NotDoneReason.NO_ACCESS.value.capitalize())
    hand.press_main()
    assert hand.walk.dangers_begun == ()
