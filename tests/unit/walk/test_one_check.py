"""One check, walked: begun, answered, typed, left out, made again, interrupted by a danger."""

import pytest

from checks.check import CircuitState
from checks.record import (
    Attachment,
    DangerAnswer,
    NotDoneReason,
    Reading,
)
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from fieldapp.walk.visit import Walk, WalkError
from tests.builders import POINT, level_1, point
from tests.unit.walk.reopened import CONDITION, LOCKED, METER, TAPE, Walks, plausible_but


def test_a_check_is_begun_answered_committed_and_undone_across_kills(walks: Walks):
    w = walks()
    assert w.walk.questions is None
    w.answers("breaker.rating", "50 A")
    w.refused(lambda walk: walk.commit(), "'Poles' has no answer.*leave the whole check out")
    w.do(lambda walk: walk.answer("2"))
    w.do(lambda walk: walk.pass_over())
    assert w.walk.questions is not None
    assert w.walk.questions.current is None
    row = w.do(lambda walk: walk.commit())
    assert (row.entry, row.judgement.telling) == (1, "50 A")
    assert (w.walk.questions, len(w.walk.visit.entries), w.walk.visit.revision) == (None, 1, 1)
    assert w.walk.last_recorded == "Breaker rating"
    assert w.do(lambda walk: walk.undo()) == "Breaker rating"
    assert w.walk.visit.entries == ()
    draft = w.walk.questions
    assert [a.input for a in draft.entry.answers] == ["rated_a", "poles"]
    w.do(lambda walk: walk.commit())
    assert len(w.walk.visit.entries) == 1
    assert w.steps_taken == 7


