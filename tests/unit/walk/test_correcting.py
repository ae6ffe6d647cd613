"""What the visit was begun with is corrected: nothing is lost, and nothing counts wrongly."""

import pytest

from checks.check import CircuitState
from checks.check.corrected import parted
from checks.path import Station, path
from checks.record import (
    Attachment,
    ChargerForm,
    Coupler,
    DangerAnswer,
    NotDoneReason,
    Panel,
    SupplySystem,
    Visit,
)
from checks.verdict import Severity, Verdict
from fieldapp.walk import facts
from fieldapp.walk.visit import Walk
from tests.builders import PANEL, POINT, point
from tests.sound_visits import built
from tests.unit.test_set_aside import long_run
from tests.unit.walk.reopened import LIVE, Walks, said_to_be

INLET = f"inlet@{POINT}"
FEEDER = f"feeder@{POINT}"
TWO_PANELS = (Panel(id=PANEL, name="Panel A"), Panel(id="panel-b", name="Panel B"))
ADAPTED = (point(inlet=Coupler.J3400),)


def row(walk: Walk, check: str, at: str = POINT):
    return walk.assessment.row(check, at)


def all_but(walk: Walk, check: str) -> list[str]:
    """A sound answer to each question of a check whose signs are bad where they are yes."""
    return ["no"] * len(walk.begin(check).check.inputs)


def look_at(w, check: str) -> None:
    answers = all_but(w.walk, check)
    w.walk.drop()
    assert w.makes(check, *answers) is Verdict.WITHIN


def test_a_permit_number_that_is_learned_at_the_bay_is_recorded_with_what_stood(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.correct("permit@site", "P-0000"))
    visit = w.walk.visit
    assert visit.site.permit_number == "P-0000"
    (made,) = visit.corrections
    assert made.site is not None
    assert (made.number, made.site.permit_number, made.points) == (1, "", ())
    assert facts.before("permit@site", visit) == ("",)


def test_what_is_corrected_to_what_stands_is_no_correction(walks: Walks):
    w = walks()
    for key in ("site@site", INLET, FEEDER, f"connection@{POINT}", f"is_service@{PANEL}"):
        w.do(lambda walk, k=key: walk.correct(k, walk.stands(k)))
    assert w.walk.visit.corrections == ()
    assert w.walk.last_recorded == ""


def test_another_inlet_brings_the_adapter_and_owes_again_what_looked_at_the_vehicle(walks: Walks):
    w = walks()
    look_at(w, "connector.pins")
    look_at(w, "vehicle.inlet_condition")
    hangs = w.walk.consequence(INLET, Coupler.J3400.value)
    assert (hangs.new, hangs.gone, hangs.asked_no_more) == (("Adapter",), (), ())
    assert hangs.again == ("Vehicle's inlet",)
    assert w.walk.visit.corrections == ()  # it was only asked
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    assert Station.ADAPTER in path(w.walk.point)
    seen = row(w.walk, "vehicle.inlet_condition")
    assert (seen.judgement.verdict, seen.is_owed_again) == (Verdict.NOT_MEASURED, True)
    assert "inlet was corrected" in seen.judgement.explanation
    assert len(w.walk.visit.entries) == 2
    # the connector's own pins were seen, whatever vehicle is there
    assert row(w.walk, "connector.pins").judgement.verdict is Verdict.WITHIN
    step = next(s for s in w.walk.steps if s.row.check == "vehicle.inlet_condition")
    assert not step.is_done
    assert not step.shut_because
    look_at(w, "vehicle.inlet_condition")
    seen = row(w.walk, "vehicle.inlet_condition")
    assert (seen.judgement.verdict, seen.is_owed_again, seen.superseded) == (
        Verdict.WITHIN,
        False,
        (2,),
    )


