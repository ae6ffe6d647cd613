"""What stands half made when its object goes: a note of what was there, no answer of what is."""

import pytest

from checks.check import REPAIR
from checks.record import DangerAnswer, Role, VisitKind
from checks.verdict import Verdict
from tests.builders import PANEL, POINT, point
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
