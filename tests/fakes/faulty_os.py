"""Operating system calls that fail, fall short or end the process at a chosen moment.

The method is that of SQLite's published test descriptions: fail the n-th call for every n, once
and for ever, and look at what is left (sqlite.org/testing.html, "Anomaly testing"; from memory).
"""

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

CALLS = ("open", "write", "fsync", "close", "replace", "unlink", "mkdir")


def once(number: int) -> Callable[[int, int], int | None]:
    return lambda call, at: number if call == at else None


def forever(number: int) -> Callable[[int, int], int | None]:
    return lambda call, at: number if call >= at else None


FAILURES = {
    "no space, once": once(errno.ENOSPC),
    "no space, for ever": forever(errno.ENOSPC),
    "input/output error, once": once(errno.EIO),
    "input/output error, for ever": forever(errno.EIO),
    "interrupted, once": once(errno.EINTR),
    "read-only, for ever": forever(errno.EROFS),
}
KILLS = ("kill before", "kill within", "kill after")
SHORT = ("short write", "full disk", "kill within")


@contextmanager
def faulty_os(what: str, at: int) -> Iterator[list[str]]:
    """Let the `at`-th call go wrong as `what` says; gives the names of the calls as they come."""
    real = {name: getattr(os, name) for name in CALLS}
    calls: list[str] = []
    for name, function in real.items():
        setattr(os, name, _faulty(name, function, what, at, calls))
    try:
        yield calls
    finally:
        for name, function in real.items():
            setattr(os, name, function)


def _faulty(
    name: str, real: Callable[..., Any], what: str, at: int, calls: list[str]
) -> Callable[..., Any]:
    def call(*args: Any, **kwargs: Any) -> Any:
        calls.append(name)
        is_due = len(calls) == at
        number = _failure(name, what, at, len(calls))
        if number is not None:
            if name == "close":
                real(*args, **kwargs)  # the descriptor is gone even when close fails
            raise OSError(number, os.strerror(number))
        if is_due and what == "kill before":
            os._exit(137)
        is_short = is_due and name == "write" and what in SHORT
        if is_short:
            args = (args[0], bytes(args[1])[: len(args[1]) // 3 or 1])
        result = real(*args, **kwargs)
        if is_due and (what == "kill after" or (what == "kill within" and is_short)):
            os._exit(137)
        return result

    return call


def _failure(name: str, what: str, at: int, call: int) -> int | None:
    if what == "full disk":  # takes a part of one write and refuses the rest
        return errno.ENOSPC if name == "write" and call > at else None
    return FAILURES[what](call, at) if what in FAILURES else None


def open_descriptors() -> int:
    return len(os.listdir("/proc/self/fd"))
