"""The same work without a screen. Errors are one line on stderr: what, where, what to do."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from checks.errors import ChecksError
from fieldapp import language
from fieldapp.cli.call import BAD, FOUND, GOOD, UNFINISHED, UsageError, data_dir, one_line

_USAGE = "fieldapp [-h] [--data DATA] [COMMAND ...]"

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
    touch, words = _options().parse_known_args(argv)
    args = _parser().parse_args(argv) if words else touch
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


def _options() -> argparse.ArgumentParser:
    """Return what parses a call without a command, and what every call begins with."""
    options = argparse.ArgumentParser(prog="fieldapp", usage=_USAGE, add_help=False)
    options.add_argument("--data", type=Path, help="folder of the visits and the signing key")
    options.set_defaults(command=None)
    return options


def _parser() -> argparse.ArgumentParser:
    from fieldapp.cli import after, judging, keeping  # the touch interface comes up without them

    parser = argparse.ArgumentParser(
        prog="fieldapp",
        usage=_USAGE,
        parents=[_options()],
        description="The field instrument of the EV-charging trade. Without a command it opens "
        "the touch interface.",
    )
    commands = parser.add_subparsers(prog="fieldapp", dest="command", metavar="COMMAND")
    for part in (judging, after, keeping):
        part.add_to(commands)
    return parser
