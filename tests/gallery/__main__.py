"""Draw every look, or measure it: ``python -m tests.gallery (FOLDER | --measure) [ONLY [SCALE]]``.

A folder gets a picture of each state at each size in each palette and with the largest text, and a
contact sheet a size. ``--measure`` draws nothing: it prints what is wrong with how each is laid
out, and ends with 1 where anything is. ONLY is a part of a picture's name: ``path``,
``path-landscape``, ``-night-``; SCALE a text size, as 1.3.
"""

import sys
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from tests.gallery.looks import SCALES, SIZES, Look, come_up, every_look
from tests.ui.driver import Ui

from fieldapp.widgets import theme  # isort: skip
from tests.gallery.contact import contact_sheet
from tests.ui.geometry import faults

MEASURE = "--measure"


def main(where: str, only: str = "", text_scale: str = "") -> int:
    """Draw or measure; return the exit code."""
    if where.startswith("-") and where != MEASURE:
        sys.stderr.write(f"{__doc__}")
        return 2
    scales = (float(text_scale),) if text_scale else SCALES
    looks = list(every_look(only, scales))
    if where == MEASURE:
        return _measure(looks)
    folder = Path(where)
    folder.mkdir(parents=True, exist_ok=True)
    for look, ui in _shown(looks):
        ui.settle()
        ui.pixels().save(folder / f"{look}.png")
    for size in SIZES:
        pictures = [folder / f"{look}.png" for look in looks if look.size == size]
        if pictures:
            contact_sheet(pictures, folder / f"sheet-{size}.png")
    return 0


def _measure(looks: list[Look]) -> int:
    wrong = 0
    for look, ui in _shown(looks):
        for fault in faults(ui):
            sys.stdout.write(f"{look}: {fault}\n")
            sys.stdout.flush()
            wrong += 1
    sys.stdout.write(f"{len(looks)} looks, {wrong} faults\n")
    return 1 if wrong else 0


def _shown(looks: list[Look]) -> Iterator[tuple[Look, Ui]]:
    """Bring each look up; the palette of what is up changes as it does under a user's finger."""
    for (state, size, scale), same in groupby(looks, key=lambda x: (x.state, x.size, x.text_scale)):
        palettes = [look.palette for look in same]
        with come_up(Look(state, size, palettes[0], scale)) as ui:
            for palette in palettes:
                theme.name = palette
                ui.rest()
                yield Look(state, size, palette, scale), ui


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
