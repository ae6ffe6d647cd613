"""The circuit's states on the walk: what opens them, what shuts them, what is undone."""

import pytest

from checks.check import CircuitState
from checks.record import Coupler, NotDoneReason, Role, VisitKind
from checks.stations.all import BY_ID
from fieldapp.walk.agenda import Step
from fieldapp.walk.circuit import gate
from tests.builders import POINT, point
from tests.unit.walk.reopened import (
    BUS_DEAD,
    LIVE,
    LOCKED,
    Walks,
    said_to_be,
)


def test_energising_is_refused_until_the_dead_tests_stand(walks: Walks):
    w = walks()
    w.refused(
        lambda walk: walk.enter_state(CircuitState.ENERGISED),
        "Bay 1 must not be energised yet.*First: .*Lock and tag",
    )
    w.refused(lambda walk: walk.begin("breaker.lock_and_tag"), "circuit must be off")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    entered = w.walk.visit.states[0]
    assert entered.cautions
    assert (entered.number, w.walk.state) == (1, CircuitState.DEAD)
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag, Absence of voltage")
    w.makes("breaker.lock_and_tag", "yes", "no", "yes", "yes", "yes")
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag")
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "Lock and tag")
    w.refused(lambda walk: walk.enter_state(CircuitState.UNDER_LOAD), "Lock and tag")
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Panel bus dead")
    w.do(lambda walk: walk.begin("run.insulation"))


def test_dead_again_offers_lock_tag_and_absence_again_before_anything_else(walks: Walks):
    w = walks()
    w.proves_the_bus_dead()
    w.do(lambda walk: walk.begin("run.insulation"))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    proving = [s for s in w.walk.steps if BY_ID[s.row.check].proves]
    assert [s.is_done for s in proving] == [False, False]
    assert not any(s.shut_because for s in proving)
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag")
    stateless = (CircuitState.ANY, CircuitState.NO_CURRENT)
    for step in [s for s in w.walk.steps if s.row.state in stateless]:
        w.walk.leave_out(NotDoneReason.OTHER, check_id=step.row.check)
    coming = w.walk.next_step
    assert not isinstance(coming, CircuitState)
    assert coming is not None
    assert coming.row.check == "breaker.lock_and_tag"


def test_what_was_begun_in_one_state_is_not_gone_on_with_in_another(walks: Walks):
    w = walks()
    w.proves_the_bus_dead()
    w.answers("breaker.terminal_torque", "tightening")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert w.walk.questions is None
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Lock and tag")
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    again = w.do(lambda walk: walk.begin("breaker.terminal_torque"))
    assert [a.input for a in again.entry.answers] == ["occasion"]


