"""A service call to a burn in the panel, walked without a screen. Common practice, no source."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.check import CircuitState
from checks.record import NotDoneReason
from fieldapp.store.visits import Store
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.thread import LOCK, REPAIR, Stage, thread, to_repeat
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, enter, make

CALL = {"kind": "service call", "role": "serves"}
SMELL = {"panel.condition.has_heat_marks": "yes"}
FOUND = {
    "charger.behavior.start": "charges",
    "charger.behavior.stops": "no",
    "outlet.burn_pattern.place": "none",
    "breaker.trip_history.when": "hours",
    "breaker.trip_history.kind": "overcurrent",
    "breaker.condition.has_heat_marks": "yes",
    "breaker.terminal_torque.occasion": "found",
    "breaker.terminal_torque.found": "not loose",
    "breaker.joints.is_rocking": "yes",
    "breaker.joints.is_off_bus": "yes",
    "breaker.joints.is_stab_burnt": "yes",
    "surroundings.repair.outcome": "mended",
    "surroundings.repair.replaced": "bus",
}


@pytest.fixture
def walk(tmp_path: Path) -> Iterator[Walk]:
    with Store(tmp_path) as store:
        yield begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **CALL)


def coming(walk: Walk) -> str:
    now = thread(walk).next
    assert now is not None
    return now.row.check if isinstance(now, Step) else now.value


def go(walk: Walk, until: Stage) -> list[str]:
    """Follow the thread until a stage; what was made, in order."""
    made = []
    while thread(walk).stage is not until:
        step = thread(walk).next
        made.append(coming(walk))
        if isinstance(step, CircuitState):
            enter(walk, step)
        else:
            make(walk, made[-1], FOUND)
    return made


def test_dead_and_locked_comes_first_though_no_state_was_recorded(walk: Walk) -> None:
    make(walk, "panel.condition", SMELL)
    assert walk.state is None
    assert walk.must_be_dead
    assert coming(walk) == CircuitState.DEAD.value
    said = " ".join(walk.switching(CircuitState.DEAD).do)
    assert "hot, burnt or wet, leave it alone" in said, "the handle of what burns is not worked"
    enter(walk, CircuitState.DEAD)
    assert coming(walk) == LOCK
    make(walk, LOCK, {})
    assert coming(walk) not in (LOCK, CircuitState.DEAD.value)


def test_without_a_danger_nothing_is_switched_before_it_has_to_be(walk: Walk) -> None:
    make(walk, "panel.condition", {})
    assert not walk.must_be_dead
    assert coming(walk) == "charger.behavior"


def test_new_work_that_was_never_live_is_not_asked_to_be_made_dead(tmp_path: Path) -> None:
    with Store(tmp_path / "new") as store:
        work = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)))
        make(work, "panel.condition", SMELL)
        assert not work.must_be_dead


def test_the_thread_takes_the_breaker_off_a_dead_bus_and_owes_all_of_the_new_one(
    walk: Walk,
) -> None:
    for plate in ("breaker.rating", "panel.breaker_listed", "breaker.trip_history"):
        make(walk, plate, FOUND)
    make(walk, "breaker.condition", FOUND)
    made = go(walk, Stage.REPAIR)
    assert made[:2] == [CircuitState.DEAD.value, LOCK]
    assert made.index("panel.absence_of_voltage") < made.index("breaker.joints")
    assert not {"energised", "under load", "breaker.temperature"} & set(made)
    made += go(walk, Stage.REPEAT)
    assert thread(walk).ranking.causes[0].cause == "burnt_stab"
    assert made.index("panel.terminals") < made.index(REPAIR), "what its heat reached"
    owed = to_repeat(walk)
    assert {"breaker.condition", "breaker.joints", "panel.terminals"} <= set(owed)
    assert {"panel.breaker_listed", "breaker.terminal_torque", "breaker.rating"} <= set(owed)


def test_a_panel_that_stays_on_is_left_out_and_the_search_goes_on_elsewhere(walk: Walk) -> None:
    make(walk, "breaker.condition", FOUND)
    enter(walk, CircuitState.DEAD)
    make(walk, LOCK, {})
    make(walk, "breaker.absence_of_voltage", {})
    walk.leave_out(NotDoneReason.NO_ACCESS, "runs a clinic", check_id="panel.absence_of_voltage")
    made = go(walk, Stage.REPAIR)
    assert not {"panel.terminals", "breaker.joints", "breaker.terminal_torque"} & set(made)
    left = walk.assessment.row("panel.absence_of_voltage", walk.visit.panels[0].id)
    assert "runs a clinic" in left.judgement.explanation
