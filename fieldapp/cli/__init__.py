"""The same work without a screen. Errors are one line on stderr: what, where, what to do."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from checks.errors import ChecksError
from fieldapp import language
from fieldapp.cli import after, judging, keeping
from fieldapp.cli.call import BAD, FOUND, GOOD, UNFINISHED, UsageError, data_dir, one_line

__all__ = ["BAD", "FOUND", "GOOD", "UNFINISHED", "main"]


def main(argv: Sequence[str], *, open_touch: Callable[[Path], int]) -> int:
    """Run one command; return its exit code.

    Parameters
    ----------
    argv : sequence of str
        Without the program's name.
    open_touch : callable
        Opens the touch interface on a data folder.
    """
    args = _parser().parse_args(argv)
    try:
        if args.command is None:
            return _touch(args, open_touch)
        run: Callable[[argparse.Namespace], int] = args.run
        with language.using(getattr(args, "language", language.ENGLISH)):
            code = run(args)
        sys.stdout.flush()
        return code
    except BrokenPipeError:  # the reader, such as head, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return BAD
    except ChecksError as error:
        print(f"fieldapp: {one_line(str(error))}", file=sys.stderr)
        return BAD


def _touch(args: argparse.Namespace, open_touch: Callable[[Path], int]) -> int:
    offscreen = os.environ.get("SDL_VIDEODRIVER") == "offscreen"
    on_linux = sys.platform.startswith("linux") and "ANDROID_ARGUMENT" not in os.environ
    if on_linux and not offscreen and not any(map(os.environ.get, ("DISPLAY", "WAYLAND_DISPLAY"))):
        raise UsageError(
            "there is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set)",
            where="touch interface",
            remedy="Start it on a desktop, or run: fieldapp demo",
        )
    return open_touch(data_dir(args))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fieldapp",
        description="The field instrument of the EV-charging trade. Without a command it opens "
        "the touch interface.",
    )
    parser.add_argument("--data", type=Path, help="folder of the visits and the signing key")
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    judging.add_to(commands)
    after.add_to(commands)
    keeping.add_to(commands)
    return parser
