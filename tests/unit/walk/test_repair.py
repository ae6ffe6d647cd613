"""A part is replaced on conductors that are locked, tagged and proved dead, or it is not recorded.

29 CFR 1910.333(b)(2), from memory: locked and tagged, then verified, before conductors are handled.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.check import REPAIR, CircuitState
from checks.record import Attachment, NotDoneReason, Role, VisitKind
from fieldapp.store.visits import Store
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.thread import Stage, thread, to_repeat
from fieldapp.walk.visit import Walk
from tests.builders import point
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, enter, make, walk_to
from tests.unit.walk.reopened import BUS_DEAD, LIVE, LOCKED, Reopened, Walks, said_to_be

CALL = {"kind": VisitKind.SERVICE_CALL, "role": Role.SERVES}
WIRED = point(attachment=Attachment.HARD_WIRED)
REPLACED = [
    *((part, point(), BUS_DEAD) for part in ("breaker", "bus", "both")),
    ("receptacle", point(), ()),
    ("charger", WIRED, ()),
]
LOCK, PROOF = "breaker.lock_and_tag", "breaker.absence_of_voltage"
READ_DEAD = ("120.4 V", "yes", "0.1 V", "120.3 V")


def prove(w: Reopened, bus: tuple[str, ...]) -> None:
    w.makes(LOCK, *LOCKED)
    w.makes(PROOF, *READ_DEAD)
    if bus:
        w.makes("panel.absence_of_voltage", *bus)


@pytest.mark.parametrize(("part", "here", "bus"), REPLACED)
def test_a_part_is_said_to_be_replaced_only_where_its_conductors_were_proved_dead(
    walks: Walks, part: str, here: object, bus: tuple[str, ...]
) -> None:
    w = walks(**CALL, points=(here,))
    w.answers(REPAIR, "mended")
    w.refused(lambda walk: walk.answer(part), "answered so now, first: Lock and tag, Absence of")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes(LOCK, *LOCKED)
    w.makes(PROOF, *READ_DEAD)
    w.answers(REPAIR)
    if bus:
        w.refused(lambda walk: walk.answer(part), "first: Panel bus dead")
        w.do(lambda walk: walk.drop())
        w.makes("panel.absence_of_voltage", *bus)
        w.answers(REPAIR, "mended")
    w.answers(REPAIR, part, "A new one")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.begin(REPAIR))
    w.do(lambda walk: walk.pass_over())
    w.refused(lambda walk: walk.commit(), "answered so now, first: Lock and tag, Absence of")
    prove(w, bus)
    w.do(lambda walk: walk.begin(REPAIR))
    w.do(lambda walk: walk.commit())


def test_a_circuit_that_is_live_again_was_proved_dead_for_nothing(walks: Walks) -> None:
    w = walks(**CALL)
    w.proves_dead()
    live = (*w.walk.visit.states, said_to_be(LIVE, 9))
    again = walks(**CALL, entries=w.walk.visit.entries, states=live)
    again.answers(REPAIR, "mended")
    again.refused(lambda walk: walk.answer("receptacle"), "answered so now, first: Lock and tag")


@pytest.mark.parametrize("said", [("made_safe",), ("others",), ("explained",), ("mended", "none")])
def test_what_comes_to_no_conductor_is_said_in_any_state(
    walks: Walks, said: tuple[str, ...]
) -> None:
    """Without a meter the proof is given up, and what was made safe is still told."""
    w = walks(**CALL, points=(WIRED,))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes(LOCK, *LOCKED)
    w.do(lambda walk: walk.leave_out(NotDoneReason.NO_INSTRUMENT, check_id=PROOF))
    w.answers(REPAIR, *said, "Left off and locked")
    w.do(lambda walk: walk.pass_over())
    w.do(lambda walk: walk.commit())


def test_a_charger_on_a_cord_is_replaced_by_pulling_its_plug(walks: Walks) -> None:
    w = walks(**CALL)
    w.answers(REPAIR, "mended", "charger", "A new one")


def test_who_opens_nothing_tells_what_others_replaced(walks: Walks) -> None:
    w = walks(kind=VisitKind.SERVICE_CALL, role=Role.INSPECTS, points=(WIRED,))
    w.answers(REPAIR, "mended", "charger", "Replaced by Example Electric")


# -- the thread leads there --------------------------------------------------------------------
@pytest.fixture
def walk(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Walk]:
    over = {"kind": "service call", "role": "serves", "connection": request.param}
    with Store(tmp_path) as store:
        yield begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **over)


CUT = {
    "charger.behavior.start": "charges",
    "charger.behavior.stops": "touched",
    "charger.damage.is_cable_cut": "yes",
    "outlet.ground_fault_history.device": "charger",
    "outlet.ground_fault_history.when": "later",
}


def find(walk: Walk) -> None:
    """A cable that was cut: it opens the charger's own device when it is moved."""
    for check in ("charger.behavior", "outlet.ground_fault_history", "charger.damage"):
        make(walk, check, CUT)
    assert thread(walk).stage is Stage.REPAIR
    assert thread(walk).ranking.causes[0].cause == "charger_cable"


