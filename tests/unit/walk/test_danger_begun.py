"""A danger in a check that is half made: no way on loses it, and none ends before it."""

from typing import Final

import pytest

from checks.check import CircuitState
from checks.record import DangerAnswer, NotDoneReason, Photo
from checks.verdict import Severity
from fieldapp.walk.visit import UNREAD_DANGER, Walk
from tests.builders import NOON, POINT, point, visit
from tests.gallery.walking import make
from tests.unit.walk.reopened import CONDITION, LIVE, Reopened, Walks, plausible_but, said_to_be
from tests.unit.walk.test_words import spoil

DAMAGE, VOLTS, RETENTION = "outlet.damage", "outlet.no_load_voltage", "outlet.retention"
REASON: Final = NotDoneReason.NO_ACCESS
PHOTO: Final = Photo(name="0" * 64 + ".jpg", at=NOON)


def begins_danger(w: Reopened, *before: str) -> None:
    """Answer the danger of heat marks at the receptacle; the rest is not looked at."""
    w.answers(DAMAGE, *before, "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    assert w.walk.open_questions.missing


def reads(w: Reopened, digits: str, unit: str = "V") -> None:
    """Take a number that is hardly possible, and is so."""
    asked = w.walk.open_questions.current
    assert asked is not None
    tool = w.walk.instruments_for(asked)[0].id
    w.do(lambda walk: walk.answer(digits, unit=unit, instrument=tool, sure=True))


def reads_open_neutral(w: Reopened) -> None:
    """Read volts without load that tell of a danger, and answer it; the rest is not read."""
    w.answers(VOLTS, "two_lines_neutral")
    for digits in ("20.0", "5.0", "240.0"):
        reads(w, digits)
    assert w.walk.awaits_danger is not None
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))


def begun(w: Reopened) -> list[str]:
    return [e.check for e in w.walk.dangers_begun]


def dangers(w: Reopened) -> list[str]:
    found = w.walk.assessment.findings
    return [f.row.check for f in found if f.severity is Severity.DANGER]


def test_another_check_that_is_left_out_leaves_the_open_one_as_it_is(walks: Walks):
    w = walks()
    begins_danger(w)
    w.do(lambda walk: walk.note("seen from the door"))
    w.do(lambda walk: walk.leave_out(REASON, check_id=RETENTION))
    assert begun(w) == [DAMAGE]
    again = w.do(lambda walk: walk.begin(DAMAGE)).entry
    assert (len(again.answers), again.note) == (1, "seen from the door")


def test_what_waits_for_a_state_is_left_out_around_the_open_check(walks: Walks):
    w = walks()
    w.answers(DAMAGE, "no")
    w.do(lambda walk: walk.go_without(CircuitState.ENERGISED, REASON, "not live"))
    assert len(w.do(lambda walk: walk.begin(DAMAGE)).entry.answers) == 1


