"""A panel's bus: proved dead before any answer inside it, and live again with any circuit."""

import pytest

from checks.check import Choice, CircuitState
from checks.record import (
    NotDoneReason,
    VisitKind,
)
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from tests.builders import POINT, point
from tests.ui.answers import plausible
from tests.unit.walk.reopened import BUS_DEAD, LOCKED, Walks, said_to_be


@pytest.mark.parametrize("state", ["energised", "under load"])
def test_a_panel_is_not_dead_while_another_of_its_circuits_is_live(walks: Walks, state: str):
    w = walks(
        points=(point(), point(id="bay-2", name="Bay 2")),
        states=(said_to_be(state, 1, at="bay-2"),),
    )
    w.proves_dead()
    w.refused(lambda walk: walk.begin("panel.terminals"), "first make dead as well: Bay 2")
    assert w.walk.live_beside.name == "Bay 2"  # what the way on leads to once all else is made
    assert w.walk.dead_beside is None
    w.do(lambda walk: walk.go_to_point("bay-2"))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.go_to_point(POINT))
    w.refused(lambda walk: walk.begin("panel.terminals"), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    w.do(lambda walk: walk.begin("panel.terminals"))


BUS = "panel.absence_of_voltage"
IN_THE_PANEL = [
    c.id
    for c in BY_ID.values()
    if BUS in c.needs and VisitKind.COMMISSIONING in c.kinds and c.id != "panel.feeder_ground"
]  # but for what a service panel has not
AT_THE_PANEL = [
    pytest.param(c.id, o.value, id=f"{c.id} {o.value}")
    for c in BY_ID.values()
    for i in c.inputs
    if isinstance(i, Choice)
    for o in i.options
    if BUS in o.needs and c.state is CircuitState.DEAD
]


@pytest.mark.parametrize("check", IN_THE_PANEL)
def test_no_answer_inside_a_panel_is_given_on_a_live_bus(walks: Walks, check: str):
    """NFPA 70E practice: verified dead before a hand goes in, and verified anew after switching."""
    w = walks()
    w.proves_dead()
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", "yes", "yes", "no", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    w.do(lambda walk: walk.begin(check))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")


def test_a_panel_that_stays_on_is_left_out_with_all_that_needs_it(walks: Walks):
    w = walks()
    w.proves_dead()
    w.do(lambda walk: walk.begin("panel.absence_of_voltage"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER, "the owner needs the panel"))
    shut = {s.row.check for s in w.walk.steps if s.is_barred}
    assert set(IN_THE_PANEL) <= shut
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "Insulation")


@pytest.mark.parametrize(("check", "option"), AT_THE_PANEL)
def test_an_answer_at_the_panel_is_refused_on_a_live_bus(walks: Walks, check: str, option: str):
    """NFPA 70E practice: verified dead before a hand goes in, and verified anew after switching."""
    w = walks()
    w.proves_dead()
    w.answers(check)
    w.refused(lambda walk: walk.answer(option), "answered so now, first: Panel bus dead")
    w.do(lambda walk: walk.drop())
    w.makes(BUS, *BUS_DEAD)
    w.answers(check, option)
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.answers(check)
    current = w.walk.questions.current if w.walk.questions else None
    assert current is not None
    w.refused(
        lambda walk: walk.answer(plausible(check, current)),
        "answered so now, first: Panel bus dead|no .* was named|no number is typed",
    )


def test_a_panel_that_stays_on_is_tested_from_the_outlet(walks: Walks):
    """Common practice, no source: breaker off, locked, proved dead, tested from the outlet end."""
    w = walks()
    w.proves_dead()
    closed = {
        "panel.neutral_bond": ["closed"],
        "run.protective_conductor": ["closed", "yes", "value", "0.07 Ω"],
        "run.polarity": ["closed", "yes", "yes", "yes"],
        "run.insulation": ["outlet", "yes", "500", "210 MΩ", "190 MΩ", "230 MΩ"],
    }
    for check, answers in closed.items():
        verdict = w.makes(check, *answers)
        assert verdict is not Verdict.OUTSIDE
        gates = {g.state: g for p in w.walk.assessment.points for g in p.gates}
        is_waiting = check in gates[CircuitState.ENERGISED].waiting
        assert is_waiting is (verdict is Verdict.NOT_MEASURED), check
