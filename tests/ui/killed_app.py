"""An app that is ended in the middle of a number: ``python -m tests.ui.killed_app FOLDER``."""

import os
import signal
import sys
from pathlib import Path

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from fieldapp.app import FieldApp  # isort: skip
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand
from tests.ui.test_walk_commissioning import SAID


def main(folder: Path) -> None:
    """Walk to the length of the run, type half of it, and end without a word."""
    with window(SIZES["small"]):
        ui = Ui(FieldApp(folder, FakeDevice(folder)))
        hand = Hand(ui)
        hand.begin(**SAID)
        hand.walk_on(lambda: hand.at in ("path", "result") and hand.walk.progress[0] == 3)
        if hand.at != "path":
            ui.tap_text("Path")
        hand.station("run")
        ui.tap_text("Run length")
        hand.accept_cautions()
        hand.answer("measured")
        ui.pad("18.")
        ui.seconds(0.4)  # keys reach the disk at most 0.3 s after they are hit
        entries = [e.check for e in hand.walk.visit.entries]
        sys.stdout.write(" ".join(entries))
        sys.stdout.flush()
        os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
