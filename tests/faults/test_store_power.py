"""A power cut after any system call of a save, with everything that the disk may then hold.

The model: content that was not synced is there, missing, half there or zeros; a rename that no
sync of its folder followed is there or not (common practice for ext4 and POSIX, no source).
"""

import os
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from fieldapp.store.storage import atomic_write

OLD, NEW = b"old content", b"the new content, longer"
Trace = list[tuple[str, str, bytes]]


@pytest.fixture
def trace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Trace:
    """Give the calls of one save over an older file, as (call, file, bytes or new name)."""
    path = tmp_path / "v.json"
    path.write_bytes(OLD)
    seen: Trace = []
    names: dict[int, str] = {}
    real_open, real_write, real_fsync, real_replace = os.open, os.write, os.fsync, os.replace

    def recorded_open(name: Any, *args: Any) -> int:
        fd = real_open(name, *args)
        names[fd] = Path(name).name if Path(name).is_file() else "folder"
        return fd

    def recorded_write(fd: int, data: Any) -> int:
        # Three bytes at a time, so that a cut falls between two writes as well.
        written = real_write(fd, bytes(data)[:8])
        seen.append(("write", names[fd], bytes(data)[:written]))
        return written

    def recorded_fsync(fd: int) -> None:
        real_fsync(fd)
        seen.append(("fsync", names[fd], b""))

    def recorded_replace(source: Any, target: Any) -> None:
        real_replace(source, target)
        seen.append(("replace", Path(source).name, Path(target).name.encode()))

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", recorded_open)
        patch.setattr(os, "write", recorded_write)
        patch.setattr(os, "fsync", recorded_fsync)
        patch.setattr(os, "replace", recorded_replace)
        atomic_write(path, NEW)
    return seen


def after_the_cut(trace: Trace) -> Iterator[bytes]:
    """Give each content of the file that a disk may hold once these calls were made."""
    content = {"v.json": OLD}
    synced = {"v.json"}
    is_replaced, is_folder_synced, source = False, False, ""
    for call, name, data in trace:
        if call == "write":
            content[name] = content.get(name, b"") + data
            synced.discard(name)
        elif call == "replace":
            is_replaced, is_folder_synced, source = True, False, name
        elif name == "folder":
            is_folder_synced = is_replaced
        else:
            synced.add(name)
    names = {source} if is_folder_synced else {source, "v.json"} if is_replaced else {"v.json"}
    for name, damage in product(names, ("none", "missing", "half", "zeros")):
        whole = content[name]
        yield {
            "none": whole,
            "missing": b"",
            "half": whole[: len(whole) // 2],
            "zeros": bytes(len(whole)),
        }["none" if name in synced else damage]


def violations(trace: Trace) -> tuple[int, int]:
    """Count the disks with a torn file, and those that lost the save that was acknowledged."""
    torn = lost = 0
    for count in range(len(trace) + 1):
        for left in after_the_cut(trace[:count]):
            torn += left not in (OLD, NEW)
            lost += count == len(trace) and left == OLD
    return torn, lost


def test_a_power_cut_leaves_the_old_or_the_new_content_and_no_acknowledged_save_is_lost(
    trace: Trace,
) -> None:
    assert [call for call, _, _ in trace] == [*["write"] * 3, "fsync", "replace", "fsync"]
    assert violations(trace) == (0, 0)


def test_the_model_notices_a_missing_sync_of_the_file(trace: Trace) -> None:
    torn, _ = violations([c for c in trace if c[0] != "fsync" or c[1] == "folder"])
    assert torn > 0


def test_the_model_notices_a_missing_sync_of_the_folder(trace: Trace) -> None:
    torn, lost = violations([c for c in trace if c[:2] != ("fsync", "folder")])
    assert (torn, lost > 0) == (0, True)
