"""Nothing typed is lost when the process is ended in the middle of a number."""

import signal
import subprocess
import sys
from pathlib import Path

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.widgets import NumberPad
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand


def test_after_a_kill_the_app_comes_up_where_it_was_with_every_entry_and_digit(
    tmp_path: Path,
) -> None:
    root = Path(__file__).parents[2]
    command = [sys.executable, "-m", "tests.ui.killed_app", str(tmp_path)]
    ended = subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=300)
    assert ended.returncode == -signal.SIGKILL, ended.stderr[-2000:]
    with window(SIZES["small"]):
        ui = Ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
        try:
            hand = Hand(ui)
            assert hand.at == "check"
            assert ui.one(NumberPad).text == "18."
            assert [e.check for e in hand.walk.visit.entries] == ended.stdout.split()
            ui.pad("5")
            ui.tap_text("Take 18.5 m")
            length = next(e for e in hand.walk.visit.entries if e.check == "run.length")
            assert length.answer("length").value == "18.5"
        finally:
            ui.close()
