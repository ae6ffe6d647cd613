"""The list of visits is there before the library that judges a visit."""

import subprocess
import sys
from pathlib import Path

from tests.ui.first_screen import DESK, HEAVY


def test_the_list_is_drawn_first_and_a_touch_finds_the_rest_loaded(tmp_path: Path):
    ran = subprocess.run(
        [sys.executable, "-m", "tests.ui.first_screen", str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    drawn, is_settled, read, touched = ran.stdout.splitlines()
    assert drawn == "[]"
    assert is_settled == "True"
    assert read == str([*HEAVY, DESK])
    assert touched == "settings"  # a new visit asks for the technician's name first