def test_an_entry_of_a_station_that_is_no_more_stays_in_the_record(walks: Walks):
    w = walks(points=ADAPTED)
    look_at(w, "adapter.pins")
    hangs = w.walk.consequence(INLET, Coupler.TYPE_1.value)
    assert (hangs.gone, hangs.asked_no_more) == (("Adapter",), ("Adapter: pins and housing",))
    w.do(lambda walk: walk.correct(INLET, Coupler.TYPE_1.value))
    assert [e.check for e in w.walk.visit.entries] == ["adapter.pins"]
    assert not [r for r in w.walk.assessment.rows if r.station is Station.ADAPTER]
    # corrected back, it was looked at: nothing else stood there
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    assert row(w.walk, "adapter.pins").judgement.verdict is Verdict.WITHIN
    assert facts.before(INLET, w.walk.visit) == ("SAE J1772", "SAE J3400")


def test_a_danger_that_was_found_stays_found_until_somebody_looks_again(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("connector.pins"))
    questions = w.walk.open_questions
    if w.walk.awaits_cautions:
        w.do(lambda walk: walk.acknowledge())
    for _ in questions.check.inputs:
        w.do(lambda walk: walk.answer("yes"))
    if w.walk.awaits_danger:
        w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    found = w.do(lambda walk: walk.commit())
    assert found.judgement.verdict is Verdict.OUTSIDE
    w.do(lambda walk: walk.correct(f"connector@{POINT}", Coupler.J3400.value))
    still = row(w.walk, "connector.pins")
    assert (still.judgement.verdict, still.is_owed_again) == (Verdict.OUTSIDE, True)
    assert still.judgement.severity == found.judgement.severity
    w.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS, check_id="connector.pins"))
    assert row(w.walk, "connector.pins").judgement.verdict is Verdict.OUTSIDE


def test_a_circuit_that_was_proved_dead_is_not_dead_once_another_panel_feeds_it(walks: Walks):
    """The lock hangs on a breaker of the panel that was named first."""
    w = walks(panels=TWO_PANELS)
    w.proves_dead()
    assert w.walk.state is CircuitState.DEAD
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    assert w.walk.state is None
    for check in ("breaker.lock_and_tag", "breaker.absence_of_voltage"):
        assert row(w.walk, check).judgement.verdict is Verdict.NOT_MEASURED
    assert len(w.walk.visit.states) == 1
    w.refused(lambda walk: walk.begin("breaker.lock_and_tag"), "must be off")
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "must not be energised")
    # and named back, it is to be made dead anew: the lock may hang elsewhere by now
    w.do(lambda walk: walk.correct(FEEDER, PANEL))
    assert w.walk.state is None
    w.proves_dead()
    assert w.walk.state is CircuitState.DEAD


def test_a_circuit_that_was_live_stays_live_and_is_made_dead_first(walks: Walks):
    w = walks(panels=TWO_PANELS, states=(said_to_be(LIVE, 1),))
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    assert w.walk.state is CircuitState.ENERGISED
    assert w.walk.must_be_dead


@pytest.mark.parametrize("state", [LIVE, "under load"])
def test_each_live_circuit_that_a_correction_shuts_is_named_whatever_point_is_open(
    walks: Walks, state: str
):
    sound = built("receptacle", {})
    last = max(e.number for e in sound.entries)
    w = walks(
        kind=sound.kind,
        role=sound.role,
        panels=TWO_PANELS,
        points=(*sound.points, point(id="bay-2", name="Bay 2", panel="panel-b")),
        entries=sound.entries,
        states=(said_to_be(state, last + 1),),
    )
    w.do(lambda walk: walk.go_to_point("bay-2"))
    hangs = w.walk.consequence(FEEDER, "panel-b")
    assert (hangs.dead_first, hangs.is_dead_first) == (("Bay 1",), True)
    other = w.walk.consequence("feeder@bay-2", PANEL)
    assert (other.dead_first, other.is_dead_first) == ((), False)


def test_undo_takes_a_correction_back_and_what_was_proved_dead_is_proved_anew(walks: Walks):
    w = walks(panels=TWO_PANELS)
    w.proves_dead()
    before = w.walk.visit
    w.do(lambda walk: walk.correct(FEEDER, "panel-b"))
    assert w.walk.last_recorded == "the correction"
    w.do(lambda walk: walk.undo())
    now = w.walk.visit
    assert (now.points, now.corrections, now.entries) == (before.points, (), before.entries)
    assert w.walk.state is CircuitState.DEAD
    stale = {s.row.check for s in w.walk.steps if s.is_stale}
    assert {"breaker.lock_and_tag", "breaker.absence_of_voltage"} <= stale


