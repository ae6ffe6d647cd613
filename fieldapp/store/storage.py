"""Files that are wholly old or wholly new, whatever stops the machine in between."""

import contextlib
import os
from pathlib import Path
from typing import Final

from tinydb.middlewares import Middleware
from tinydb.storages import Storage

from fieldapp.store.canonical import Doc, stored_text
from fieldapp.store.errors import (
    DamagedError,
    HostileFileError,
    InvalidRecordError,
    already_sealed,
    reason,
    shown,
    write_failed,
)
from fieldapp.store.reading import parse_json_object

VISIT: Final = "visit"
DRAFT: Final = "draft"
SEAL: Final = "seal"
ONLY: Final = "1"  # each table of a visit's file holds one document
TEMPORARY: Final = ".tmp"
VISIT_FILE_LIMIT_BYTES: Final = 8_000_000  # record, draft, and the assessment as signed
_KEPT: Final = "The file is kept untouched: copy it off the device before anything else"

Stamp = tuple[int, int, int]


def atomic_write(path: Path, data: bytes, *, is_durable: bool = True) -> None:
    """Replace a file's content so that a kill or a power cut leaves the old or the new content.

    Parameters
    ----------
    path : Path
        The file, in a folder that exists.
    data : bytes
        Its whole new content.
    is_durable : bool
        Wait until the disk has it. Without, a power cut may lose it (not tear it): for what
        can be derived again.

    Raises
    ------
    WriteFailedError
        Says whether the earlier content stands.
    """
    beside = path.parent / f".{path.name}.{os.getpid()}.{os.urandom(4).hex()}{TEMPORARY}"
    is_replaced = False
    try:
        _write_new(beside, data, is_durable=is_durable)
        os.replace(beside, path)
        is_replaced = True
        if is_durable:
            sync_folder(path.parent)
    except OSError as error:
        raise write_failed(error, path, is_replaced=is_replaced) from error
    finally:
        if not is_replaced:
            # What cannot be removed now is swept at the next start.
            with contextlib.suppress(OSError):
                os.unlink(beside)


def _write_new(path: Path, data: bytes, *, is_durable: bool) -> None:
    fd = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o600)
    try:
        left = memoryview(data)
        while left:
            left = left[os.write(fd, left) :]  # a write may be short
        if is_durable:
            os.fsync(fd)
    finally:
        os.close(fd)


def sync_folder(folder: Path) -> None:
    """Make the names in a folder durable; OSError when the disk refuses."""
    fd = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        os.fsync(fd)
    finally:
        os.close(fd)


def stamp(status: os.stat_result) -> Stamp:
    """Return what differs between two writes of one file."""
    return status.st_ino, status.st_size, status.st_mtime_ns


def confirm(path: Path) -> None:
    """Have the disk confirm a file that was replaced without its word."""
    try:
        sync_folder(path.parent)
    except OSError as error:
        raise write_failed(error, path, is_replaced=True) from error


class VisitFile(Storage):
    """The file of one visit, for TinyDB; closed for ever once its table ``seal`` exists.

    Parameters
    ----------
    path : Path
        The file; it need not exist.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._seen: tuple[Stamp, bool] | None = None

    def read(self) -> dict[str, Doc] | None:
        """Return the tables, or None when there is no file.

        Raises
        ------
        DamagedError
            The file is there and is not what this store writes; an empty one is damage too.
        """
        try:
            with self._path.open("rb") as file:
                raw = file.read(VISIT_FILE_LIMIT_BYTES + 1)
                at = stamp(os.fstat(file.fileno()))
        except FileNotFoundError:
            return None
        except OSError as error:
            raise self._damaged(f"cannot be read ({reason(error)})") from error
        try:
            tables = parse_json_object(raw, shown(self._path.name), VISIT_FILE_LIMIT_BYTES)
        except HostileFileError as error:
            raise DamagedError(error.problem, where=error.where, remedy=_KEPT) from error
        if not _is_visit_file(tables):
            raise self._damaged("is not a file of visit tables")
        self._seen = at, SEAL in tables
        return tables

    def write(self, data: dict[str, Doc]) -> None:
        """Replace the tables, durably.

        Raises
        ------
        SealedError
            The visit is signed.
        DamagedError
            The file that is there cannot be read; it is not overwritten.
        InvalidRecordError
            The tables would not read back: not a visit's, not JSON, or too large.
        WriteFailedError
            The disk refused.
        """
        if self._is_sealed():
            raise already_sealed(shown(self._path.name))
        if not _is_visit_file(data):
            raise InvalidRecordError(
                "no visit, or more than a visit's file holds",
                where=shown(self._path.name),
                remedy="Keep one visit, one draft and one seal in it",
            )
        text = stored_text(data, shown(self._path.name))
        if len(text) > VISIT_FILE_LIMIT_BYTES:
            raise InvalidRecordError(
                f"{len(text) / 1e6:.1f} MB are more than a visit file may hold"
                f" ({VISIT_FILE_LIMIT_BYTES / 1e6:g} MB)",
                where=shown(self._path.name),
                remedy="Split the site into several visits",
            )
        atomic_write(self._path, text)

    def _is_sealed(self) -> bool:
        # TinyDB reads before it writes, except to drop all tables; and another instance may have
        # signed since this one read.
        try:
            now = stamp(os.stat(self._path))
        except FileNotFoundError:
            return False
        except OSError as error:
            raise self._damaged(f"cannot be read ({reason(error)})") from error
        if self._seen is None or self._seen[0] != now:
            self.read()
        return self._seen is not None and self._seen[1]

    def _damaged(self, problem: str) -> DamagedError:
        return DamagedError(problem, where=shown(self._path.name), remedy=_KEPT)


class OneWrite(Middleware):
    """Reads once, and gathers what TinyDB writes into one write, made by `commit` only.

    TinyDB writes after each operation; several tables of a visit must change together or not at
    all. (TinyDB's own caching middleware writes on closing, also after an error.)
    """

    def __init__(self, storage_class: type[VisitFile]) -> None:
        super().__init__(storage_class)
        self._tables: dict[str, Doc] | None = None
        self.is_changed = False

    def read(self) -> dict[str, Doc] | None:
        """Return the tables as they will be written."""
        if self._tables is None:
            self._tables = self.storage.read()
        return self._tables

    def write(self, data: dict[str, Doc]) -> None:
        """Keep the tables until `commit`."""
        self._tables = data
        self.is_changed = True

    def commit(self) -> None:
        """Write the tables to the file, once."""
        if self.is_changed and self._tables is not None:
            self.storage.write(self._tables)


def _is_visit_file(tables: dict[str, Doc]) -> bool:
    # TinyDB checks nothing. An unknown table may be the seal's with one bit flipped in its name.
    return (
        {VISIT} <= tables.keys() <= {VISIT, DRAFT, SEAL}
        and all(isinstance(table, dict) and table.keys() <= {ONLY} for table in tables.values())
        and all(isinstance(doc, dict) for table in tables.values() for doc in table.values())
        and ONLY in tables[VISIT]
    )
