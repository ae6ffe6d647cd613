"""Draw them: ``python -m tests.gallery FOLDER [ONLY [TEXT_SCALE]]``."""

import shutil
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.widgets import theme
from tests.fakes.device import FakeDevice
from tests.gallery.states import STATES, set_look, stage
from tests.gallery.touches import TOUCHED


def main(folder: Path, only: str = "", text_scale: str = "1") -> None:
    """Draw states × sizes × themes into a folder, with the text that much larger."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in (*STATES, *TOUCHED):
        state, touch = TOUCHED.get(name, (name, None))
        with tempfile.TemporaryDirectory() as kept:
            for size, pixels in SIZES.items():
                for palette in ("day", "night", "outdoor"):
                    shot = f"{name}-{size}-{palette}"
                    if only in shot and (palette == "day" or size == "small"):
                        shutil.rmtree(kept)
                        stage(state, Path(kept))
                        with window(pixels):
                            set_look(Path(kept), palette, float(text_scale))
                            _shoot(Path(kept), touch, folder / f"{shot}.png")


def _shoot(data: Path, touch: Callable[[Ui], None] | None, file: Path) -> None:
    ui = Ui(FieldApp(data, FakeDevice(data)))
    ui.settle()
    if touch is not None:
        touch(ui)
    ui.settle()
    ui.pixels().save(file)
    ui.close()
    theme.name, theme.text_scale = "day", 1.0


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
