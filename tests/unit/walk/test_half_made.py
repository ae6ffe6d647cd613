"""What stands half made when its object goes: a note of what was there, no answer of what is."""

import pytest

from checks.check import REPAIR, Series
from checks.record import (
    READINGS_MOST,
    TEXT_MOST,
    DangerAnswer,
    Entry,
    NotDoneReason,
    Reading,
    Readings,
    Role,
    VisitKind,
)
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from fieldapp.walk.half_made import left_out_note
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import PART_REPLACED, WalkError
from tests.builders import NOON, PANEL, POINT, point
from tests.unit.walk.reopened import Reopened, Walks
from tests.unit.walk.test_correcting import FEEDER, TWO_PANELS

DAMAGE = "outlet.damage"
CALL = {"kind": VisitKind.SERVICE_CALL, "role": Role.SERVES}


def half_made(w: Reopened, check: str, *said: str) -> str:
    """Answer the first questions of a check and go on; the label of the first."""
    w.answers(check)
    label = w.walk.open_questions.asked[0].label
    for answer in said:
        w.do(lambda walk, a=answer: walk.answer(a))
    assert w.walk.open_questions.missing, "it is half made"
    return label


def replaces(w: Reopened, part: str) -> None:
    w.proves_the_bus_dead()
    w.answers(REPAIR, "mended", part, "A new one")
    w.do(lambda walk: walk.commit())


def test_two_answers_on_the_old_receptacle_say_nothing_of_the_new_one(walks: Walks):
    w = walks(**CALL)
    label = half_made(w, DAMAGE, "no", "no")
    replaces(w, "receptacle")
    w.do(lambda walk: walk.begin(DAMAGE))
    begun = w.walk.open_questions
    assert begun.entry.answers == ()
    assert begun.missing == begun.asked
    assert f"Answered before the replacement of a part: {label}: " in begun.entry.note


@pytest.mark.parametrize("part", ["none", "breaker", "charger"])
def test_what_was_answered_of_what_stays_stays(walks: Walks, part: str):
    w = walks(**CALL)
    half_made(w, DAMAGE, "no", "no")
    replaces(w, part)
    w.do(lambda walk: walk.begin(DAMAGE))
    assert len(w.walk.open_questions.entry.answers) == 2
    assert w.walk.open_questions.entry.note == ""


def test_what_was_begun_on_the_new_part_outlives_a_repair_of_another(walks: Walks):
    w = walks(**CALL)
    replaces(w, "receptacle")
    half_made(w, DAMAGE, "no", "no")
    replaces(w, "charger")
    w.do(lambda walk: walk.begin(DAMAGE))
    assert len(w.walk.open_questions.entry.answers) == 2


def test_of_a_plate_only_what_was_read_at_the_part_is_asked_again(walks: Walks):
    """A wire stays in its wall when the receptacle at its end is changed."""
    w = walks(**CALL)
    w.answers("run.conductor")
    while "terminals" not in {a.input for a in w.walk.open_questions.entry.answers}:
        asked = w.walk.open_questions.current
        assert asked is not None
        said = {"size": "6 AWG", "material": "copper", "insulation": "THWN-2", "method": "EMT"}
        said |= {"is_wet": "no", "terminals": "75"}
        w.do(lambda walk, a=said[asked.name]: walk.answer(a))
    before = {a.input for a in w.walk.open_questions.entry.answers}
    assert w.walk.open_questions.missing
    replaces(w, "receptacle")
    w.do(lambda walk: walk.begin("run.conductor"))
    now = {a.input for a in w.walk.open_questions.entry.answers}
    assert before - now == {"terminals"}
    assert "size" in now
    assert "6 AWG" not in w.walk.open_questions.entry.note


