"""The walk as a whole: its charging points, its signature, the disk, the record it makes."""

import json

import pytest

from checks.check import CircuitState
from checks.errors import RecordError
from checks.record import (
    Coupler,
    Decision,
    NotDoneReason,
    Panel,
    SignOff,
    Visit,
)
from tests.builders import PANEL, POINT, point
from tests.unit.walk.reopened import CONDITION, Walks, seen


def test_undo_follows_the_entry_to_its_point(walks: Walks):
    """Taken back at another point, an entry must not be made again at the wrong one."""
    w = walks(points=(point(), point(id="bay-2", name="Bay 2")))
    w.do(lambda walk: walk.go_to_point("bay-2"))
    w.makes("breaker.rating", "40 A", "2")
    w.do(lambda walk: walk.go_to_point(POINT))
    w.do(lambda walk: walk.undo())
    assert w.walk.point_id == "bay-2"
    w.do(lambda walk: walk.commit())
    assert [e.subject for e in w.walk.visit.entries] == ["bay-2"]


def test_what_is_recorded_at_a_shared_station_counts_for_every_point(walks: Walks):
    w = walks(
        panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")),
        points=(point(), point(id="bay-2"), point(id="bay-3", panel="panel-b")),
    )
    w.do(lambda walk: walk.begin("service.rating"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS))
    done = {}
    for name in (POINT, "bay-2", "bay-3"):
        w.do(lambda walk, n=name: walk.go_to_point(n))
        done[name] = [s.row.check for s in w.walk.steps if s.is_done]
    assert list(done.values()) == [["service.rating"]] * 3


def test_a_change_after_the_signature_asks_for_a_new_one(walks: Walks):
    w = walks()
    signed = SignOff(
        at="2025-06-02T10:00:00-04:00", decision=Decision.KEEP_OUT, strokes=(((0, 0), (9, 9)),)
    )
    w.do(lambda walk: walk.sign_off(signed))
    assert w.walk.visit.signoff == signed
    w.makes("breaker.condition", *CONDITION)
    assert w.walk.visit.signoff is None


def test_a_full_disk_loses_nothing_that_was_answered(walks: Walks, monkeypatch: pytest.MonkeyPatch):
    w = walks()
    w.answers("breaker.rating", "40 A", "2")
    before = seen(w.walk)

    def full(*_: object, **__: object) -> None:
        raise RecordError("the disk is full", where="store", remedy="Make room")

    for step in (lambda: w.walk.commit(), lambda: w.walk.enter_state(CircuitState.DEAD)):
        with monkeypatch.context() as patch:
            patch.setattr(w.store, "save", full)
            with pytest.raises(RecordError, match="disk is full"):
                step()
        assert seen(w.walk) == before
    assert w.walk.commit().entry == 1


def test_a_record_made_by_walking_reads_like_one_from_outside(walks: Walks):
    w = walks(points=(point(inlet=Coupler.J3400),))
    w.proves_dead()
    stored = w.store.load(w.id).visit
    assert Visit.model_validate_json(json.dumps(stored)) == w.walk.visit
