"""The end of a visit: nothing is lost on a wrong PIN or a cancel, and a signed record is closed."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

import pytest

from checks.check import CircuitState
from checks.errors import ChecksError
from checks.record import SCHEMA_VERSION, Decision, Person
from fieldapp.store.visits import Store
from fieldapp.walk.finish import FinishedReport, finish, has_key
from fieldapp.walk.visit import Walk
from tests.builders import point, visit

NOW = datetime(2025, 6, 2, 14, 0, tzinfo=UTC)
SCENARIOS: Final = Path(__file__).parents[2] / "scenarios"
STROKES = (((100, 200), (900, 250)),)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store") as opened:
        yield opened


def begun(store: Store, **over: Any) -> Walk:
    made = visit(**over)
    store.save(made.model_dump(mode="json"))
    return Walk(store, made.id, lambda: NOW)


def ended(store: Store, walk: Walk, keys: Path, **over: Any) -> FinishedReport:
    said: dict[str, Any] = {
        "strokes": STROKES,
        "decision": Decision.KEEP_OUT,
        "witness": None,
        "pin": "314159",
        "now": lambda: NOW,
        "progress": lambda _part, _text: None,
    }
    return finish(store, walk, keys, **{**said, **over})


def test_the_first_report_makes_the_key_and_the_next_one_uses_it(
    store: Store, tmp_path: Path
) -> None:
    keys = tmp_path / "key"
    assert not has_key(keys)
    first = ended(store, begun(store), keys)
    assert has_key(keys)
    second = ended(store, begun(store, id="visit-2"), keys)
    assert first.fingerprint == second.fingerprint
    assert first.path.read_bytes().startswith(b"%PDF-")


def test_a_signed_visit_takes_no_more_entries(store: Store, tmp_path: Path) -> None:
    walk = begun(store)
    ended(store, walk, tmp_path / "key")
    assert walk.is_signed
    with pytest.raises(ChecksError, match=r"signed|closed|sealed"):
        walk.enter_state(CircuitState.DEAD)
    again = Walk(store, walk.visit.id, lambda: NOW)
    assert again.is_signed
    assert again.visit.signoff is not None


def test_the_seal_keeps_the_assessment_with_its_versions(store: Store, tmp_path: Path) -> None:
    walk = begun(store)
    ended(store, walk, tmp_path / "key")
    seal = store.load(walk.visit.id).seal
    assert seal is not None
    assert seal.content["assessment"] == walk.assessment.model_dump(mode="json")
    assert (seal.content["software"], seal.content["code"]) == (
        walk.assessment.software,
        "nec_2023",
    )


def test_a_wrong_pin_leaves_the_visit_open_and_can_be_tried_again(
    store: Store, tmp_path: Path
) -> None:
    keys = tmp_path / "key"
    ended(store, begun(store), keys)
    walk = begun(store, id="visit-2")
    with pytest.raises(ChecksError, match="PIN"):
        ended(store, walk, keys, pin="271828")
    assert not walk.is_signed
    ended(store, walk, keys)
    assert walk.is_signed


class TurnedBackError(Exception):
    """The technician turned back."""


def test_a_cancel_at_any_step_leaves_the_visit_open(store: Store, tmp_path: Path) -> None:
    keys = tmp_path / "key"
    parts: list[float] = []
    ended(store, begun(store), keys, progress=lambda part, _text: parts.append(part))
    assert parts == sorted(parts)
    for stop_at in (0.0, 0.3, 0.8, 0.95):
        name = f"visit-{stop_at}"
        walk = begun(store, id=name)

        def cancel(part: float, _text: str, at: float = stop_at) -> None:
            if part >= at:
                raise TurnedBackError

        with pytest.raises(TurnedBackError):
            ended(store, walk, keys, progress=cancel)
        assert not Walk(store, name, lambda: NOW).is_signed
        ended(store, walk, keys)
        assert walk.is_signed


def test_nobody_signs_for_nobody(store: Store, tmp_path: Path) -> None:
    walk = begun(store, technician=Person(name=" "))
    with pytest.raises(ChecksError, match="Enter your name"):
        ended(store, walk, tmp_path / "key")
    walk.name_technician(Person(name="Invented Person"))
    ended(store, walk, tmp_path / "key")


def test_what_an_earlier_schema_signed_is_read_and_stays_as_it_was(store: Store) -> None:
    frozen = json.loads((SCENARIOS / "schema_1.json").read_text(encoding="utf-8"))
    store.save(frozen)
    store.seal(frozen["id"], {"by": "an invented technician"})
    walk = Walk(store, frozen["id"], lambda: NOW)
    assert walk.is_signed
    assert walk.visit.signoff is not None
    assert str(walk.visit.signoff.witness) == "Invented Owner: was not asked to sign"
    assert store.load(frozen["id"]).visit == frozen


def test_a_check_left_open_by_an_earlier_schema_keeps_its_photo_and_the_mark(store: Store) -> None:
    """Drafts said no schema before the third."""
    frozen = json.loads((SCENARIOS / "schema_2.json").read_text(encoding="utf-8"))
    entry = {**frozen["entries"][0], "number": 9}
    draft = {
        "point": frozen["points"][0]["id"],
        "entry": entry,
        "typed": {},
        "passed": [],
        "at": "",
    }
    store.save({**frozen, "signoff": None}, draft=draft)
    begun = Walk(store, frozen["id"], lambda: NOW).questions
    assert begun is not None
    assert [len(p.marks) for p in begun.entry.photos] == [1, 0]


def test_an_open_visit_of_an_earlier_schema_is_gone_on_with_in_this_one(store: Store) -> None:
    frozen = json.loads((SCENARIOS / "schema_1.json").read_text(encoding="utf-8"))
    store.save({**frozen, "signoff": None})
    walk = Walk(store, frozen["id"], lambda: NOW)
    walk.name_technician(Person(name="Invented Person"))
    assert store.load(frozen["id"]).visit["schema_version"] == SCHEMA_VERSION
    assert len(walk.visit.entries) == len(frozen["entries"])


def test_every_point_of_a_signed_visit_is_read_and_nothing_written(
    store: Store, tmp_path: Path
) -> None:
    walk = begun(store, points=(point(), point(id="bay-2", name="Bay 2")))
    ended(store, walk, tmp_path / "key")
    for signed in (walk, Walk(store, walk.visit.id, lambda: NOW)):
        signed.go_to_point("bay-2")
        assert signed.point.name == "Bay 2"
        assert signed.steps
        signed.go_to_point(walk.visit.points[0].id)
    assert store.load(walk.visit.id).draft == {}


def test_a_point_that_the_disk_refused_is_not_gone_to(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    walk = begun(store, points=(point(), point(id="bay-2", name="Bay 2")))
    before = walk.point_id

    def full(*_: object) -> None:
        raise ChecksError("is full", where="disk", remedy="Make room")

    monkeypatch.setattr(store, "save_draft", full)
    with pytest.raises(ChecksError, match="full"):
        walk.go_to_point("bay-2")
    assert walk.point_id == before
