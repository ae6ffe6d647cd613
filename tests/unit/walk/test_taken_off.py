"""An insulation test takes conductors off: what was tightened before it is tightened again.

Common practice, no source. And no test voltage goes through a breaker's electronics.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.check import REPAIR, CircuitState
from fieldapp.store.visits import Store
from fieldapp.walk import circuit
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.on_disk import WalkError
from fieldapp.walk.thread import thread, to_repeat
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, enter, make

AT_BREAKER, AT_OUTLET = "breaker.terminal_torque", "outlet.terminal_torque"
INSULATION, DEVICE = "run.insulation", "outlet.ground_fault"
FROM_PANEL = {"run.insulation.place": "panel"}
FROM_OUTLET = {"run.insulation.place": "outlet"}
NEW_BREAKER = {f"{REPAIR}.outcome": "mended", f"{REPAIR}.replaced": "breaker"}
READY = {"charger.behavior.start": "ready", "vehicle.trial.others": "same"}
TRIPPED = {"outlet.ground_fault_history.device": "upstream"}


def opened(folder: Path, **over: str) -> Iterator[Walk]:
    with Store(folder) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(folder).now)), **over)
        enter(walk, CircuitState.DEAD)
        for proof in ("breaker.lock_and_tag", "breaker.absence_of_voltage"):
            make(walk, proof, {})
        make(walk, "panel.absence_of_voltage", {})
        yield walk


@pytest.fixture
def work(tmp_path: Path) -> Iterator[Walk]:
    """Yield a new installation, its bus proved dead."""
    yield from opened(tmp_path)


@pytest.fixture
def call(tmp_path: Path) -> Iterator[Walk]:
    """Yield a service call, its bus proved dead."""
    over = {"kind": "service call", "role": "serves", "connection": "level 2 by receptacle"}
    yield from opened(tmp_path, **over)


def is_open(walk: Walk, check: str) -> bool:
    return not next(s for s in walk.steps if s.row.check == check).is_done


@pytest.mark.parametrize(
    ("place", "off"),
    [
        (FROM_PANEL, {AT_BREAKER}),  # an empty plain receptacle stays on its conductors
        (FROM_OUTLET, {AT_OUTLET}),
    ],
)
def test_torque_before_the_test_is_asked_for_again_and_once(
    work: Walk, place: dict[str, str], off: set[str]
) -> None:
    make(work, DEVICE, {f"{DEVICE}.device": "none"})
    for check in (AT_BREAKER, AT_OUTLET):
        make(work, check, {})
        assert not is_open(work, check)
    make(work, INSULATION, place)
    assert {c for c in (AT_BREAKER, AT_OUTLET) if is_open(work, c)} == off
    for check in off:
        row = work.assessment.row(check, work.point_id)
        assert "tested after this" in row.judgement.explanation
        make(work, check, {})
        assert not is_open(work, check)
        assert not work.visit.entries[-1].after_mending, "new work has nothing to mend"


def test_the_thread_tightens_after_the_test_whatever_was_tightened_before(call: Walk) -> None:
    make(call, "outlet.ground_fault_history", TRIPPED)
    make(call, REPAIR, NEW_BREAKER)
    make(call, DEVICE, {f"{DEVICE}.device": "none"})
    make(call, AT_BREAKER, {})
    assert AT_BREAKER not in to_repeat(call)
    make(call, INSULATION, FROM_PANEL)
    assert AT_BREAKER in to_repeat(call)
    make(call, AT_BREAKER, {})
    assert AT_BREAKER not in to_repeat(call)
    assert call.assessment.row(AT_BREAKER, call.point_id).judgement.verdict == "within"


def test_a_terminal_that_was_looked_at_and_taken_off_is_tightened_before_it_is_live(
    call: Walk,
) -> None:
    make(call, AT_BREAKER, {f"{AT_BREAKER}.occasion": "found", f"{AT_BREAKER}.found": "not loose"})
    make(call, INSULATION, FROM_PANEL)
    made = []
    while (coming := thread(call).next) is not CircuitState.ENERGISED:
        assert isinstance(coming, Step)
        made.append(coming.row.check)
        make(call, made[-1], READY)
    assert made.count(AT_BREAKER) == 1
    assert not call.visit.entries[-1].after_mending


def test_a_terminal_that_nobody_looked_at_before_is_tightened_after_the_test(call: Walk) -> None:
    make(call, "outlet.ground_fault_history", TRIPPED)
    make(call, DEVICE, {f"{DEVICE}.device": "none"})
    make(call, INSULATION, FROM_PANEL)
    made = []
    while (coming := thread(call).next) is not CircuitState.ENERGISED:
        assert isinstance(coming, Step)
        made.append(coming.row.check)
        make(call, made[-1], READY)
    assert made.count(AT_BREAKER) == 1


@pytest.mark.parametrize(
    ("places", "off"),
    [(("panel", "electronic"), AT_BREAKER), (("electronic", "panel"), AT_OUTLET)],
)
def test_a_test_from_elsewhere_tightens_nothing(
    work: Walk, places: tuple[str, str], off: str
) -> None:
    make(work, DEVICE, {f"{DEVICE}.device": "none"})
    for check in (AT_BREAKER, AT_OUTLET):
        make(work, check, {})
    for place in places:
        make(work, INSULATION, {"run.insulation.place": place})
        assert is_open(work, off)
    assert off in circuit.gate(work.assessment, work.point_id, CircuitState.ENERGISED).waiting
    make(work, off, {})
    assert off not in circuit.gate(work.assessment, work.point_id, CircuitState.ENERGISED).waiting


# -- the new breaker ---------------------------------------------------------------------------
def test_what_a_new_breaker_is_comes_before_any_test_voltage(call: Walk) -> None:
    """Its electronics are between the lines and the test voltage: common practice, no source."""
    make(call, "outlet.ground_fault_history", TRIPPED)
    make(call, REPAIR, NEW_BREAKER)
    order = to_repeat(call)
    assert order.index(DEVICE) < order.index(INSULATION)
    with pytest.raises(WalkError, match="first: Ground-fault protection"):
        make(call, INSULATION, FROM_OUTLET)
    call.drop()
    make(call, DEVICE, {f"{DEVICE}.device": "breaker"})
    call.begin(INSULATION)
    asked = call.open_questions.asked[0]
    assert [o.value for o in asked.options] == ["panel", "electronic"]
    call.drop()
    make(call, DEVICE, {f"{DEVICE}.device": "none"})
    make(call, INSULATION, FROM_OUTLET)


def test_a_test_before_the_new_breaker_went_through_none_of_it(call: Walk) -> None:
    make(call, DEVICE, {f"{DEVICE}.device": "none"})
    make(call, INSULATION, FROM_OUTLET)
    before = call.assessment.row(INSULATION, call.point_id).judgement
    make(call, REPAIR, NEW_BREAKER)
    make(call, DEVICE, {f"{DEVICE}.device": "breaker"})
    assert call.assessment.row(INSULATION, call.point_id).judgement.verdict == before.verdict
