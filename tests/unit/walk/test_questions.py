"""A run of questions: what is on the screen, back, passed over, and changed answers."""

import pytest

from checks.check import (
    Check,
    Choice,
    Measurement,
    Option,
    Rating,
    When,
    Words,
    YesNo,
    not_measured,
)
from checks.record import Chosen, Entry, Reading, Worded, YesNoAnswer
from fieldapp.walk.questions import Questions, reply
from tests.builders import NOON, POINT

CHECK = Check(
    id="outlet.chain",
    title="A chain",
    how="Look.",
    inputs=(
        YesNo("is_present", "There"),
        Choice(
            "kind", "Kind", options=(Option("a"), Option("b")), when=When("is_present", ("yes",))
        ),
        Rating("size", "Size", when=When("kind", ("b",))),
        Words("remark", "Remark", optional=True),
        Measurement("volts", "Volts", access_point="guarded jacks"),
    ),
    judge=lambda _: not_measured("nothing yet"),
)


def fresh() -> Questions:
    return Questions(CHECK, Entry(number=1, check=CHECK.id, subject=POINT, at=NOON))


def answered(*values: str) -> Questions:
    questions = fresh()
    for value in values:
        asked = questions.current
        assert asked is not None
        questions = questions.answered(reply(asked, value, at=NOON, unit="A"))
    return questions


def on_screen(questions: Questions) -> str:
    return questions.current.name if questions.current else ""


def test_questions_come_one_at_a_time_and_lead_on_from_answers():
    assert on_screen(fresh()) == "is_present"
    assert fresh().place == (1, 3)
    assert on_screen(answered("no")) == "remark"
    assert on_screen(answered("yes")) == "kind"
    assert answered("yes", "b").place == (3, 5)
    assert on_screen(answered("yes", "b", "32")) == "remark"
    assert [i.name for i in answered("yes", "b").missing] == ["size", "volts"]


def test_an_optional_question_may_be_passed_over_and_a_required_one_not():
    assert on_screen(fresh().passed_over()) == "is_present"
    passed = answered("no").passed_over()
    assert on_screen(passed) == "volts"
    done = passed.answered(reply(CHECK.inputs[4], "240.1", at=NOON, unit="V"))
    assert done.current is None
    assert (done.missing, done.place) == ((), (3, 3))


def test_back_goes_to_the_question_before_and_stops_at_the_first():
    back = answered("yes", "b").back()
    assert back is not None
    assert on_screen(back) == "kind"
    assert back.entry == answered("yes", "b").entry  # going back changes no answer
    first = back.back()
    assert first is not None
    assert first.back() is None
    assert on_screen(first.go_to("")) == "size"


def test_a_changed_answer_drops_every_answer_that_hung_on_it():
    done = answered("yes", "b", "32")
    changed = done.go_to("is_present").answered(YesNoAnswer(input="is_present", yes=False))
    assert [a.input for a in changed.entry.answers] == ["is_present"]
    other = done.go_to("kind").answered(Chosen(input="kind", option="a"))
    assert [a.input for a in other.entry.answers] == ["is_present", "kind"]


def test_what_is_half_typed_stays_until_it_is_an_answer():
    half = answered("no").typing("remark", "loose sc")
    assert half.typed == {"remark": "loose sc"}
    assert half.back() is not None
    assert half.back().typed == {"remark": "loose sc"}  # type: ignore[union-attr]
    assert half.answered(Worded(input="remark", text="loose screw")).typed == {}


@pytest.mark.parametrize("index", range(len(CHECK.inputs)))
def test_a_reply_is_of_the_kind_the_question_asks(index: int):
    asked = CHECK.inputs[index]
    value = {"is_present": "yes", "kind": "a", "size": "32", "remark": "x", "volts": "240.1"}
    kinds = [YesNoAnswer, Chosen, Reading, Worded, Reading]
    made = reply(asked, value[asked.name], at=NOON, unit="V", instrument="meter")
    assert isinstance(made, kinds[index])


def test_a_reading_says_where_and_with_what_it_was_taken():
    made = reply(CHECK.inputs[4], "240.10", at=NOON, unit="V", instrument="meter")
    assert isinstance(made, Reading)
    assert (made.value, made.access_point, made.instrument) == ("240.10", "guarded jacks", "meter")