def test_half_typed_digits_outlive_the_leaving_out_of_another_check(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.do(lambda walk: walk.typing("4", unit="A"))
    w.do(lambda walk: walk.leave_out(REASON, check_id=RETENTION))
    assert w.do(lambda walk: walk.begin("breaker.rating")).typed["rated_a"] == "4"


@pytest.mark.parametrize("is_left", [False, True])
def test_leaving_out_a_check_with_a_danger_enters_what_it_was_found_by(walks: Walks, is_left: bool):
    w = walks()
    begins_danger(w)
    if is_left:
        w.makes("breaker.condition", *CONDITION)
    w.do(lambda walk: walk.leave_out(REASON, "gone", check_id=DAMAGE))
    entry = w.walk.visit.entries[-1]
    assert (entry.danger, len(entry.answers)) == (DangerAnswer.OFF, 1)
    assert entry.note == "The rest was left out, no access: gone"
    assert (begun(w), dangers(w)) == ([], [DAMAGE])
    w.do(lambda walk: walk.undo())
    assert begun(w) == [DAMAGE]


def test_what_was_answered_of_a_check_that_is_left_out_stands_in_its_note(walks: Walks):
    w = walks()
    w.answers("breaker.rating", "50 A")
    label = w.walk.check.inputs[0].label
    w.do(lambda walk: walk.leave_out(REASON))
    entry = w.walk.visit.entries[-1]
    assert entry.not_done is not None
    assert entry.note == f"Answered before it was left out: {label}: 50 A."


# -- undo ---------------------------------------------------------------------------------------
def test_undo_of_the_entry_before_leaves_a_danger_that_was_begun_since(walks: Walks):
    w = walks()
    w.makes(DAMAGE, *plausible_but(DAMAGE, "no"))
    begins_danger(w)
    assert w.do(lambda walk: walk.undo())
    assert w.walk.visit.entries == ()
    assert begun(w) == [DAMAGE]
    w.do(lambda walk: walk.begin("breaker.condition"))
    assert begun(w) == [DAMAGE]
    w.do(lambda walk: walk.leave_out(REASON, check_id=DAMAGE))
    assert (begun(w), dangers(w)) == ([], [DAMAGE])


def test_undo_of_a_danger_is_not_covered_by_what_was_begun_since(walks: Walks):
    w = walks()
    begins_danger(w)
    w.do(lambda walk: walk.leave_out(REASON))
    w.answers(DAMAGE, "no")
    w.do(lambda walk: walk.undo())
    assert begun(w) == [DAMAGE]


def test_undo_loses_no_answer_that_was_begun_since_and_no_photo_from_before(walks: Walks):
    w = walks()
    w.answers(DAMAGE, *plausible_but(DAMAGE, "no"))
    w.walk.attach_photo(PHOTO.name, f"{DAMAGE}@{POINT}")
    w.do(lambda walk: walk.commit())
    w.answers(DAMAGE, "no", "no")
    w.do(lambda walk: walk.undo())
    draft = w.walk.open_questions.entry
    assert (len(draft.answers), [p.name for p in draft.photos]) == (2, [PHOTO.name])


def test_undo_of_an_entry_brings_its_answers_back_where_nothing_was_begun_since(walks: Walks):
    w = walks()
    w.makes("breaker.condition", *CONDITION)
    w.do(lambda walk: walk.begin("breaker.condition"))  # looked at once more, and no more than that
    w.do(lambda walk: walk.undo())
    assert len(w.walk.open_questions.entry.answers) == len(CONDITION)


# -- what is read live --------------------------------------------------------------------------
LIVE_NOW: Final = {"states": (said_to_be(LIVE, 1),)}


@pytest.mark.parametrize("is_undone", [False, True])
def test_a_danger_that_was_read_live_is_entered_once_the_circuit_is_off(
    walks: Walks, is_undone: bool
):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    if is_undone:
        w.do(lambda walk: walk.undo())
    else:
        w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert w.walk.state is not CircuitState.ENERGISED
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "its check is not finished")
    w.do(lambda walk: walk.begin(VOLTS))
    assert w.walk.open_questions.current is None
    w.do(lambda walk: walk.commit())
    assert (begun(w), dangers(w)) == ([], [VOLTS])


def test_it_is_left_out_with_the_danger_where_the_circuit_is_off(walks: Walks):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.leave_out(REASON, check_id=VOLTS))
    assert (begun(w), dangers(w)) == ([], [VOLTS])
    w.do(lambda walk: walk.undo())
    assert begun(w) == [VOLTS]
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "its check is not finished")


def test_a_danger_that_was_a_slip_lets_nothing_be_read_on_a_dead_circuit(walks: Walks):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.begin(VOLTS))
    w.do(lambda walk: walk.change_last())
    assert begun(w) == []
    asked = w.walk.open_questions.current
    assert asked is not None
    tool = w.walk.instruments_for(asked)[0].id
    w.refused(lambda walk: walk.answer("120.0", unit="V", instrument=tool), "must be energised")


def test_a_series_ends_with_its_danger(walks: Walks):
    seated = walks()
    for check in ("connector.pins", "vehicle.inlet_condition", "connector.seating"):
        make(seated.walk, check, {})
    live = (said_to_be(LIVE, 8), said_to_be("under load", 9))
    w = walks(entries=seated.walk.visit.entries, states=live)
    w.answers("outlet.temperature", "contact")
    for digits, unit in (("20.0", "°C"), ("32.0", "A"), ("140.0", "°C")):
        reads(w, digits, unit)
    assert w.walk.awaits_danger is not None
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    assert w.walk.open_questions.current is None
    kept = w.walk.questions
    w.do(lambda walk: walk.change_last())
    assert w.walk.open_questions.current is not None
    w.do(lambda walk: walk.give_up_reading())
    w.do(lambda walk: walk.end_series())
    assert begun(w) == []
    w.refused(lambda walk: walk.commit(), "has no answer")
    w.walk.questions = kept
    w.do(lambda walk: walk.commit())
    assert dangers(w) == ["outlet.temperature"]


def test_a_danger_goes_with_the_reading_that_told_of_it(walks: Walks):
    """Else the check would be entered as ended, without what ended it."""
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    w.do(lambda walk: walk.change_last())
    w.do(lambda walk: walk.go_to(""))
    entry = w.walk.open_questions.entry
    assert (len(entry.answers), entry.danger, begun(w)) == (3, None, [])
    assert w.walk.open_questions.current is not None
    w.refused(lambda walk: walk.commit(), "has no answer")
    reads(w, "240.0")
    assert w.walk.awaits_danger is not None  # it interrupts again
    w.refused(lambda walk: walk.drop(), "a danger was found")


