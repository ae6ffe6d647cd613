"""How a state can look: sizes of the window, palettes, text sizes; and the app come up in one."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES as TOUCHED_SIZES
from tests.ui.loop import window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.theme import MAX_TEXT_SCALE, PALETTES
from tests.fakes.device import FakeDevice
from tests.gallery.states import STATES, set_look, stage
from tests.gallery.touches import TOUCHED

SIZES = TOUCHED_SIZES | {"desktop": (1280, 800)}
SCALES = (1.0, MAX_TEXT_SCALE)
NAMES = (*STATES, *TOUCHED)  # states, and what only a touch brings up

_ONE_CHECK = {"caution", "number", "drop", "measuring", "choice", "yes", "no"}
_KIT = {"kit", "instrument"}
_OF_A_CHECK = {"about", "note", "leave"}
_SIGNING = {"sign", "signature"}


class Look(NamedTuple):
    """How one state of a screen comes up."""

    state: str
    size: str
    palette: str
    text_scale: float

    def __str__(self) -> str:
        """Name the look as its picture is named."""
        return f"{self.state}-{self.size}-{self.palette}-{self.text_scale:.0%}".rstrip("%")


def every_look(only: str = "", scales: tuple[float, ...] = SCALES) -> Iterator[Look]:
    """Every state at every size in every palette; with the largest text in the first palette.

    Those that come up at once follow each other: same state, window and text size.
    """
    for state in NAMES:
        for size in SIZES:
            for scale in scales:
                palettes = list(PALETTES) if scale < MAX_TEXT_SCALE else list(PALETTES)[:1]
                for palette in palettes:
                    look = Look(state, size, palette, scale)
                    if only in str(look):
                        yield look


def screen_of(name: str) -> str:
    """Say what a state is of: its first word, the screen of one check, or what a touch made."""
    if name in TOUCHED:
        return "after a touch"
    first = name.split("_")[0]
    screens = {"check": _ONE_CHECK, "kit": _KIT, "of a check": _OF_A_CHECK, "signing": _SIGNING}
    return next((screen for screen, words in screens.items() if first in words), first)


@contextmanager
def come_up(look: Look) -> Iterator[Ui]:
    """Bring the app up as a look says, touched where that is part of it."""
    state, touch = TOUCHED.get(look.state, (look.state, None))
    with tempfile.TemporaryDirectory() as kept, window(SIZES[look.size]):
        data = Path(kept)
        stage(state, data)
        set_look(data, look.palette, look.text_scale)
        ui = Ui(FieldApp(data, FakeDevice(data)))
        try:
            ui.rest()
            if touch is not None:
                touch(ui)
                ui.rest()
            yield ui
        finally:
            ui.close()
