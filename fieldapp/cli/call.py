"""What every command needs: its exit codes, its errors, and files read and written."""

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

from checks.errors import ChecksError
from fieldapp.device.desktop import DesktopDevice
from fieldapp.language import ENGLISH, LANGUAGES
from fieldapp.store.storage import atomic_write

GOOD, FOUND, BAD, UNFINISHED = 0, 1, 2, 3
FILE_LIMIT_BYTES = 200_000_000  # a report with two hundred photos takes a third of it
Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


class UsageError(ChecksError):
    """The call's words are off."""


def one_line(text: str) -> str:
    """Return a text without line breaks, and without what steers a terminal."""
    return "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))


def data_dir(args: argparse.Namespace) -> Path:
    """Return the folder of the visits and the signing key."""
    return args.data if args.data is not None else DesktopDevice().data_dir()


def add_for_record(
    commands: Commands,
    name: str,
    run: Callable[[argparse.Namespace], int],
    *,
    does: str,
    printed: str,
    with_earlier: bool = False,
) -> None:
    """Add a command that reads a record, earlier ones too where asked for, and prints a result.

    ``does`` says what the command does, ``printed`` what it prints for machines.
    """
    command = commands.add_parser(name, help=does)
    command.add_argument("visit", type=Path, metavar="VISIT.json")
    if with_earlier:
        command.add_argument("earlier", type=Path, nargs="+", metavar="EARLIER.json")
    command.add_argument("--json", action="store_true", help=f"{printed}, for machines")
    command.set_defaults(run=run)


def add_language(command: argparse.ArgumentParser) -> None:
    """Let a command that makes a report be told its language."""
    command.add_argument(
        "--language", choices=LANGUAGES, default=ENGLISH, help="of the report; English by itself"
    )


def read_bytes(path: Path, where: str) -> bytes:
    """Return a file's content; UsageError names the word of the call that named the file."""
    try:
        with path.open("rb") as file:
            data = file.read(FILE_LIMIT_BYTES + 1)
    except OSError as error:
        raise UsageError(
            f"{path} cannot be read ({error.strerror})", where=where, remedy="Check the path"
        ) from error
    if len(data) > FILE_LIMIT_BYTES:
        raise UsageError(
            f"{path} is larger than {FILE_LIMIT_BYTES / 1e6:g} MB",
            where=where,
            remedy="Name a report, or a certificate",
        )
    return data


def write(path: Path, data: bytes, *, where: str = "--out") -> None:
    """Write a file; UsageError names the word of the call that named it."""
    if not path.absolute().parent.is_dir():
        raise UsageError(
            f"there is no folder {path.absolute().parent}", where=where, remedy="Make it first"
        )
    if path.is_dir():
        raise UsageError(f"{path} is a folder", where=where, remedy="Name a file in it")
    atomic_write(path.absolute(), data)
