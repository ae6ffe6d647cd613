"""Two processes on one folder: one works, the other is told so."""

import multiprocessing
import os
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from fieldapp.store.errors import BusyError, WriteFailedError
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit

FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload([__name__])


def hold(root: Path, told: Connection) -> None:
    with Store(root) as store:
        store.save(plain_visit())
        told.send("open")
        told.poll(None)  # for ever: the other end is not written to


def test_a_second_process_is_refused_while_the_first_lives_and_let_in_after_its_kill(
    tmp_path: Path,
) -> None:
    ours, theirs = FORKS.Pipe()
    holder = FORKS.Process(target=hold, args=(tmp_path, theirs))
    holder.start()
    assert ours.recv() == "open"
    descriptors = len(os.listdir("/proc/self/fd"))
    with pytest.raises(BusyError, match="is in use by another process"):
        Store(tmp_path)
    assert len(os.listdir("/proc/self/fd")) == descriptors
    holder.kill()
    holder.join()
    holder.close()
    ours.close()
    theirs.close()
    with Store(tmp_path) as store:
        assert store.load("visit-1").visit == plain_visit()


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "data").write_bytes(b"a file in the way")
    with pytest.raises(WriteFailedError, match="data: could not be written"):
        Store(tmp_path / "data")