def test_undo_of_an_inlet_puts_back_what_stood_with_all_its_verdicts(walks: Walks):
    w = walks()
    look_at(w, "vehicle.inlet_condition")
    rows = w.walk.assessment.rows
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    w.do(lambda walk: walk.undo())
    assert w.walk.assessment.rows == rows
    assert w.walk.last_recorded == "Vehicle's inlet"


def test_a_check_that_was_half_made_is_asked_again_and_its_answers_stand_in_its_note(
    walks: Walks,
):
    w = walks()
    w.do(lambda walk: walk.begin("vehicle.inlet_condition"))
    if w.walk.awaits_cautions:
        w.do(lambda walk: walk.acknowledge())
    label = w.walk.open_questions.current.label
    w.do(lambda walk: walk.answer("no"))
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    assert w.walk.questions is None
    w.do(lambda walk: walk.begin("vehicle.inlet_condition"))
    begun = w.walk.open_questions.entry
    assert begun.answers == ()
    assert f"{label}: No" in begun.note


def test_while_a_danger_is_answered_and_not_entered_nothing_it_looks_at_is_corrected(
    walks: Walks,
):
    w = walks()
    w.do(lambda walk: walk.begin("connector.pins"))
    if w.walk.awaits_cautions:
        w.do(lambda walk: walk.acknowledge())
    while not w.walk.awaits_danger:
        w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    assert w.walk.open_questions.missing
    w.refused(
        lambda walk: walk.correct(f"connector@{POINT}", Coupler.J3400.value),
        "its check is not finished",
    )


def test_how_the_charger_is_connected_owes_again_what_looked_at_the_outlet(walks: Walks):
    w = walks()
    look_at(w, "panel.condition")
    look_at(w, "outlet.damage")
    w.do(lambda walk: walk.correct(f"connection@{POINT}", "level 2 hard-wired"))
    here = w.walk.point
    assert (here.attachment, here.charger_form) == (Attachment.HARD_WIRED, ChargerForm.FIXED)
    assert row(w.walk, "outlet.damage").is_owed_again
    assert not row(w.walk, "panel.condition", PANEL).is_owed_again


def test_another_supply_changes_the_volts_of_every_level_2_point(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.correct("system@site", SupplySystem.WYE_208.value))
    assert w.walk.visit.points[0].nominal_v == 208
    (made,) = w.walk.visit.corrections
    assert (made.system, made.points[0].nominal_v) == (SupplySystem.SPLIT_PHASE, 240)
    assert Visit.model_validate_json(w.walk.visit.model_dump_json()) == w.walk.visit


def test_another_code_judges_at_once_and_after_a_kill(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.correct("code@site", "cec_2021"))
    assert (w.walk.assessment.code, w.walk.code.name) == ("cec_2021", "cec_2021")
    w.do(lambda walk: walk.undo())
    assert w.walk.assessment.code == "nec_2023"


@pytest.mark.parametrize("key", ["inlet@bay-9", "colour@bay-1", "permit@bay-1", "", "name@site"])
def test_a_fact_that_is_not_there_is_refused(walks: Walks, key: str):
    walks().refused(lambda walk: walk.correct(key, "x"), "is not there")


def test_a_signed_visit_takes_no_correction(walks: Walks):
    w = walks()
    w.store.seal(w.id, {"by": "an invented technician"})
    with pytest.raises(Exception, match="signed"):
        w.walk.correct("permit@site", "P-0000")


def unasked(**over: object) -> tuple:
    return (point(inlet=None, is_vehicle_asked=False, **over),)


