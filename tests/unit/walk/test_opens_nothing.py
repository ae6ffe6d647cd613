"""A walk of who opens nothing: told what is dead, live and allowed, and by whom."""

from checks.check import CASE_UNREAD, CircuitState
from checks.path import Station
from checks.record import NotDoneReason, Role
from checks.verdict import Severity
from fieldapp.walk.agenda import Step
from tests.builders import POINT
from tests.gallery.walking import make
from tests.unit.walk.reopened import Reopened, Walks, plausible_but, said_to_be


def test_who_opens_nothing_is_offered_no_dead_test(walks: Walks):
    w = walks(role=Role.INSPECTS)
    assert not [s for s in w.walk.steps if s.row.state is CircuitState.DEAD]
    w.refused(lambda walk: walk.begin("breaker.lock_and_tag"), "does not apply here")


def looks_sound(w: Reopened) -> None:
    """Make every check that needs no state, as the eye finds a sound installation."""
    while isinstance(step := w.walk.next_step, Step):
        make(w.walk, step.row.check, {})


def test_who_opens_nothing_energises_nothing_and_says_who_did(walks: Walks):
    w = walks(role=Role.INSPECTS)
    how = w.walk.switching(CircuitState.ENERGISED)
    assert how.title == "Is the circuit live?"
    assert not any("becomes live" in c.text for c in how.cautions)
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "nobody is named.*energised")
    w.do(
        lambda walk: walk.enter_state(
            CircuitState.ENERGISED, brought_by=" Sam Sample, Example Electric ", is_found=True
        )
    )
    (entered,) = w.walk.visit.states
    assert (entered.brought_by, entered.is_found) == ("Sam Sample, Example Electric", True)
    assert entered.cautions == tuple(c.text for c in how.cautions)


HANDS = ("connector.seating", "connector.pins", "charger.cable", "charger.mounting")


def test_no_hand_is_on_a_live_charger_before_its_enclosure_was_read(walks: Walks):
    """Metal that is live shocks whoever touches it: common practice, no source."""
    w = walks(role=Role.INSPECTS)
    for check in HANDS:
        w.refused(lambda walk, check=check: walk.begin(check), "first: Volts on the enclosure")
    looks_sound(w)
    w.do(lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam", is_found=True))
    looks_sound(w)
    made = [e.check for e in sorted(w.walk.visit.entries, key=lambda e: e.number)]
    assert all(made.index("charger.enclosure_voltage") < made.index(c) for c in HANDS)


def test_a_reason_for_not_reading_the_enclosure_puts_no_hand_on_a_live_charger(walks: Walks):
    w = walks(role=Role.INSPECTS)
    looks_sound(w)
    w.do(lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam", is_found=True))
    reason, case = NotDoneReason.NO_INSTRUMENT, "charger.enclosure_voltage"
    w.do(lambda walk: walk.leave_out(reason, check_id=case))
    for check in HANDS:
        w.refused(lambda walk, check=check: walk.begin(check), "first: Volts on the enclosure")
        w.do(lambda walk, check=check: walk.leave_out(reason, check_id=check))


def test_a_charger_that_is_not_live_is_touched_with_its_caution(walks: Walks):
    w = walks(role=Role.INSPECTS)
    looks_sound(w)
    reason = NotDoneReason.OTHER
    w.do(lambda walk: walk.go_without(CircuitState.ENERGISED, reason, "It is not live"))
    w.do(lambda walk: walk.begin("connector.pins"))
    assert CASE_UNREAD in w.walk.awaits_cautions


def test_who_proves_it_dead_may_touch_it_first_and_later_reads_the_enclosure(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("connector.pins"))
    assert CASE_UNREAD in w.walk.awaits_cautions
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.proves_dead()
    w.do(lambda walk: walk.begin("connector.pins"))
    assert CASE_UNREAD not in w.walk.awaits_cautions
    live = walks(states=(said_to_be("energised", 1),))
    live.refused(lambda walk: walk.begin("connector.pins"), "first: Volts on the enclosure")


def test_who_opens_nothing_starts_a_charge_only_where_allowed_and_after_the_looks(walks: Walks):
    w = walks(role=Role.INSPECTS)
    looks_sound(w)
    assert w.walk.next_step is CircuitState.ENERGISED
    w.do(lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam", is_found=True))
    w.refused(
        lambda walk: walk.enter_state(CircuitState.UNDER_LOAD, brought_by="Sam"),
        "must not be under load yet.*Volts without load",
    )
    looks_sound(w)
    assert w.walk.next_step is CircuitState.UNDER_LOAD
    assert w.walk.switching(CircuitState.UNDER_LOAD).title == "May a charge be started?"
    load = [s.row.check for s in w.walk.steps if s.row.state is CircuitState.UNDER_LOAD]
    w.do(lambda walk: walk.go_without(CircuitState.UNDER_LOAD, NotDoneReason.OTHER, "No car"))
    assert w.walk.next_step.row.station is Station.HANDOVER  # what closes the work is all there is
    assert {e.check for e in w.walk.visit.entries if e.not_done} == set(load)
    w.do(lambda walk: walk.undo())
    assert w.walk.next_step is CircuitState.UNDER_LOAD
    w.do(lambda walk: walk.enter_state(CircuitState.UNDER_LOAD, brought_by="Sam"))
    assert w.walk.state is CircuitState.UNDER_LOAD


def test_a_danger_shuts_the_live_states_for_who_opens_nothing_too(walks: Walks):
    w = walks(role=Role.INSPECTS)
    w.makes("outlet.damage", *plausible_but("outlet.damage", "yes"))
    assert w.walk.assessment.row("outlet.damage", POINT).judgement.severity is Severity.DANGER
    w.refused(
        lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam"),
        "must not be energised yet",
    )
