"""One start, to the first usable screen: ``python -m tests.benchmarks.cold_start bare|app FOLDER``.

Prints the seconds of processor time since the process began, Python and the toolkit included.
"""

import os
import sys
import time
from pathlib import Path
from typing import Any

import tests.ui  # noqa: F401 - before Kivy: it chooses a window that needs no screen

from kivy.app import App  # isort: skip
from kivy.core.window import Window
from kivy.uix.widget import Widget

FRAMES = 2  # the second one is drawn with every layout settled


class Bare(App):
    """A window with nothing in it."""

    def build(self) -> Widget:
        """Return an empty widget."""
        return Widget()


def ours(folder: Path) -> App:
    """The app over a folder."""
    sys.modules["numpy"] = None  # type: ignore[assignment]  # the tests' alone: no phone has it

    from fieldapp.app import FieldApp  # its imports are part of its start
    from fieldapp.device import this_device

    return FieldApp(folder, this_device())


def main(which: str, folder: Path) -> None:
    """Start, draw the first frames, say what it took, and end without a word."""
    drawn = []

    def flipped(*_: Any) -> None:
        drawn.append(1)
        if len(drawn) == FRAMES:
            sys.stdout.write(f"{time.process_time():.3f}")
            sys.stdout.flush()
            os._exit(0)
        Window.canvas.ask_update()  # a still picture is drawn but once

    app = Bare() if which == "bare" else ours(folder)
    Window.bind(on_flip=flipped)
    app.run()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
