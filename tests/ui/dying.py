"""A process that is ended in the middle of a walk, and the app that comes up after it."""

import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.device.port import Device


def killed(folder: Path, walk: str) -> list[str]:
    """Walk half the way in a process of its own that is killed; return the checks it made."""
    root = Path(__file__).parents[2]
    command = [sys.executable, "-m", "tests.ui.killed_app", str(folder), walk]
    ended = subprocess.run(
        command, cwd=root, capture_output=True, text=True, timeout=300, check=False
    )
    assert ended.returncode == -signal.SIGKILL, ended.stderr[-2000:]
    return ended.stdout.split()


@contextmanager
def come_up_again(folder: Path, device: Device) -> Iterator[Ui]:
    """The app where it was, on the small phone."""
    with window(SIZES["small"]):
        ui = Ui(FieldApp(folder, device))
        try:
            yield ui
        finally:
            ui.close()