def test_half_typed_digits_and_words_survive_a_kill(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.do(lambda walk: walk.typing("4", unit="A"))
    assert w.walk.questions is not None
    assert w.walk.questions.typed["rated_a"] == "4"
    assert w.walk.visit.entries == ()
    w.do(lambda walk: walk.note("  handle hard to read "))
    w.do(lambda walk: walk.answer("40", unit="A"))
    assert "rated_a" not in w.walk.questions.typed
    w.do(lambda walk: walk.answer("2"))
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[0].note == "handle hard to read"


def test_a_check_left_half_way_is_there_again_after_another_and_another_point(walks: Walks):
    w = walks(points=(point(), point(id="bay-2", name="Bay 2")))
    w.answers("breaker.rating", "50 A")
    w.makes("breaker.condition", *CONDITION)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    assert w.walk.questions is None
    assert w.do(lambda walk: walk.begin("breaker.rating")).entry.answers == ()
    w.do(lambda walk: walk.go_to_point(POINT))
    again = w.do(lambda walk: walk.begin("breaker.rating"))
    assert [a.input for a in again.entry.answers] == ["rated_a"]
    assert again.entry.subject == POINT


def test_going_back_changes_no_answer_and_a_wrong_turn_can_be_mended(walks: Walks):
    w = walks()
    w.answers("breaker.rating", "40 A", "1")
    assert w.do(lambda walk: walk.back())
    assert w.walk.questions is not None
    assert w.walk.questions.current is not None
    assert w.walk.questions.current.name == "poles"
    w.do(lambda walk: walk.answer("2"))
    assert w.do(lambda walk: walk.commit()).judgement.verdict is not Verdict.OUTSIDE
    w.do(lambda walk: walk.begin("breaker.condition"))
    assert not w.do(lambda walk: walk.back())


def test_a_dropped_check_leaves_no_entry(walks: Walks):
    w = walks()
    w.answers("breaker.rating", "50 A")
    w.do(lambda walk: walk.drop())
    assert w.walk.questions is None
    assert w.do(lambda walk: walk.begin("breaker.rating")).entry.answers == ()


def test_a_slip_of_the_finger_is_asked_about_and_taken_only_when_sure(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    found = w.do(lambda walk: walk.answer("400", unit="A"))
    assert (found.suggestion, w.walk.questions.entry.answers) == ("40.0", ())
    assert w.do(lambda walk: walk.answer("400", unit="A", sure=True)) is None
    assert w.walk.questions.entry.answers[0].value == "400"


@pytest.mark.parametrize("text", ["", ".", "-", "abc", "1e3", "4,0", "07", "NaN", "9999999999"])
def test_what_is_no_number_is_refused_at_the_field(walks: Walks, text: str):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.refused(lambda walk: walk.answer(text, unit="A", sure=True), "Breaker rating: no number")


def test_an_answer_that_does_not_fit_is_refused_at_the_field_and_not_at_the_end(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.refused(lambda walk: walk.answer("-40", unit="A", sure=True), "cannot be below zero")
    w.do(lambda walk: walk.answer("40", unit="A"))
    w.refused(lambda walk: walk.answer("3"), "'3' is not an option")


def test_the_limit_is_in_view_before_the_number_is_typed_and_moves_nothing(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("run.length"))
    before = w.walk.visit
    assert w.walk.preview().verdict is Verdict.NOT_MEASURED
    trial = w.walk.preview("30.5", "m", TAPE)
    assert w.walk.visit is before
    assert trial.verdict in set(Verdict)
    assert w.walk.questions is not None
    assert w.walk.questions.entry.answers == ()


def test_a_reading_carries_its_place_instrument_and_time(walks: Walks):
    w = walks()
    w.proves_dead()
    entry = w.walk.visit.entries[-1]
    reading = entry.answer("highest")
    assert isinstance(reading, Reading)
    assert (reading.value, reading.unit, reading.instrument) == ("0.1", "V", METER)
    assert reading.access_point
    assert reading.at.startswith("2025-06-02T09:")
    assert reading.at.endswith("-04:00")


def test_a_check_is_left_out_with_its_reason_and_can_be_made_after_all(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    row = w.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS, " locked room "))
    assert row.judgement.verdict is Verdict.NOT_MEASURED
    assert row.judgement.explanation == "Left out, no access: locked room"
    assert w.walk.progress[0] == 1
    w.makes("breaker.rating", "40 A", "2")
    assert len(w.walk.visit.entries) == 2
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.drop())
    assert w.do(lambda walk: walk.undo()) == "Breaker rating"
    assert w.walk.questions is not None
    assert w.walk.questions.entry.not_done is None


def test_a_second_reading_after_mending_keeps_the_first(walks: Walks):
    w = walks()
    w.makes("breaker.rating", "50 A", "1")
    w.makes("breaker.rating", "50 A", "2", after_mending=True)
    first, second = w.walk.visit.entries
    assert (first.after_mending, second.after_mending) == (False, True)
    row = w.walk.assessment.row("breaker.rating", POINT)
    assert (row.entry, row.superseded) == (2, (1,))
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[-1].after_mending  # taken back and made again, it is still that


def test_cautions_come_before_the_first_answer(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.begin("breaker.lock_and_tag"))
    w.refused(lambda walk: walk.answer("yes"), "Lock and tag: its cautions were not acknowledged")
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.drop())
    w.makes("breaker.lock_and_tag", *LOCKED)
    assert w.walk.visit.entries[0].cautions == tuple(
        c.text for c in BY_ID["breaker.lock_and_tag"].cautions
    )


@pytest.mark.parametrize("said", list(DangerAnswer))
def test_what_was_answered_to_a_danger_is_recorded_with_the_entry(walks: Walks, said: DangerAnswer):
    w = walks()
    w.answers("outlet.damage", *plausible_but("outlet.damage", "yes"))
    assert w.walk.awaits_danger is not None
    w.do(lambda walk: walk.answer_danger(said))
    assert w.walk.awaits_danger is None
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[-1].danger is said
    assert w.walk.stays_on is (said is DangerAnswer.STAYS_ON)


def test_a_danger_stands_from_when_it_was_answered_though_the_check_is_left(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))  # heat marks; three more signs are not looked at yet
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    w.do(lambda walk: walk.begin("breaker.rating"))  # left half-way, for another
    assert [e.check for e in w.walk.dangers_begun] == ["panel.condition"]
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "check is not finished")
    w.do(lambda walk: walk.begin("panel.condition"))
    for _ in range(3):
        w.do(lambda walk: walk.answer("no"))
    w.do(lambda walk: walk.commit())
    assert w.walk.dangers_begun == ()
    (found,) = w.walk.assessment.findings
    assert (found.severity, found.row.check) == (Severity.DANGER, "panel.condition")
    (entry,) = w.walk.visit.entries
    assert (len(entry.answers), entry.danger) == (4, DangerAnswer.OFF)