def coming(walk: Walk) -> str:
    now = thread(walk).next
    assert now is not None
    return now.row.check if isinstance(now, Step) else now.value


@pytest.mark.parametrize("walk", ["level 2 hard-wired"], indirect=True)
def test_a_charger_that_is_wired_in_is_replaced_on_a_dead_circuit(walk: Walk) -> None:
    find(walk)
    assert coming(walk) == CircuitState.DEAD.value
    enter(walk, CircuitState.DEAD)
    for proof in (LOCK, PROOF):
        assert coming(walk) == proof
        make(walk, proof, {})
    assert coming(walk) == REPAIR
    assert not thread(walk).is_unproved


@pytest.mark.parametrize("walk", ["level 2 hard-wired"], indirect=True)
def test_one_that_cannot_be_proved_dead_is_left_made_safe(walk: Walk) -> None:
    find(walk)
    enter(walk, CircuitState.DEAD)
    make(walk, LOCK, {})
    walk.leave_out(NotDoneReason.NO_INSTRUMENT, check_id=PROOF)
    assert (coming(walk), thread(walk).is_unproved) == (REPAIR, True)
    make(walk, REPAIR, {f"{REPAIR}.outcome": "made_safe"})
    assert thread(walk).stage is Stage.DECIDE


@pytest.mark.parametrize("walk", ["level 2 by receptacle"], indirect=True)
def test_one_on_a_cord_asks_for_no_proof(walk: Walk) -> None:
    find(walk)
    enter(walk, CircuitState.DEAD)  # for the danger that was seen
    assert coming(walk) == REPAIR


MONITOR = "charger.ground_monitor"
MENDED = {f"{REPAIR}.outcome": "mended", f"{REPAIR}.replaced": "none"}


@pytest.mark.parametrize("walk", ["level 2 hard-wired"], indirect=True)
def test_a_danger_found_live_after_the_repair_asks_for_another_and_is_read_again(
    walk: Walk,
) -> None:
    walk_to(walk, answers=MENDED)
    assert thread(walk).stage is Stage.REPEAT
    make(walk, MONITOR, {f"{MONITOR}.reaction": "charges"})
    assert (thread(walk).stage, thread(walk).aim) == (Stage.REPAIR, REPAIR)
    assert coming(walk) == CircuitState.DEAD.value
    enter(walk, CircuitState.DEAD)
    now = thread(walk)
    assert (coming(walk), now.is_repeat) == (REPAIR, True)
    make(walk, REPAIR, MENDED)
    assert thread(walk).stage is Stage.REPEAT
    assert MONITOR in to_repeat(walk)
    make(walk, REPAIR, {f"{REPAIR}.outcome": "made_safe"})
    assert thread(walk).stage is Stage.DECIDE
