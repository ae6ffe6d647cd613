"""The store: what is saved reads back, what is older is refused, what is signed stays."""

import json
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fieldapp.store.errors import (
    BusyError,
    DamagedError,
    InvalidRecordError,
    MissingError,
    SealedError,
    StaleRevisionError,
    StoreError,
)
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit

CONTENT = {"by": "an invented person", "assessment": {"margin_v": 0.1, "verdict": "within"}}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "data") as store:
        yield store


def test_a_saved_visit_reads_back_the_same_also_after_a_restart(tmp_path: Path) -> None:
    visit = plain_visit(revision=4, note="line\nbreak, Ω, 😀", empty=[], nothing=None)
    with Store(tmp_path) as store:
        store.save(visit, draft={"station": "outlet", "typed": "239."})
    with Store(tmp_path) as store:
        stored = store.load("visit-1")
    assert (stored.visit, stored.draft) == (visit, {"station": "outlet", "typed": "239."})
    assert stored.seal is None


def test_a_field_that_was_removed_is_gone(store: Store) -> None:
    store.save(plain_visit(note="to be removed"))
    store.save(plain_visit(revision=1))
    assert "note" not in store.load("visit-1").visit


def test_changing_what_was_loaded_changes_nothing_that_is_stored(store: Store) -> None:
    visit = plain_visit()
    store.save(visit)
    visit["entries"].clear()
    store.load("visit-1").visit["entries"].clear()
    assert len(store.load("visit-1").visit["entries"]) == 3


@pytest.mark.parametrize("revision", [0, 4, 5])
def test_a_save_with_an_older_or_the_same_revision_is_refused(store: Store, revision: int) -> None:
    store.save(plain_visit(revision=5))
    with pytest.raises(StaleRevisionError, match=f"revision {revision} is not newer than the .* 5"):
        store.save(plain_visit(revision=revision))
    assert store.load("visit-1").visit == plain_visit(revision=5)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"id": None}, "visit, id: is missing"),
        ({"id": "../../etc/passwd"}, "visit, id: is missing or cannot name a file"),
        ({"id": ".hidden"}, "cannot name a file"),
        ({"id": "A"}, "cannot name a file"),
        ({"id": "x" * 65}, "cannot name a file"),
        ({"id": "v\n"}, "cannot name a file"),
        ({"revision": None}, "visit, revision: is missing"),
        ({"revision": True}, "visit, revision: is missing or is not a whole number"),
        ({"revision": -1}, "is not a whole number from 0"),
        ({"volts": 239.5}, "volts: a float has no place in a record"),
    ],
)
def test_a_visit_that_cannot_be_named_or_hashed_is_refused(
    store: Store, fields: dict[str, Any], said: str
) -> None:
    with pytest.raises(InvalidRecordError, match=said):
        store.save(plain_visit() | fields)


@pytest.mark.parametrize("visit_id", ["nowhere", "visit-2"])
def test_a_visit_that_is_not_stored_is_missing(store: Store, visit_id: str) -> None:
    store.save(plain_visit())
    for ask in (store.load, store.report_path):
        with pytest.raises(MissingError, match=f"visit {visit_id}"):
            ask(visit_id)
    with pytest.raises(MissingError):
        store.save_draft(visit_id, {})
    with pytest.raises(MissingError):
        store.seal(visit_id, CONTENT)


def test_an_id_from_outside_never_leads_out_of_the_folder(store: Store) -> None:
    with pytest.raises(InvalidRecordError, match="cannot name a visit"):
        store.load("../app_state")


def test_a_draft_is_kept_by_a_save_without_one_and_cleared_by_an_empty_one(store: Store) -> None:
    store.save(plain_visit())
    store.save_draft("visit-1", {"typed": "23", "scroll": 0.25})
    store.save(plain_visit(revision=1))
    assert store.load("visit-1").draft == {"typed": "23", "scroll": 0.25}
    store.save(plain_visit(revision=2), draft={})
    assert store.load("visit-1").draft == {}


