"""A glove that bounces on a key answers one question, and never one that nobody has seen."""

from collections.abc import Callable

import pytest

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import pass_time

from checks.assess import Row  # isort: skip
from kivy.uix.widget import Widget

from fieldapp.walk.visit import Walk
from fieldapp.widgets import NumberPad

Open = Callable[[str], Ui]


def key_that_says(ui: Ui, *, yes: bool) -> Widget:
    """The key of an answer to the question on the screen."""
    return ui.find_text(ui.app.guide.walk.questions.current.words(yes=yes))


def test_a_bounce_on_a_key_answers_one_question(come_up: Open) -> None:
    ui = come_up("yes_no")
    before = len(ui.app.guide.walk.questions.entry.answers)
    ui.bounce(key_that_says(ui, yes=False))
    assert len(ui.app.guide.walk.questions.entry.answers) == before + 1
    ui.tap(key_that_says(ui, yes=False))  # the next one is answered as ever
    assert len(ui.app.guide.walk.questions.entry.answers) == before + 2


def test_a_bounce_on_the_last_answer_answers_nothing_of_the_next_check(
    come_up: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Making the entry may take a slow phone longer than a glove takes to spring back."""
    commit = Walk.commit

    def slow(walk: Walk) -> Row:
        pass_time(0.4)
        return commit(walk)

    monkeypatch.setattr(Walk, "commit", slow)
    ui = come_up("yes_no")
    walk = ui.app.guide.walk
    while len(walk.questions.missing) > 1:
        ui.tap(key_that_says(ui, yes=False))
    ui.bounce(key_that_says(ui, yes=False))
    assert walk.visit.entries[-1].check == "panel.condition"
    assert walk.questions.check.id == "panel.directory"
    assert walk.questions.entry.answers == ()


def test_a_bounce_answers_no_danger(come_up: Open) -> None:
    ui = come_up("yes_no")
    ui.bounce(key_that_says(ui, yes=True))
    assert ui.sees("Stop. Switch the current off from a safe point")
    assert ui.app.guide.walk.questions.entry.danger is None


def test_a_digit_is_typed_twice_as_quickly_as_a_hand_can(come_up: Open) -> None:
    ui = come_up("number")
    ui.bounce(ui.find_text("2"))
    assert ui.one(NumberPad).text == "22"
