"""Which reading is due, by the stamps of those before; readings taken back; a stop sign."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from checks.check import Check, Choice, Option, Series, not_measured
from checks.record import READINGS_MOST, Entry
from fieldapp.walk import measuring
from fieldapp.walk.questions import Questions, reply
from fieldapp.walk.refused import WalkError

START = datetime(2026, 3, 14, 9, 0, tzinfo=UTC)
CHECK = Check(
    id="outlet.watched",
    title="Watched",
    how="Read it as often as it is due.",
    inputs=(
        Choice("method", "Method", options=(Option("a"), Option("b"))),
        Series("air", "Air", units=("V",), every_s=600.0),
        Series("part", "Part", units=("V",), every_s=120.0),
        Series("like", "Like", units=("V",), every_s=120.0, optional=True),
        Choice("sign", "Sign", options=(Option("none"), Option("smell", ends=True))),
    ),
    judge=lambda _: not_measured("nothing"),
)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def fresh() -> Questions:
    entry = Entry(number=1, check=CHECK.id, subject="bay-1", at=START.isoformat())
    return Questions(CHECK, entry)


def read(questions: Questions, name: str, value: str, minutes: float) -> Questions:
    asked: Any = CHECK.input(name)
    made: Any = reply(asked, value, at=at(minutes).isoformat(), unit="V")
    return measuring.with_reading(questions, asked, made)


def first_round() -> Questions:
    questions = read(read(fresh(), "air", "20", 0.0), "part", "21", 0.5)
    return read(questions, "like", "20.5", 1.0)


def test_each_series_is_read_once_in_its_order_before_any_waits():
    questions = fresh()
    for name in ("air", "part", "like"):
        assert measuring.due(questions, at(30)) == measuring.Due(name, 0.0)
        questions = read(questions, name, "20", 0)
    assert measuring.due(questions, at(1)).in_s == pytest.approx(60)


@pytest.mark.parametrize(
    ("minutes", "name", "in_s"),
    [(1.0, "part", 90), (2.5, "part", 0), (2.9, "part", -24), (500.0, "part", -29850)],
)
def test_the_time_comes_from_the_stamps_however_long_nobody_looked(
    minutes: float, name: str, in_s: float
):
    found = measuring.due(first_round(), at(minutes))
    assert found.name == name
    assert found.in_s == pytest.approx(in_s)


def test_a_clock_that_was_set_back_keeps_nobody_waiting_longer_than_the_pace():
    assert measuring.due(first_round(), at(-60)) == measuring.Due("part", 120.0)
    assert measuring.lasted_s(first_round(), at(-60)) == 0.0


def test_what_is_late_most_comes_first():
    questions = first_round()
    for minutes in (2.5, 4.5, 6.5, 8.5):
        questions = read(read(questions, "part", "22", minutes), "like", "21", minutes + 0.2)
    assert measuring.due(questions, at(10.6)).name == "air"  # by 36 s; the part by 6 s


def test_an_optional_series_that_was_passed_over_is_never_due():
    questions = read(read(fresh(), "air", "20", 0.0), "part", "21", 0.5).go_to("like")
    assert measuring.due(questions.passed_over(), at(40)).name == "part"


def test_a_reading_that_was_taken_back_is_due_with_its_own_time_and_digits():
    questions = measuring.taken_back(read(first_round(), "part", "29", 2.5), "part", 0)
    assert measuring.due(questions, at(3)) == measuring.Due("part", 0.0)
    assert questions.typed["part"] == "21"
    assert questions.typed["part at"] == at(0.5).isoformat()

    again = read(questions, "part", "22", 0.5)
    readings = measuring.readings_of(again.entry, "part")
    assert [(r.value, r.at) for r in readings] == [
        ("22", at(0.5).isoformat()),
        ("29", at(2.5).isoformat()),
    ]
    assert not measuring.is_half_typed(again)


def test_a_reading_that_was_taken_back_can_be_left_out():
    questions = measuring.taken_back(first_round(), "part", 0)
    assert questions.entry.answer("part") is None
    left_out = measuring.given_up(questions, "part")
    assert left_out.typed.get("part") is None
    assert measuring.due(left_out, at(3)) == measuring.Due("part", 0.0)  # never read, as it stands


def test_readings_stand_in_order_of_time_whatever_the_offset_of_their_clock():
    questions = read(fresh(), "part", "30", 10)
    asked: Any = CHECK.input("part")
    earlier: Any = reply(asked, "29", at="2026-03-14T10:05:00+01:00", unit="V")
    made = measuring.with_reading(questions, asked, earlier)
    assert [r.value for r in measuring.readings_of(made.entry, "part")] == ["29", "30"]


def test_at_the_end_what_is_still_open_is_asked():
    questions = measuring.ended(read(read(fresh(), "air", "20", 0), "part", "21", 0))
    assert "like" in questions.passed
    assert questions.current is CHECK.input("method")


def test_a_stop_sign_ends_the_questions_whatever_is_still_open():
    asked = measuring.stop_question(CHECK)
    assert asked is not None
    ended = fresh().answered(reply(asked, "smell", at=START.isoformat()))
    assert ended.current is None
    assert ended.missing == ()
    going_on = fresh().answered(reply(asked, "none", at=START.isoformat()))
    assert going_on.current is CHECK.input("method")


def test_how_long_it_has_lasted_counts_from_the_first_reading():
    assert measuring.lasted_s(fresh(), at(5)) == 0
    assert measuring.lasted_s(first_round(), at(5)) == pytest.approx(300)


def test_a_series_that_is_full_refuses_one_more_and_keeps_what_it_has():
    questions = fresh()
    for number in range(READINGS_MOST):
        questions = read(questions, "air", "20", number / 60)
    with pytest.raises(WalkError, match=r"Air: 500 readings are the most\. End the measuring"):
        read(questions, "air", "21", 600.0)
    assert len(measuring.readings_of(questions.entry, "air")) == READINGS_MOST