def test_a_signed_visit_refuses_every_later_change(store: Store) -> None:
    store.save(plain_visit(), draft={"typed": "2"})
    store.seal("visit-1", CONTENT, report=b"%PDF-signed")
    stored = store.load("visit-1")
    assert stored.seal is not None
    assert stored.seal.content == CONTENT
    assert stored.draft == {}
    for change in (
        lambda: store.save(plain_visit(revision=9)),
        lambda: store.save_draft("visit-1", {}),
        lambda: store.seal("visit-1", CONTENT, report=b"%PDF-signed"),
        lambda: store.seal("visit-1", {"by": "another"}, report=b"%PDF-other"),
    ):
        with pytest.raises(SealedError, match="visit visit-1: is signed and cannot change"):
            change()
    assert store.load("visit-1") == stored
    assert store.report_path("visit-1").read_bytes() == b"%PDF-signed"


def test_a_visit_has_a_report_only_once_it_is_signed_with_one(store: Store) -> None:
    store.save(plain_visit())
    with pytest.raises(MissingError, match="has no signed report"):
        store.report_path("visit-1")
    store.seal("visit-1", CONTENT)
    with pytest.raises(MissingError, match="has no signed report"):
        store.report_path("visit-1")


def test_a_report_that_was_exchanged_or_removed_is_damaged(store: Store) -> None:
    store.save(plain_visit())
    store.seal("visit-1", CONTENT, report=b"%PDF-signed")
    path = store.report_path("visit-1")
    path.write_bytes(b"%PDF-forged")
    with pytest.raises(DamagedError, match="is not the one that was signed"):
        store.report_path("visit-1")
    path.unlink()
    with pytest.raises(DamagedError, match=r"cannot be read .no such file"):
        store.report_path("visit-1")


def test_a_file_with_another_visit_inside_is_damaged(store: Store, tmp_path: Path) -> None:
    store.save(plain_visit())
    visits = tmp_path / "data" / "visits"
    (visits / "visit-2.json").write_bytes((visits / "visit-1.json").read_bytes())
    with pytest.raises(DamagedError, match="visit visit-2: its file holds another visit"):
        store.load("visit-2")


def test_a_second_store_on_the_folder_is_refused_until_the_first_is_closed(tmp_path: Path) -> None:
    with (
        Store(tmp_path / "data"),
        pytest.raises(BusyError, match="folder data: is in use by another process"),
    ):
        Store(tmp_path / "data")
    Store(tmp_path / "data").close()


def test_a_closed_store_saves_nothing(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.save(plain_visit())
    store.close()
    store.close()
    with pytest.raises(StoreError, match="store: is closed"):
        store.save(plain_visit(revision=1))


def test_threads_of_one_process_lose_no_save(store: Store) -> None:
    store.save(plain_visit("shared") | {"count": 0})

    def count_up() -> None:
        for _ in range(20):
            while True:
                visit = store.load("shared").visit
                try:
                    store.save(
                        visit | {"revision": visit["revision"] + 1, "count": visit["count"] + 1}
                    )
                    break
                except StaleRevisionError:
                    continue  # another thread was faster: load and count again

    threads = [threading.Thread(target=count_up) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert store.load("shared").visit["count"] == 60


def test_temporary_files_of_a_killed_process_are_swept_at_the_start(tmp_path: Path) -> None:
    Store(tmp_path).close()
    left = [tmp_path / "visits" / ".v.json.1.ab.tmp", tmp_path / ".app_state.json.1.ab.tmp"]
    for path in left:
        path.write_bytes(b"half")
    Store(tmp_path).close()
    assert not any(path.exists() for path in left)


def test_the_file_of_a_visit_is_plain_json_with_one_document_a_table(
    store: Store, tmp_path: Path
) -> None:
    store.save(plain_visit(), draft={"at": "panel"})
    file = json.loads((tmp_path / "data" / "visits" / "visit-1.json").read_text("utf-8"))
    assert file == {"visit": {"1": plain_visit()}, "draft": {"1": {"at": "panel"}}}
