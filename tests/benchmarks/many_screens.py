"""Memory after many screens: ``python -m tests.benchmarks.many_screens FOLDER 20 200``.

Prints the resident memory after so many screens, in kilobytes, for each of the counts.
"""

import gc
import sys
from pathlib import Path

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.screens.rows import StandingRow
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, desk_in, walk_to
from tests.ui.hand import Hand

READ_S = 1.5  # how long a person looks at a page before the next touch
ASKED = "charger.configuration"  # a number
WAY = ("next", "about", "back", "back", "surroundings", "row", "back", "row", "back", "back")


def resident_kb() -> int:
    """What of this process is in memory."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return int(next(line for line in lines if line.startswith("VmRSS:")).split()[1])


def main(folder: Path, *after: int) -> None:
    """Go round and round by touch, over every kind of page that a walk is made of."""
    with desk_in(folder) as desk:
        walk = begin(desk)
        walk_to(walk, ASKED)
        desk.ledger.go("path", walk.visit.id)
    with window(SIZES["small"]):
        ui = Ui(FieldApp(folder, FakeDevice(folder)))
        hand = Hand(ui)
        gc.freeze()  # as the app does once it is there
        for screens in range(1, 1 + max(after)):
            turn(hand, WAY[(screens - 1) % len(WAY)])
            ui.pause(READ_S)
            ui.draw()  # as every page is; what a picture no longer needs is let go when it is drawn
            if screens in after:
                sys.stdout.write(f"{resident_kb()} ")
        sys.stdout.flush()


def turn(hand: Hand, to: str) -> None:
    """Touch the way to the next page; all of it in view, for scrolling is no page."""
    ui = hand.ui
    match to:
        case "next":
            hand.press_main()
        case "about":
            ui.tap_text("About this check")
        case "row":
            ui.tap(ui.all(StandingRow, ui.top)[0])
        case "surroundings":
            hand.station(to)
        case _:
            ui.back()


if __name__ == "__main__":
    main(Path(sys.argv[1]), *map(int, sys.argv[2:]))
