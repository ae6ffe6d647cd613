"""An app that is ended in the middle of a number: ``python -m tests.ui.killed_app FOLDER WALK``."""

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from fieldapp.app import FieldApp  # isort: skip
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand
from tests.ui.test_walk_commissioning import SAID

FOUR: Final = {
    **SAID,
    "kind": "site record",
    "role": "inspects",
    "site": "Invented depot",
    "occupancy": "other than a dwelling",
    "connection": "level 2 hard-wired",
    "inlet": "no vehicle here",
}
CALL: Final = {**SAID, "kind": "service call", "role": "serves", "site": "Invented arcade"}


def commissioning(hand: Hand) -> None:
    """Walk to the length of the run, and type half of it."""
    hand.begin(**SAID)
    hand.walk_on(lambda: hand.is_between and hand.walk.progress[0] == 3)
    hand.to_path()
    hand.station("run")
    hand.ui.tap_text("Run length")
    hand.accept_cautions()
    hand.answer("measured")
    hand.ui.pad("18.")


def four_points(hand: Hand) -> None:
    """Record four charging points of one make, and type half a rating of the third."""
    ui = hand.ui
    hand.begin(**FOUR)
    ui.tap_text("Charging points: 1")
    for bay in (1, 2, 3):  # each new one is the one that is worked at
        ui.tap_text(f"Add one more like Bay {bay}")
    ui.tap_text("Bay 3")
    hand.say_vehicle("No vehicle here")
    hand.station("charger")
    ui.tap_text("Nameplate and listing")
    ui.pad("48")


def service_call(hand: Hand) -> None:
    """Begin with the plates, and type half the setting of the charger."""
    hand.begin(**CALL)
    hand.station("charger")
    hand.ui.tap_text("Current setting")
    hand.ui.pad("3")


def correcting(hand: Hand) -> None:
    """Learn who has jurisdiction at the bay, and write half of it."""
    hand.begin(**SAID)
    hand.ui.tap_text("What is installed")
    hand.ui.tap_text("Authority having")
    hand.write("City of Ex")


WALKS: Final[dict[str, Callable[[Hand], None]]] = {
    "commissioning": commissioning,
    "four_points": four_points,
    "service_call": service_call,
    "correcting": correcting,
}


def main(folder: Path, walk: str) -> None:
    """Walk half the way, say which checks have an entry, and end without a word."""
    with window(SIZES["small"]):
        ui = Ui(FieldApp(folder, FakeDevice(folder)))
        hand = Hand(ui)
        WALKS[walk](hand)
        ui.seconds(0.4)  # keys reach the disk at most 0.3 s after they are hit
        sys.stdout.write(" ".join(e.check for e in hand.walk.visit.entries))
        sys.stdout.flush()
        os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
