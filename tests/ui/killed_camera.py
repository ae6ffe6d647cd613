"""An app that is ended behind the camera: ``python -m tests.ui.killed_camera FOLDER``."""

import os
import signal
import sys
from pathlib import Path

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.device.port import Answer
from tests.fakes.device import FakeDevice
from tests.unit.store.test_photos import picture


class EndedDevice(FakeDevice):
    """Its camera makes the photo, and the system ends the app before anybody is told."""

    def take_photo(self, target: Path, answer: Answer) -> None:
        target.write_bytes(picture((640, 480)))
        os.kill(os.getpid(), signal.SIGKILL)


def main(folder: Path) -> None:
    """Take a photo, and end without a word."""
    with window(SIZES["small"]):
        ui = Ui(FieldApp(folder, EndedDevice(folder)))
        ui.settle()
        ui.tap_text("Take a photo")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
