"""Every system call of a save goes wrong in every way, one at a time."""

import multiprocessing
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldapp.store.errors import DiskFullError, WriteFailedError
from fieldapp.store.storage import atomic_write
from fieldapp.store.visits import Store
from tests.fakes.faulty_os import FAILURES, KILLS, faulty_os, open_descriptors
from tests.fakes.plain_visit import plain_visit

OLD, NEW = b"old " * 50, b"the new content " * 40
SAVE_CALLS = 8  # open, write, fsync, close, replace; open, fsync, close of the folder
# A clean server process forks the victims: the process of the tests may have threads by now.
FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload([__name__])


def calls_of(action: Callable[[], None]) -> list[str]:
    with faulty_os("nothing", 0) as calls:
        action()
    return calls


def attempt(what: str, at: int, action: Callable[[], None]) -> WriteFailedError | None:
    try:
        with faulty_os(what, at):
            action()
    except WriteFailedError as error:
        return error
    return None


def is_acknowledged(target: Callable[..., None], *args: object) -> bool:
    victim = FORKS.Process(target=target, args=args)
    victim.start()
    victim.join()
    code = victim.exitcode
    victim.close()
    assert code in (0, 137)
    return code == 0


def killed_write(path: Path, what: str, at: int) -> None:
    with faulty_os(what, at):
        atomic_write(path, NEW)
        os._exit(0)


def killed_save(root: Path, what: str, at: int) -> None:
    store = Store(root)
    with faulty_os(what, at):
        store.save(plain_visit(revision=2, readings=1), draft={"at": "new"})
        os._exit(0)


def killed_seal(root: Path, what: str, at: int) -> None:
    store = Store(root)
    with faulty_os(what, at):
        store.seal("visit-1", {"by": "an invented person"}, report=b"%PDF-new")
        os._exit(0)


@pytest.mark.parametrize("what", [*FAILURES, "short write", "full disk"])
def test_a_write_is_wholly_old_or_wholly_new_whatever_call_fails(what: str, tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    count = len(calls_of(lambda: atomic_write(path, NEW)))
    assert count == SAVE_CALLS
    for at in range(1, count + 1):
        atomic_write(path, OLD)
        before = open_descriptors()
        error = attempt(what, at, lambda: atomic_write(path, NEW))
        assert open_descriptors() == before, (what, at)
        stands = path.read_bytes()
        if error is None:
            assert stands == NEW, (what, at)
        else:
            assert stands == (NEW if error.is_replaced else OLD), (what, at)
        atomic_write(path, OLD)  # and the next save works


@pytest.mark.parametrize("what", KILLS)
def test_a_write_is_wholly_old_or_wholly_new_whenever_the_process_is_killed(
    what: str, tmp_path: Path
) -> None:
    path = tmp_path / "v.json"
    count = len(calls_of(lambda: atomic_write(path, NEW)))
    for at in range(1, count + 1):
        atomic_write(path, OLD)
        acknowledged = is_acknowledged(killed_write, path, what, at)
        assert path.read_bytes() in ((NEW,) if acknowledged else (OLD, NEW)), (what, at)


@pytest.mark.parametrize("what", [*FAILURES, "short write", "full disk"])
def test_a_failed_save_says_what_stands_and_can_be_repeated(what: str, tmp_path: Path) -> None:
    new = plain_visit(revision=2, readings=1)
    for at in range(1, SAVE_CALLS + 2):  # the last run meets no fault
        with Store(tmp_path / f"{at}") as store:
            store.save(plain_visit(revision=1), draft={"at": "old"})
            before = open_descriptors()
            error = attempt(what, at, lambda s=store: s.save(new, draft={"at": "new"}))
            assert open_descriptors() == before, (what, at)
            stored = store.load("visit-1")
            is_new = error is None or error.is_replaced
            assert stored.visit == (new if is_new else plain_visit(revision=1)), (what, at)
            assert stored.draft == {"at": "new" if is_new else "old"}, (what, at)
            if error is not None:
                store.save(new, draft={"at": "new"})
                assert store.load("visit-1").visit == new


def test_a_save_is_one_write_and_a_seal_with_its_report_two(tmp_path: Path) -> None:
    with Store(tmp_path) as store:
        store.save(plain_visit())
        new = plain_visit(revision=1)
        assert len(calls_of(lambda: store.save(new, draft={"at": "new"}))) == SAVE_CALLS
        sealed = calls_of(lambda: store.seal("visit-1", {"by": "nobody"}, report=b"%PDF-"))
        assert len(sealed) == 2 * SAVE_CALLS


@pytest.mark.parametrize("what", [*FAILURES, "short write", "full disk"])
def test_a_failed_seal_leaves_the_visit_open_or_closed_and_can_be_repeated(
    what: str, tmp_path: Path
) -> None:
    content = {"by": "an invented person"}
    for at in range(1, 2 * SAVE_CALLS + 2):
        with Store(tmp_path / f"{at}") as store:
            store.save(plain_visit())
            error = attempt(
                what, at, lambda s=store: s.seal("visit-1", content, report=b"%PDF-new")
            )
            assert (error is None) <= (store.load("visit-1").seal is not None)
            if error is not None:
                store.seal("visit-1", content, report=b"%PDF-new")
            seal = store.load("visit-1").seal
            assert seal is not None
            assert seal.content == content
            assert store.report_path("visit-1").read_bytes() == b"%PDF-new"


@pytest.mark.parametrize("what", KILLS)
def test_a_killed_save_leaves_visit_and_draft_of_one_moment(what: str, tmp_path: Path) -> None:
    for at in range(1, SAVE_CALLS + 1):
        root = tmp_path / f"{at}"
        with Store(root) as store:
            store.save(plain_visit(revision=1), draft={"at": "old"})
        acknowledged = is_acknowledged(killed_save, root, what, at)
        with Store(root) as store:
            stored = store.load("visit-1")
        moment = stored.visit["revision"], stored.draft["at"]
        assert moment in ({(2, "new")} if acknowledged else {(1, "old"), (2, "new")}), (what, at)
        assert [p.name for p in (root / "visits").iterdir()] == ["visit-1.json"]  # swept


@pytest.mark.parametrize("what", KILLS)
def test_a_killed_seal_leaves_an_open_visit_or_one_that_is_closed_with_its_report(
    what: str, tmp_path: Path
) -> None:
    for at in range(1, 2 * SAVE_CALLS + 1):
        root = tmp_path / f"{at}"
        with Store(root) as store:
            store.save(plain_visit())
        acknowledged = is_acknowledged(killed_seal, root, what, at)
        with Store(root) as store:
            is_sealed = store.load("visit-1").seal is not None
            assert is_sealed or not acknowledged, (what, at)
            if is_sealed:
                assert store.report_path("visit-1").read_bytes() == b"%PDF-new"


def test_a_full_disk_is_named_with_the_remedy(tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    atomic_write(path, OLD)
    with (
        pytest.raises(
            DiskFullError, match=r"v\.json: the disk is full; the earlier content stands"
        ),
        faulty_os("full disk", 2),
    ):
        atomic_write(path, NEW)
    assert path.read_bytes() == OLD
    assert [p.name for p in tmp_path.iterdir()] == ["v.json"]


def test_a_save_that_the_disk_did_not_confirm_says_so(tmp_path: Path) -> None:
    path = tmp_path / "v.json"
    with (
        pytest.raises(WriteFailedError, match="in place but the disk has not confirmed") as caught,
        faulty_os("input/output error, once", 7),
    ):
        atomic_write(path, NEW)
    assert caught.value.is_replaced