def test_a_point_that_was_taken_over_waits_for_the_vehicle_that_is_here_today(walks: Walks):
    w = walks(points=unasked())
    assert w.walk.asks_vehicle == INLET
    assert row(w.walk, "vehicle.inlet_condition").judgement.verdict is Verdict.NOT_MEASURED
    for check in ("vehicle.inlet_condition", "connector.seating", "surroundings.reach"):
        w.refused(lambda walk, c=check: walk.begin(c), "say which vehicle is here")
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    assert w.walk.asks_vehicle == ""
    assert w.walk.point.has_adapter
    assert w.walk.visit.corrections == ()  # it was asked for the first time


def test_undo_of_a_correction_keeps_the_vehicle_that_was_first_named_after_it(walks: Walks):
    w = walks(points=unasked())
    w.do(lambda walk: walk.correct(f"connector@{POINT}", Coupler.J3400.value))
    w.do(lambda walk: walk.correct(INLET, Coupler.J3400.value))
    w.do(lambda walk: walk.undo())
    here = w.walk.point
    assert (here.connector, here.inlet) == (Coupler.TYPE_1, Coupler.J3400)
    assert (here.is_vehicle_asked, w.walk.asks_vehicle) == (True, "")
    assert w.walk.visit.corrections == ()


def test_a_copied_point_asks_for_its_own_vehicle(walks: Walks):
    w = walks(points=ADAPTED)
    made = w.do(lambda walk: walk.copy_point(POINT))
    w.do(lambda walk: walk.go_to_point(made))
    assert (w.walk.point.inlet, w.walk.asks_vehicle) == (None, f"inlet@{made}")
    w.do(lambda walk: walk.correct(f"inlet@{made}", "no vehicle here"))
    assert w.walk.asks_vehicle == ""
    assert Station.VEHICLE not in path(w.walk.point)


def test_severity_is_told_of_what_is_asked_no_more(walks: Walks):
    w = walks(points=ADAPTED)
    w.do(lambda walk: walk.begin("adapter.pins"))
    if w.walk.awaits_cautions:
        w.do(lambda walk: walk.acknowledge())
    for _ in w.walk.check.inputs:
        w.do(lambda walk: walk.answer("yes"))
    if w.walk.awaits_danger:
        w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    made = w.do(lambda walk: walk.commit())
    assert made.judgement.severity in (Severity.DANGER, Severity.WARNING)
    (told,) = w.walk.consequence(INLET, "no vehicle here").found
    assert told.startswith("Adapter: pins and housing (Bay 1): ")


@pytest.mark.parametrize(
    ("changed", "owed", "stands"),
    [
        ({"panel": "panel-b"}, "breaker.rating", "charger.nameplate"),
        ({"panel": "panel-b"}, "run.conductor", "outlet.configuration"),
        ({"level": 1, "nominal_v": 120}, "breaker.lock_and_tag", "run.conductor"),
        ({"attachment": Attachment.HARD_WIRED}, "outlet.damage", "charger.damage"),
        ({"charger_form": ChargerForm.CORD_SET}, "charger.mounting", "outlet.damage"),
        ({"connector": Coupler.J3400}, "connector.pins", "vehicle.inlet_condition"),
        ({"inlet": Coupler.J3400}, "connector.seating", "connector.pins"),
        ({"name": "Bay 7"}, "", "breaker.rating"),
    ],
)
def test_what_was_looked_at_parts_from_what_is_installed(
    changed: dict[str, object], owed: str, stands: str
):
    before, now = point(), point(**changed)
    assert parted(stands, before, now) == ""
    assert not owed or parted(owed, before, now).endswith("make it again")


def test_a_warning_that_another_code_does_not_know_is_told_before_the_code_is_corrected(
    walks: Walks,
):
    long = long_run().as_recorded(9)
    w = walks(code=long.code, entries=long.entries)
    hangs = w.walk.consequence("code@site", "nec_2023")
    assert hangs.found == ()  # nothing that is there is in doubt by it
    (told,) = hangs.anew
    assert told.startswith("Run length (Bay 1): ")
    assert hangs
    assert w.walk.visit.code == "cec_2021"  # it was only asked
    # and what stands as it did is not told
    assert not w.walk.consequence("site@site", "Another invented site")
