"""A glove that bounces on a key answers one question, and never one that nobody has seen."""

from collections.abc import Callable

from fieldapp.widgets import NumberPad
from tests.ui.driver import Ui

Open = Callable[[str], Ui]


def test_a_bounce_on_a_key_answers_one_question(come_up: Open) -> None:
    ui = come_up("yes_no")
    before = len(ui.app.guide.walk.questions.entry.answers)
    ui.bounce(ui.find_text("No"))
    assert len(ui.app.guide.walk.questions.entry.answers) == before + 1
    ui.tap_text("No")  # the next one is answered as ever
    assert len(ui.app.guide.walk.questions.entry.answers) == before + 2


def test_a_bounce_answers_no_danger(come_up: Open) -> None:
    ui = come_up("yes_no")
    ui.bounce(ui.find_text("Yes"))
    assert ui.sees("Stop. Switch the current off from a safe point")
    assert ui.app.guide.walk.questions.entry.danger is None


def test_a_digit_is_typed_twice_as_quickly_as_a_hand_can(come_up: Open) -> None:
    ui = come_up("number")
    ui.bounce(ui.find_text("2"))
    assert ui.one(NumberPad).text == "22"