def test_a_danger_that_was_answered_is_not_given_up_with_its_check(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))
    for said in (lambda _: None, lambda walk: walk.answer_danger(DangerAnswer.OFF)):
        w.do(said)
        w.refused(lambda walk: walk.drop(), "a danger was found")
    w.do(lambda walk: walk.change_last())
    w.do(lambda walk: walk.answer("no"))
    w.do(lambda walk: walk.drop())
    assert w.walk.dangers_begun == ()


def test_a_danger_stays_found_where_the_rest_of_its_check_is_left_out(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.answer_danger(DangerAnswer.STAYS_ON))
    w.do(lambda walk: walk.leave_out(NotDoneReason.NOT_SAFE, "Stayed away"))
    assert w.walk.assessment.is_grave
    assert w.walk.stays_on
    (entry,) = w.walk.visit.entries
    assert entry.note == "The rest was left out, not safe now: Stayed away"
    w.do(
        lambda walk: walk.leave_out(
            NotDoneReason.NO_ACCESS, "Gone home", check_id="panel.condition"
        )
    )
    assert w.walk.stays_on  # what was said of it does not end because nobody looks again


def test_a_live_judgement_is_of_the_answers_on_the_screen(walks: Walks):
    """Another check is made in between: the open one counts last all the same."""
    w = walks()
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.acknowledge())
    w.makes("panel.condition", "no", "no", "no", "no")
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.acknowledge())
    w.makes("breaker.rating", "50 A", "2")
    w.do(lambda walk: walk.begin("panel.condition"))
    w.do(lambda walk: walk.answer("yes"))
    assert w.walk.preview().severity is Severity.DANGER


def test_what_is_asked_no_more_is_not_kept(walks: Walks):
    w = walks(points=(level_1(attachment=Attachment.RECEPTACLE),))
    w.makes("outlet.configuration", "5-20", "single")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.answers("outlet.retention", "firm", "20.0 N")
    w.makes("outlet.configuration", "14-50", "single")
    w.do(lambda walk: walk.begin("outlet.retention"))
    assert [a.input for a in w.walk.questions.entry.answers] == ["feel"]


def test_a_slip_that_reads_like_danger_is_changed_without_a_word_on_the_circuit(walks: Walks):
    w = walks()
    first, second, *_ = BY_ID["outlet.damage"].inputs
    w.answers("outlet.damage", "no", "yes")
    assert w.walk.awaits_danger is not None
    w.do(lambda walk: walk.change_last())
    assert w.walk.awaits_danger is None
    assert w.walk.questions is not None
    assert w.walk.questions.current == second
    assert [a.input for a in w.walk.questions.entry.answers] == [first.name]
    assert w.walk.visit.entries == ()


def test_a_danger_that_was_a_slip_interrupts_again_when_it_is_back(walks: Walks):
    w = walks()
    first = BY_ID["outlet.damage"].inputs[0].name
    w.answers("outlet.damage", *plausible_but("outlet.damage", "yes"))
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    w.do(lambda walk: walk.go_to(first))
    w.do(lambda walk: walk.answer("no"))
    assert w.walk.questions is not None
    assert w.walk.questions.entry.danger is None
    assert w.walk.visit.entries == ()  # what it was found by is taken back with it


def test_a_check_that_may_not_be_made_now_is_left_out_and_stays_shut_when_that_is_undone(
    walks: Walks,
):
    w = walks()
    w.do(
        lambda walk: walk.leave_out(
            NotDoneReason.NO_ACCESS, "Closed wall", check_id="run.insulation"
        )
    )
    assert w.walk.visit.entries[-1].not_done is not None
    w.do(lambda walk: walk.undo())
    assert w.walk.visit.entries == ()
    assert w.walk.questions is None
    w.refused(lambda walk: walk.begin("run.insulation"), "circuit must be dead and proved")


def test_no_check_is_open_until_one_is_begun(walks: Walks):
    w = walks()
    for step in (Walk.commit, Walk.back, Walk.acknowledge, Walk.pass_over):
        with pytest.raises(WalkError, match=r"no check is open\. Open a check first"):
            step(w.walk)
