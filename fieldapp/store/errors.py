"""What can go wrong with files, in words for the person who holds the phone."""

import errno
from pathlib import Path

from checks.errors import ChecksError

_DISK_FULL = {errno.ENOSPC, errno.EDQUOT}
_WRONG_PLACE = {
    *(errno.ENOENT, errno.ENOTDIR, errno.EEXIST, errno.EISDIR, errno.ENAMETOOLONG),
    *(errno.EACCES, errno.EPERM, errno.EROFS),
}
_SHOWN = 80  # a photo's name in its folder


class StoreError(ChecksError):
    """The root of every error of the store."""


class DamagedError(StoreError):
    """A stored file cannot be read, or is not what was written; it is kept as it is."""


class SealedError(StoreError):
    """A signed visit never changes again."""


class BusyError(StoreError):
    """Another process works in the same folder."""


class StaleRevisionError(StoreError):
    """What is to be saved is older than what is stored, or the same age and different."""


class MissingError(StoreError):
    """No visit, photo or report of that name is stored."""


class InvalidRecordError(StoreError):
    """What is to be saved cannot be written so that it reads back the same."""


class HostileFileError(StoreError):
    """A file from outside is not taken in."""


class UnsupportedSystemError(StoreError):
    """The system lacks something that the store cannot do without."""


class WriteFailedError(StoreError):
    """A file could not be written.

    Parameters
    ----------
    problem, where, remedy : str
        As in every error for people.
    is_replaced : bool
        The new content is in its place, but the disk has not confirmed it: a power cut could
        still bring the earlier content back. Otherwise the earlier content stands.
    """

    def __init__(self, problem: str, *, where: str, remedy: str, is_replaced: bool) -> None:
        super().__init__(problem, where=where, remedy=remedy)
        self.is_replaced = is_replaced


class DiskFullError(WriteFailedError):
    """No room left."""


def write_failed(error: OSError, path: Path, *, is_replaced: bool) -> WriteFailedError:
    """Say for people why a file could not be written, and what stands now."""
    stands = (
        "the new content is in place but the disk has not confirmed it"
        if is_replaced
        else "the earlier content stands"
    )
    if error.errno in _DISK_FULL:
        return DiskFullError(
            f"the disk is full; {stands}",
            where=shown(path.name),
            remedy="Free some space on this device, then save again",
            is_replaced=is_replaced,
        )
    remedy = "Save again; if it fails again, export the visits and restart the device"
    if error.errno in _WRONG_PLACE:
        remedy = "Name a place in a folder that is there and in which you may write"
    return WriteFailedError(
        f"could not be written ({reason(error)}); {stands}",
        where=shown(path.name),
        remedy=remedy,
        is_replaced=is_replaced,
    )


def already_sealed(where: str) -> SealedError:
    """Say for people that a signed visit stays as it is."""
    return SealedError(
        "is signed and cannot change",
        where=where,
        remedy="Start a new visit that names this one as corrected",
    )


def reason(error: OSError) -> str:
    """Return the system's own words for an error, without the path."""
    return (error.strerror or type(error).__name__).lower()


def shown(text: str) -> str:
    """Return a text from outside so that it fits one line and holds no control character."""
    plain = "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text)
    return plain if len(plain) <= _SHOWN else plain[: _SHOWN - 1] + "…"
