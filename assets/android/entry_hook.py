"""Puts the entry among the copied sources, where the packager looks for ``main.py``."""

import shutil
from pathlib import Path
from typing import Any

ENTRY = Path(__file__).resolve().parent / "entry.py"


def before_apk_build(toolchain: Any) -> None:
    """Copy the entry into the folder that becomes the app's private one."""
    words = toolchain.args.unknown_args
    private = Path(words[words.index("--private") + 1])
    shutil.copyfile(ENTRY, private / "main.py")