# -- the kit ------------------------------------------------------------------------------------
def test_an_instrument_of_a_half_made_check_stays_in_the_kit(walks: Walks):
    w = walks(**LIVE_NOW)
    w.answers(VOLTS, "two_lines_neutral", "240.0 V")
    tool = w.walk.open_questions.entry.answers[-1].instrument
    assert tool in w.walk.used
    for _ in range(2):
        w.refused(
            lambda walk: walk.take_instruments(
                tuple(i for i in walk.visit.instruments if i.id != tool)
            ),
            f"{next(i.name for i in visit().instruments if i.id == tool)}: a reading was taken",
        )
        w.do(lambda walk: walk.begin(DAMAGE))


# -- what was answered is heard while it is half made ---------------------------------------------
@pytest.mark.parametrize("said", list(DangerAnswer))
def test_what_cannot_be_switched_off_stays_on_while_its_check_is_half_made(
    walks: Walks, said: DangerAnswer
):
    w = walks(points=(point(), point(id="bay-2", name="Bay 2")))
    w.answers(DAMAGE, "yes")
    assert not w.walk.stays_on
    w.do(lambda walk: walk.answer_danger(said))
    for _ in range(2):
        assert w.walk.stays_on is (said is DangerAnswer.STAYS_ON)
        w.do(lambda walk: walk.begin("breaker.rating"))  # it is left for another
    w.do(lambda walk: walk.go_to_point("bay-2"))
    assert not w.walk.stays_on


def test_a_circuit_is_not_called_energised_once_its_danger_was_answered_off(walks: Walks):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    assert w.walk.state_words == "switched off at a danger, not proved dead"
    w.do(lambda walk: walk.commit())
    assert w.walk.state_words == "switched off at a danger, not proved dead"


def test_a_circuit_that_stays_on_is_called_energised(walks: Walks):
    w = walks(**LIVE_NOW)
    w.answers(DAMAGE, "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.STAYS_ON))
    assert w.walk.state_words == LIVE


# -- what told of it cannot be read ---------------------------------------------------------------
def loses_what_told(w: Reopened) -> None:
    """Spoil what is half made on disk; only that a danger was answered there can be read."""
    spoil(w, note="a\tb")
    w.walk = Walk(w.store, w.id, w.clock)
    w.walk.go_to("")
    assert w.walk.open_questions.entry.answers == ()


def test_a_danger_without_its_answers_is_no_slip_before_all_is_answered(walks: Walks):
    w = walks()
    w.answers("panel.condition", "no", "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    loses_what_told(w)
    w.do(lambda walk: walk.acknowledge())
    while w.walk.open_questions.missing:
        assert begun(w) == ["panel.condition"]
        w.refused(lambda walk: walk.drop(), "its check is not finished")
        w.do(lambda walk: walk.answer("no"))
    assert begun(w) == []
    w.do(lambda walk: walk.commit())
    assert dangers(w) == []


def test_a_danger_without_its_answers_outlasts_a_slip_at_another_question(walks: Walks):
    w = walks()
    w.answers("panel.condition", "no", "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    loses_what_told(w)
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.change_last())
    w.do(lambda walk: walk.answer("no"))
    assert begun(w) == ["panel.condition"]


def test_a_danger_read_live_without_its_answers_is_made_again(walks: Walks):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    loses_what_told(w)
    w.refused(lambda walk: walk.commit(), "has no answer")
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("two_lines_neutral"))
    assert begun(w) == [VOLTS]
    w.refused(lambda walk: walk.commit(), "has no answer")
    for digits in ("20.0", "5.0", "240.0"):
        reads(w, digits)
    assert w.walk.open_questions.current is None
    w.do(lambda walk: walk.commit())
    assert (begun(w), dangers(w)) == ([], [VOLTS])


@pytest.mark.parametrize("is_answered", [False, True])
@pytest.mark.parametrize("is_off", [False, True])
def test_a_danger_read_live_without_its_answers_is_left_out_by_name(
    walks: Walks, is_answered: bool, is_off: bool
):
    w = walks(**LIVE_NOW)
    reads_open_neutral(w)
    loses_what_told(w)
    if is_answered:
        w.do(lambda walk: walk.acknowledge())
        w.do(lambda walk: walk.answer("two_lines_neutral"))
    if is_off:
        w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.leave_out(REASON, "gone", check_id=VOLTS))
    entry = w.walk.visit.entries[-1]
    assert (entry.answers, entry.danger) == ((), DangerAnswer.OFF)
    assert entry.not_done is not None
    assert f"{UNREAD_DANGER}: {DangerAnswer.OFF}." in entry.note
    assert ("Answered before it was left out" in entry.note) is is_answered
    assert begun(w) == []
    w.do(lambda walk: walk.undo())
    assert begun(w) == [VOLTS]
