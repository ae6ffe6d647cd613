"""What comes next, and which circuit state may be entered, on the invented demo visit."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from checks import codes
from checks.assess import Assessment, assess
from checks.check import CircuitState
from checks.record import StateEntry, Visit
from fieldapp import demo
from fieldapp.store import Store
from fieldapp.walk.agenda import gate, next_step, state_now, steps
from fieldapp.walk.visit import Walk, WalkError


@pytest.fixture(scope="module")
def walked() -> Visit:
    """The demo's record, every check made or left out, last under load."""
    return demo.run()[0].model_copy(update={"signoff": None})


def assessed(visit: Visit) -> Assessment:
    return assess(visit, codes.profile(visit.code))


def coming(visit: Visit) -> object:
    point = visit.points[0]
    return next_step(steps(visit, assessed(visit), point), state_now(visit, point.id))


def without(visit: Visit, check: str) -> Visit:
    return visit.model_copy(update={"entries": tuple(e for e in visit.entries if e.check != check)})


def dead_again(visit: Visit) -> Visit:
    last = max(e.number for e in (*visit.entries, *visit.states))
    made = StateEntry(
        number=last + 1, point=visit.points[0].id, state="dead and proved", at=visit.started
    )
    return visit.model_copy(update={"states": (*visit.states, made)})


def test_nothing_is_owed_at_the_end(walked: Visit) -> None:
    assert coming(walked) is None


def test_a_dead_check_that_was_passed_by_brings_the_walk_back_to_dead(walked: Visit) -> None:
    assert coming(without(walked, "breaker.terminal_torque")) is CircuitState.DEAD


def test_what_waits_for_a_mended_part_is_not_what_comes_next(walked: Visit) -> None:
    """No charging through the adapter that does not seat, so its temperature is not asked for."""
    assert coming(without(walked, "adapter.temperature")) is None


def test_volts_read_before_the_circuit_was_made_dead_again_open_no_load(walked: Visit) -> None:
    point = walked.points[0].id
    assert gate(assessed(walked), point, CircuitState.UNDER_LOAD).is_open
    again = gate(assessed(dead_again(walked)), point, CircuitState.UNDER_LOAD)
    assert not again.is_open
    assert "outlet.no_load_voltage" in again.waiting


def test_a_load_is_put_on_an_energised_circuit_only(walked: Visit, tmp_path: Path) -> None:
    only_dead = walked.model_copy(update={"states": walked.states[:1]})
    with Store(tmp_path) as store:
        store.save(only_dead.model_dump(mode="json"))
        walk = Walk(store, only_dead.id, lambda: datetime(2026, 5, 12, 12, tzinfo=UTC))
        assert walk.state is CircuitState.DEAD
        assert gate(walk.assessment, walk.point_id, CircuitState.UNDER_LOAD).is_open
        with pytest.raises(WalkError, match="not energised"):
            walk.enter_state(CircuitState.UNDER_LOAD)
        walk.enter_state(CircuitState.ENERGISED)
        walk.enter_state(CircuitState.UNDER_LOAD)
        assert walk.state is CircuitState.UNDER_LOAD