def test_a_state_is_undone_like_an_entry(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert w.walk.last_recorded == "circuit dead and proved"
    assert w.do(lambda walk: walk.undo()) == "circuit dead and proved"
    assert (w.walk.state, w.walk.visit.states) == (None, ())
    assert w.do(lambda walk: walk.undo()) == ""


def test_a_circuit_said_to_be_live_in_error_is_proved_dead_anew(walks: Walks):
    """The record cannot know whether it was switched on (lockout practice: verify again)."""
    w = walks()
    w.proves_dead()
    live = w.walk.visit.model_copy(update={"states": (*w.walk.visit.states, said_to_be(LIVE, 9))})
    again = walks(entries=live.entries, states=live.states)
    assert again.walk.state is CircuitState.ENERGISED
    assert again.do(lambda walk: walk.undo()) == "circuit energised"
    assert again.walk.state is CircuitState.DEAD
    again.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag, Absence of")
    again.makes("breaker.lock_and_tag", *LOCKED)
    again.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    again.makes("panel.absence_of_voltage", *BUS_DEAD)
    again.do(lambda walk: walk.begin("run.insulation"))


SOUND = ("no", "no", "no", "no")
BURNT = ("yes", "no", "no", "no")


def test_nothing_is_pushed_home_before_both_faces_were_looked_at(walks: Walks):
    """A burnt or wet contact is not mated to see whether it sits: common practice, no source."""
    w = walks(points=(point(inlet=Coupler.J3400),))  # with an adapter between
    for seating in ("connector.seating", "adapter.seating"):
        w.refused(lambda walk, c=seating: walk.begin(c), "first: .*Adapter: pins and housing")
    w.makes("connector.pins", *SOUND)
    w.makes("vehicle.inlet_condition", *SOUND)
    w.makes("adapter.pins", *BURNT)
    for seating in ("connector.seating", "adapter.seating"):
        w.refused(lambda walk, c=seating: walk.begin(c), "first: Adapter: pins and housing")
    w.makes("adapter.pins", *SOUND)
    for seating in ("connector.seating", "adapter.seating"):
        w.do(lambda walk, c=seating: walk.begin(c))


@pytest.mark.parametrize("kind", [VisitKind.COMMISSIONING, VisitKind.SITE_RECORD])
def test_what_is_looked_at_comes_before_what_is_touched_in_the_order_of_the_walk(
    walks: Walks, kind: VisitKind
):
    w = walks(kind=kind, points=(point(inlet=Coupler.J3400),))
    asked = []
    while (step := w.walk.next_step) is not None and isinstance(step, Step):
        asked.append(step.row.check)
        w.walk.begin(step.row.check)
        if step.row.check.endswith((".pins", ".inlet_condition")):
            if w.walk.awaits_cautions:
                w.walk.acknowledge()
            for answer in SOUND:
                w.walk.answer(answer)
            w.walk.commit()
        else:
            w.walk.leave_out(NotDoneReason.OTHER)
    at = asked.index
    assert max(at("adapter.pins"), at("vehicle.inlet_condition")) < at("adapter.seating")
    assert max(at("connector.pins"), at("adapter.pins")) < at("connector.seating")


def test_a_load_is_taken_back_only_once_its_current_is_at_zero(walks: Walks):
    """Without load a hand may be on the coupler: common practice, no source."""
    states = (said_to_be(LIVE, 1), said_to_be("under load", 2))
    w = walks(states=states)
    assert w.walk.undo_ends_load
    w.refused(lambda walk: walk.undo(), "a charge may still run")
    w.refused(lambda walk: walk.begin("connector.pins"), "end the charge")
    assert w.do(lambda walk: walk.undo(has_ended=True)) == "circuit under load"
    assert w.walk.state is CircuitState.ENERGISED
    # without load it is the enclosure alone that is read before a hand is there
    w.refused(lambda walk: walk.begin("connector.pins"), "first: Volts on the enclosure")


def test_taking_the_load_off_asks_for_the_end_of_the_charge_and_energises_nothing(walks: Walks):
    w = walks(states=(said_to_be(LIVE, 1), said_to_be("under load", 2)))
    how = w.walk.switching(CircuitState.ENERGISED)
    assert how.title == "Take the load off"
    assert [c.words for c in how.claims] == ["The charge has ended, current at zero"]
    assert not any("becomes live" in c.text for c in how.cautions)


def test_a_live_circuit_is_made_dead_once_a_trip_of_no_known_kind_is_told(walks: Walks):
    """A trip that nobody understands is not closed onto: common practice, no source."""
    call = {"kind": VisitKind.SERVICE_CALL, "role": Role.SERVES}
    w = walks(**call, states=(said_to_be(LIVE, 1),))
    w.makes("breaker.trip_history", "hours", "overcurrent")
    assert w.walk.must_be_dead, "its insulation is not proved"
    w.makes("breaker.trip_history", "never")
    before = gate(w.walk.assessment, POINT, CircuitState.ENERGISED).waiting
    w.makes("breaker.trip_history", "hours", "unknown")
    after = gate(w.walk.assessment, POINT, CircuitState.ENERGISED).waiting
    assert set(after) - set(before) == {"breaker.trip_history"}
