"""One start, to the first usable screen: ``python -m tests.benchmarks.cold_start bare|app FOLDER``.

Prints the seconds of processor time since the process began, Python and the toolkit included. The
window is as large as a phone's: the processor draws here, and so drawing counts.
"""

import os
import sys
import time
from pathlib import Path
from typing import Any

import tests.ui  # noqa: F401 - before Kivy: it chooses a window that needs no screen

from kivy.config import Config  # isort: skip

Config.set("graphics", "width", 392)
Config.set("graphics", "height", 848)

from kivy.app import App  # noqa: E402
from kivy.core.window import Window  # noqa: E402
from kivy.uix.widget import Widget  # noqa: E402


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
    """Start, draw the first picture, say what it took, and end without a word.

    `tests.ui.test_first_screen` sees that nothing moves after that picture.
    """

    def flipped(*_: Any) -> None:
        sys.stdout.write(f"{time.process_time():.3f}")
        sys.stdout.flush()
        os._exit(0)

    app = Bare() if which == "bare" else ours(folder)
    Window.bind(on_flip=flipped)
    app.run()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
