"""The invented service calls by touches alone: symptom, tests, proof, repair, repeat, sign-off."""

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from fieldapp import demo  # isort: skip
from fieldapp.app import FieldApp
from fieldapp.walk.thread import thread
from tests.benchmarks.taps import hold_to_aim
from tests.fakes.device import FakeDevice
from tests.ui.caller import Caller

# The call; what leads at first and what is proven; what its report says on page 1 and later.
CALLS = [
    pytest.param(
        "westwall",
        ("hot_panel", "worn_breaker"),
        "Trips of the breaker",
        ("Breaker worn · Breaker · proven", "40 A two-pole breaker listed"),
        id="a 40 A circuit that trips on hot afternoons",
    ),
    pytest.param(
        "workshop",
        ("worn_contacts", "unplugged_under_load"),
        "Where it is burnt",
        ("Unplugged while current flowed · Outlet · proven", "beads of metal at the tips"),
        id="a burnt blade of a 14-50",
    ),
    pytest.param(
        "creekside",
        ("vehicle_limit", "load_management"),
        "What the charger does",
        ("Limited by load management · Service · proven", "24.06 ± 0.15 A", "48.00 ± 0.18 A"),
        id="a car that charges at half power after rain",
    ),
]


@pytest.mark.parametrize(("name", "suspects", "symptom", "words"), CALLS)
def test_a_call_is_followed_from_symptom_to_the_signed_report(
    tmp_path: Path,
    name: str,
    suspects: tuple[str, str],
    symptom: str,
    words: tuple[str, ...],
) -> None:
    device = FakeDevice(tmp_path)
    with window(SIZES["phone"]):
        ui = Ui(FieldApp(tmp_path, device))
        try:
            hand = Caller(ui, demo.scenario(name))
            hand.begin_call()
            if name == "creekside":
                _takes_a_wrong_turn(hand)
            hand.solve()
            assert [s for s in hand.suspects if s in suspects][-2:] == list(suspects)
            hold_to_aim(f"service call, {name}", hand)
            assert ui.sees("Step 5 of 5: decide")
            assert ui.sees("Proven")
            assert not any(re.search(r"\(\d+ %\)", text) for text in ui.texts())
            hand.press_main()
            hand.sign("730415", "Return to service")
            ui.tap_text("Open the report")
        finally:
            ui.close()
    pages = [" ".join(p.extract_text().split()) for p in PdfReader(device.opened[0]).pages]
    assert "0 outside" in pages[0]
    assert symptom in pages[0].partition("Found outside, mended on this visit:")[2]
    for text in ("return to service", "Proven cause:", "Before and after mending", *words):
        assert any(text in page for page in pages), text


def _takes_a_wrong_turn(hand: Caller) -> None:
    """A symptom that was told wrong is taken back and told anew, and leads elsewhere."""
    ui = hand.ui
    hand.to_causes()
    assert ui.sees("No symptom is recorded yet")
    hand.press_main()
    hand.found = {"start": "dead", "is_offline": "no"}
    hand.make_check()
    hand.to_causes()
    assert ui.sees("Not settled")
    assert thread(hand.walk).ranking.causes[0].cause == "supply_off"
    ui.tap_text("Path")
    ui.show(ui.find_text("Undo: What the charger does"))
    ui.tap_text("Undo: What the charger does")
    hand.to_causes()
    hand.press_main()
    ui.tap_text("On plugging in")
    hand.found = hand.told["checks"]["charger.behavior"]
    hand.answer()
    hand.make_check()
    assert thread(hand.walk).ranking.causes[0].cause == "vehicle_limit"