def test_a_danger_found_on_the_old_part_stands_in_the_record_before_its_repair(walks: Walks):
    w = walks(**CALL)
    w.answers(DAMAGE, "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    assert w.walk.open_questions.missing
    replaces(w, "receptacle")
    *_, found, repair = w.walk.visit.entries
    assert (found.check, repair.check) == (DAMAGE, REPAIR)
    assert found.number < repair.number
    assert found.danger is DangerAnswer.OFF
    assert w.walk.dangers_begun == ()
    row = w.walk.assessment.row(DAMAGE, POINT)
    assert row.is_owed_again
    w.do(lambda walk: walk.undo())
    assert w.walk.assessment.row(DAMAGE, POINT).judgement.verdict is Verdict.OUTSIDE


def test_a_half_made_check_of_a_panel_is_of_the_chargers_that_it_fed(walks: Walks):
    w = walks(panels=TWO_PANELS, points=(point(), point(id="bay-2", panel="panel-b")))
    w.do(lambda walk: walk.go_to_point("bay-2"))
    half_made(w, "panel.directory", "yes")
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    w.do(lambda walk: walk.begin("panel.directory"))
    assert w.walk.open_questions.entry.subject == "panel-b"
    assert w.walk.open_questions.entry.answers == ()
    assert "before the correction of what is installed" in w.walk.open_questions.entry.note


def test_a_half_made_check_is_of_what_a_correction_that_is_undone_said(walks: Walks):
    w = walks(panels=TWO_PANELS)
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    half_made(w, "breaker.condition", "no")
    w.do(lambda walk: walk.undo())
    assert w.walk.point.panel == PANEL
    w.do(lambda walk: walk.begin("breaker.condition"))
    assert w.walk.open_questions.entry.answers == ()


# -- nothing of it is cut off --------------------------------------------------------------------
LONG = "n" * (TEXT_MOST + 300)
NEAR = "n" * (TEXT_MOST - 10)
NO_ROOM = r"there is no room for what is added to it\. Shorten the note first"
CONDITION = "breaker.condition"


@pytest.mark.parametrize("written", [LONG, NEAR])
def test_a_note_that_has_no_room_for_what_goes_is_kept_whole_to_be_shortened(
    walks: Walks, written: str
):
    w = walks(panels=TWO_PANELS)
    label = half_made(w, CONDITION, "no")
    try:
        w.walk.note(written)
    except WalkError:
        assert written == LONG
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    w.do(lambda walk: walk.begin(CONDITION))
    assert w.walk.open_questions.entry.answers == ()
    assert w.walk.note_typed.startswith(f"{written} Answered before the correction")
    assert f"{label.rstrip('?')}: " in w.walk.note_typed
    w.refused(lambda walk: walk.leave_out(NotDoneReason.OTHER), "characters are too many")
    w.do(lambda walk: walk.note("shorter"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER))
    assert w.walk.visit.entries[-1].note == "shorter"


@pytest.mark.parametrize("is_danger", [False, True])
def test_what_has_no_room_in_the_note_is_not_left_out(walks: Walks, is_danger: bool):
    w = walks()
    w.answers(DAMAGE, "yes" if is_danger else "no")
    if is_danger:
        w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    w.do(lambda walk: walk.note(NEAR))
    w.refused(
        lambda walk: walk.leave_out(NotDoneReason.OTHER), f"^{BY_ID[DAMAGE].title}: {NO_ROOM}"
    )
    w.do(lambda walk: walk.note("short"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER))
    assert w.walk.visit.entries[-1].note.startswith("short ")


def test_what_has_no_room_in_the_note_of_the_old_part_is_said_before_its_repair(walks: Walks):
    w = walks(**CALL)
    w.answers(DAMAGE, "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    w.do(lambda walk: walk.note(NEAR))
    w.proves_the_bus_dead()
    w.answers(REPAIR, "mended", "receptacle", "A new one")
    w.refused(lambda walk: walk.commit(), f"^{BY_ID[DAMAGE].title}: {NO_ROOM}")
    w.do(lambda walk: walk.begin(DAMAGE))
    w.do(lambda walk: walk.note("short"))
    w.do(lambda walk: walk.begin(REPAIR))
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[-2].note == f"short {PART_REPLACED}"


def test_readings_that_are_too_many_for_a_note_are_told_by_the_first_and_the_last(walks: Walks):
    check = BY_ID["outlet.temperature"]
    series = next(i for i in check.inputs if isinstance(i, Series))
    made = [
        Reading(input=series.name, value=f"{n}.0", unit="°C", at=NOON, access_point="contact")
        for n in range(READINGS_MOST)
    ]
    at = NOON[11:19]
    for count, said in ((2, f"0.0 °C at {at}, 1.0 °C at {at}"), (READINGS_MOST, "")):
        answers = (Readings(input=series.name, readings=tuple(made[:count])),)
        entry = Entry(number=1, check=check.id, subject=POINT, at=NOON, answers=answers)
        note = left_out_note(Questions(check, entry), "")
        assert (said or f"500 readings, from 0.0 °C at {at} to 499.0 °C at {at}") in note
