"""The list of visits: small summaries, derived from the visit files and never trusted over them.

A snapshot of the last listing saves reading the files that did not change. Nothing is written to
it when a visit is saved, so there is nothing that could disagree after a kill. The summary of a
signed visit stands as the visit does: another version of the software does not read it again.
"""

import contextlib
import json
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

from checks.errors import ChecksError
from fieldapp.store.canonical import Doc, stored_text
from fieldapp.store.errors import WriteFailedError
from fieldapp.store.storage import Stamp, atomic_write, stamp

# Some kernels tick only every 10 ms, some file systems every 2 s: two saves within one tick
# cannot be told apart, so a file as young as this is read again.
_TICK_NS: Final = 2_000_000_000
_REMEMBER_EVERY: Final = 50  # files read: whoever is killed at a long listing goes on from there

# A summary, the photos that the visit's file names, and whether it is signed.
Row = tuple[Doc, list[str], bool]


class MadeBy(NamedTuple):
    """What makes the summaries.

    Parameters
    ----------
    form : str
        Of the summaries: those of another form are made anew.
    software : str
        Of the judgement in them: by another one those of open visits are made anew.
    """

    form: str
    software: str


class Listing(NamedTuple):
    """What is stored.

    Parameters
    ----------
    summaries : dict
        By visit id.
    needs_attention : dict
        By visit id: why its file cannot be used. Such a file is never overwritten or deleted.
    photos : frozenset
        Names of the photos that the visits name.
    """

    summaries: dict[str, Doc]
    needs_attention: dict[str, ChecksError]
    photos: frozenset[str]


def list_visits(
    folder: Path, snapshot: Path, made_by: MadeBy, read_row: Callable[[str], Row]
) -> Listing:
    """List a folder of visit files, reading only those that changed since the snapshot.

    Parameters
    ----------
    folder : Path
        The visit files, named by visit id.
    snapshot : Path
        Where the last listing is remembered; it may be absent or anything.
    made_by : MadeBy
        What makes the summaries.
    read_row : Callable
        Reads and summarises one visit; a ChecksError puts it on the needs-attention list.
    """
    began_ns = time.time_ns()  # the clock that stamps the files, not the one that dates the work
    taken_ns, known = _remembered(snapshot, made_by)
    rows: dict[str, tuple[Stamp, Row]] = {}
    needs_attention: dict[str, ChecksError] = {}
    read = 0
    for visit_id, at in sorted(_visit_files(folder)):
        old = known.get(visit_id)
        if old and old[0] == at and at[2] < taken_ns - _TICK_NS:
            rows[visit_id] = old
            continue
        read += 1
        if read % _REMEMBER_EVERY == 0:
            _remember(snapshot, made_by, taken_ns or began_ns, known | rows)
        try:
            rows[visit_id] = at, read_row(visit_id)
        except ChecksError as error:
            needs_attention[visit_id] = error
    if read or len(rows) < len(known):
        _remember(snapshot, made_by, began_ns, rows)
    return Listing(
        summaries={visit_id: row[0] for visit_id, (_, row) in rows.items()},
        needs_attention=needs_attention,
        photos=frozenset(name for _, row in rows.values() for name in row[1]),
    )


def _visit_files(folder: Path) -> Iterator[tuple[str, Stamp]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.endswith(".json"):
                yield entry.name.removesuffix(".json"), stamp(entry.stat(follow_symlinks=False))


def _remember(
    snapshot: Path, made_by: MadeBy, began_ns: int, rows: dict[str, tuple[Stamp, Row]]
) -> None:
    of = {visit_id: [*at, *row] for visit_id, (at, row) in rows.items()}
    doc = {**made_by._asdict(), "at": began_ns, "of": of}
    # On a full disk the visits can still be listed, only not as fast the next time.
    with contextlib.suppress(WriteFailedError):
        atomic_write(snapshot, stored_text(doc, "list of visits"), is_durable=False)


def _remembered(snapshot: Path, made_by: MadeBy) -> tuple[int, dict[str, tuple[Stamp, Row]]]:
    try:
        doc = json.loads(snapshot.read_bytes())
        if doc["form"] != made_by.form:
            return 0, {}
        is_same = doc["software"] == made_by.software
        rows = {visit_id: _row(entry) for visit_id, entry in doc["of"].items()}
        return int(doc["at"]), {i: row for i, row in rows.items() if is_same or row[1][2]}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return 0, {}  # derived: whatever is wrong with it, the files are read instead


def _row(entry: Any) -> tuple[Stamp, Row]:
    inode, size, mtime_ns, summary, photos, is_signed = entry
    if not isinstance(summary, dict) or not isinstance(photos, list):
        raise TypeError("not a row")
    return (inode, size, mtime_ns), (summary, photos, is_signed is True)
