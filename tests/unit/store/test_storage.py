"""One visit's file under TinyDB: whole, closed for ever once sealed, damaged ones kept."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tinydb import TinyDB
from tinydb.table import Document

from fieldapp.store.errors import DamagedError, InvalidRecordError, SealedError, WriteFailedError
from fieldapp.store.storage import OneWrite, VisitFile, atomic_write


def with_visit(path: Path) -> TinyDB:
    db = TinyDB(path, storage=VisitFile)
    db.table("visit").insert(Document({"id": "v"}, doc_id=1))
    return db


def test_what_tinydb_writes_is_on_disk_at_once(tmp_path: Path) -> None:
    with with_visit(tmp_path / "v.json"):
        assert json.loads((tmp_path / "v.json").read_bytes()) == {"visit": {"1": {"id": "v"}}}


def test_a_file_that_is_not_there_is_no_data_and_is_not_made_by_looking(tmp_path: Path) -> None:
    with TinyDB(tmp_path / "v.json", storage=VisitFile) as db:
        assert db.tables() == set()
    assert list(tmp_path.iterdir()) == []


DAMAGE = {
    "empty": b"",
    "torn": b'{"visit": {"1": {"id": "v"',
    "extra data": b'{"visit": {"1": {}}} "}}',
    "zeros": bytes(64),
    "a list as root": b"[]",
    "null as root": b"null",
    "a list as table": b'{"visit": []}',
    "null as document": b'{"visit": {"1": null}}',
    "an id that is no number": b'{"visit": {"one": {}}}',
    "an id with a leading zero": b'{"visit": {"01": {}}}',
    "an object without a visit": b"{}",
    "an empty visit table": b'{"visit": {}}',
    "two visits": b'{"visit": {"1": {}, "2": {}}}',
    "an unknown table": b'{"visit": {"1": {}}, "sea|": {"1": {}}}',
    "a table twice": b'{"visit": {"1": {}}, "visit": {"1": {}}}',
    "NaN": b'{"visit": {"1": {"a": NaN}}}',
    "too large": b'{"visit": {"1": {"a": "' + b"x" * 8_000_000 + b'"}}}',
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_damaged_file_is_named_and_never_overwritten(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    path.write_bytes(DAMAGE[kind])
    with TinyDB(path, storage=VisitFile) as db:
        with pytest.raises(DamagedError, match=r"v\.json.*The file is kept untouched"):
            db.table("visit").get(doc_id=1)
        with pytest.raises(DamagedError):
            db.table("visit").insert({"id": "w"})
        with pytest.raises(DamagedError):
            db.drop_tables()
    assert path.read_bytes() == DAMAGE[kind]


def test_a_file_that_may_not_be_read_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    path.mkdir()
    with pytest.raises(DamagedError, match=r"cannot be read .is a directory"):
        VisitFile(path).read()


CHANGES: dict[str, Callable[[TinyDB], object]] = {
    "insert": lambda db: db.table("visit").insert({"id": "w"}),
    "update": lambda db: db.table("visit").update({"id": "w"}),
    "upsert": lambda db: db.table("visit").upsert(Document({"id": "w"}, doc_id=1)),
    "remove": lambda db: db.table("visit").remove(doc_ids=[1]),
    "truncate": lambda db: db.table("visit").truncate(),
    "drop the seal": lambda db: db.drop_table("seal"),
    "empty the seal": lambda db: db.table("seal").truncate(),
    "drop all tables": lambda db: db.drop_tables(),
    "a new table": lambda db: db.table("note").insert({"a": "b"}),
}


@pytest.mark.parametrize("change", CHANGES)
def test_no_operation_changes_a_sealed_file(change: str, tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    with with_visit(path) as opened_before, TinyDB(path, storage=VisitFile) as signing:
        opened_before.table("visit").get(doc_id=1)
        signing.table("seal").insert(Document({"by": "nobody"}, doc_id=1))
        sealed = path.read_bytes()
        for db in (opened_before, signing, TinyDB(path, storage=VisitFile)):
            with pytest.raises(SealedError, match="is signed and cannot change"):
                CHANGES[change](db)
            assert path.read_bytes() == sealed


@pytest.mark.parametrize("tables", [{}, {"visit": {}}, {"visit": {"1": {}}, "note": {"1": {}}}])
def test_what_could_not_be_read_back_is_not_written(tables: Any, tmp_path: Path) -> None:
    with pytest.raises(InvalidRecordError, match="no visit, or more than a visit's file holds"):
        VisitFile(tmp_path / "v.json").write(tables)
    assert list(tmp_path.iterdir()) == []


def test_an_empty_seal_table_closes_the_file_too(tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    path.write_text('{"visit": {"1": {}}, "seal": {}}')
    with pytest.raises(SealedError):
        VisitFile(path).write({})


@pytest.mark.parametrize("value", [float("nan"), {1, 2}, "\ud800"])
def test_what_json_cannot_carry_is_refused_before_the_file_is_touched(
    value: object, tmp_path: Path
) -> None:
    path = tmp_path / "v.json"
    with with_visit(path) as db:
        before = path.read_bytes()
        with pytest.raises(InvalidRecordError, match="cannot be written as JSON"):
            db.table("visit").update({"a": value})
    assert path.read_bytes() == before


def test_a_visit_too_large_to_be_read_back_is_not_written(tmp_path: Path) -> None:
    with pytest.raises(InvalidRecordError, match=r"8\.0 MB are more than a visit file may hold"):
        VisitFile(tmp_path / "v.json").write({"visit": {"1": {"a": "x" * 8_000_000}}})
    assert list(tmp_path.iterdir()) == []


def test_several_changes_are_one_write_and_none_when_an_error_comes_between(tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    unit = OneWrite(VisitFile)
    with TinyDB(path, storage=unit) as db:
        db.table("visit").insert({"id": "v"})
        db.table("draft").insert({"at": "outlet"})
        assert not path.exists()
        unit.commit()
    assert VisitFile(path).read() == {"visit": {"1": {"id": "v"}}, "draft": {"1": {"at": "outlet"}}}
    unit = OneWrite(VisitFile)
    with TinyDB(path, storage=unit) as db:
        db.table("visit").truncate()
    tables = VisitFile(path).read()
    assert tables is not None
    assert tables["visit"] == {"1": {"id": "v"}}  # closing writes nothing


def test_a_write_into_a_folder_that_is_not_there_says_so(tmp_path: Path) -> None:
    with pytest.raises(WriteFailedError, match=r"v\.json: could not be written .no such file"):
        atomic_write(tmp_path / "nowhere" / "v.json", b"")


def test_what_is_written_can_be_read_by_its_owner_only(tmp_path: Path) -> None:
    atomic_write(tmp_path / "v.json", b"{}")
    assert (tmp_path / "v.json").stat().st_mode & 0o777 == 0o600
