"""The app as it is started, up to its first touch: ``python -m tests.ui.first_screen FOLDER``.

Prints which libraries are there when the list is drawn, whether the next picture is the same, which
libraries are there soon after, and what the first touch brings up.
"""

import os
import sys
import time
from pathlib import Path
from typing import Any

import tests.ui  # noqa: F401 - before Kivy: it chooses a window that needs no screen

from kivy.app import App  # isort: skip
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels

from tests.ui.sight import button_of, texts_of

HEAVY = ("pydantic", "uncertainties", "checks.record", "checks.assess", "checks.stations")
DESK = "fieldapp.walk.desk"
_LONG_S = 60.0


def say(words: object) -> None:
    """Print a line at once: the process ends without a word."""
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def main(folder: Path) -> None:
    """Start the app; say what is loaded with the first picture, and once the list was read."""
    sys.modules["numpy"] = None  # type: ignore[assignment]  # the tests' alone: no phone has it
    from fieldapp.app import run_touch

    began = time.monotonic()

    drawn: list[bytes] = []

    def flipped(*_: Any) -> None:
        if not drawn:
            say([name for name in (*HEAVY, DESK) if name in sys.modules])
        drawn.append(glReadPixels(0, 0, *Window.system_size, GL_RGBA, GL_UNSIGNED_BYTE))
        if len(drawn) > 1:
            Window.unbind(on_flip=flipped)
            say(drawn[0] == drawn[1])
            Clock.schedule_interval(loaded, 0.05)
        Window.canvas.ask_update()  # a still picture is drawn but once

    def loaded(_: float) -> bool:
        is_there = hasattr(sys.modules.get(DESK), "require_technician")  # its last name
        if not is_there and time.monotonic() - began < _LONG_S:
            return True
        say([name for name in (*HEAVY, DESK) if name in sys.modules])
        begin = next(w for w in Window.children[0].walk() if "New visit" in texts_of(w))
        key = button_of(begin)
        assert key is not None
        key.dispatch("on_release")
        say(App.get_running_app().guide.ledger.position.screen)
        os._exit(0)

    # bound after the app's own, and so asked before it
    Clock.schedule_once(lambda _: Window.bind(on_flip=flipped))
    run_touch(folder)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
