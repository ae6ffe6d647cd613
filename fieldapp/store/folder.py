"""The folder that one process owns."""

import os
from pathlib import Path
from typing import Final

from fieldapp.store.errors import (
    BusyError,
    UnsupportedSystemError,
    reason,
    shown,
    write_failed,
)
from fieldapp.store.storage import TEMPORARY, sync_folder

KEYS: Final = "keys"  # the signing key's folder among the data, whoever signs there
SUBFOLDERS: Final = ("visits", "photos", "originals", "thumbnails", "reports")


def take_folder(root: Path) -> int:
    """Make the folder, lock it for this process, and clear what a kill left behind.

    Parameters
    ----------
    root : Path
        The folder; made when it is not there.

    Returns
    -------
    int
        A descriptor: the folder is locked until it is closed, or until the process dies.

    Raises
    ------
    BusyError
        Another process holds the folder.
    UnsupportedSystemError
        The system has no file locks.
    WriteFailedError
        The folder cannot be made or written.
    """
    try:
        for name in SUBFOLDERS:
            (root / name).mkdir(parents=True, exist_ok=True)
        sync_folder(root)
        sync_folder(root.parent)
        fd = os.open(root / ".lock", os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as error:
        raise write_failed(error, root, is_replaced=False) from error
    try:
        _lock(fd, root)
        _sweep_temporary(root)
    except BaseException:
        os.close(fd)
        raise
    return fd


def _lock(fd: int, root: Path) -> None:
    try:
        import fcntl  # not on Windows
    except ModuleNotFoundError as error:
        raise _no_locks(root, "no fcntl") from error
    try:
        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError as error:
        raise BusyError(
            "is in use by another process",
            where=f"folder {shown(root.name)}",
            remedy="Close the app or the command that is still open, then try again",
        ) from error
    except OSError as error:
        raise _no_locks(root, reason(error)) from error


def _no_locks(root: Path, why: str) -> UnsupportedSystemError:
    return UnsupportedSystemError(
        f"this system cannot lock files here ({why}), so two processes could spoil each other",
        where=f"folder {shown(root.name)}",
        remedy="Use Android, Linux or macOS, and a folder on the device itself",
    )


def _sweep_temporary(root: Path) -> None:
    for folder in (root, *(root / name for name in SUBFOLDERS)):
        for path in folder.glob(f".*{TEMPORARY}"):
            try:
                path.unlink()
            except OSError as error:
                raise write_failed(error, path, is_replaced=False) from error
