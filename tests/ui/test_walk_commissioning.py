"""A whole commissioning visit by real touches, from the empty list to the signed report."""

from pathlib import Path

from pypdf import PdfReader

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from checks.check import CircuitState  # isort: skip
from fieldapp.app import FieldApp
from tests.benchmarks.taps import hold_to_aim
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand

PIN = "052917"  # a leading zero is a digit like any other
SAID = {
    "kind": "commissioning",
    "role": "installs",
    "site": "Invented garage",
    "occupancy": "dwelling",
    "permit": "P-0000",
    "system": "120/240 V single-phase",
    "panel": "Panel A",
    "code": "nec_2023",
    "is_service": "yes",
    "name": "Bay 1",
    "connection": "level 2 by receptacle",
    "connector": "SAE J1772",
    "inlet": "SAE J1772",
}


def test_a_commissioning_visit_is_walked_by_touch_to_its_signed_report(tmp_path: Path) -> None:
    device = FakeDevice(tmp_path)
    with window(SIZES["small"]):
        ui = Ui(FieldApp(tmp_path, device))
        try:
            _walk(Hand(ui), device)
        finally:
            ui.close()


def _walk(hand: Hand, device: FakeDevice) -> None:
    hand.begin(**SAID)
    _is_refused_energising(hand)
    _takes_a_wrong_turn_and_returns(hand)
    hand.walk_on(lambda: _comes_next(hand) == "outlet.loaded_voltage")
    _slips(hand)
    hand.walk_on()
    done, total = hand.walk.progress
    assert done == total > 40
    assert hand.walk.state is CircuitState.UNDER_LOAD
    hold_to_aim("commissioning", hand)
    _signs(hand, device)


def _is_refused_energising(hand: Hand) -> None:
    """Before the dead tests stand, the screen says what they are and records no state."""
    ui = hand.ui
    hand.station("outlet")
    ui.tap_text("Volts without load")
    assert ui.sees("Not now: the circuit must be energised")
    ui.tap_text("Energise the circuit")
    assert ui.sees("Not yet: the circuit must not be energised until these stand.")
    ui.show(ui.find_text("Absence of voltage"))
    assert ui.sees("Absence of voltage")
    ui.tap_text("Path")
    assert hand.walk.visit.states == ()


def _takes_a_wrong_turn_and_returns(hand: Hand) -> None:
    """A check left half-way is there again; a wrong tap meets its danger, and is undone."""
    ui = hand.ui
    hand.station("charger")
    ui.tap_text("Damage at the charger")
    hand.accept_cautions()
    ui.tap_text("Sound")
    ui.back()
    assert hand.at == "path"
    assert ui.sees("Go on: Damage at the charger")
    ui.tap_text("Go on: Damage at the charger")
    assert [a.input for a in hand.walk.questions.entry.answers] == ["is_case_broken"]
    ui.tap_text("Previous")
    ui.tap_text("Damaged")
    assert ui.sees("Stop. Switch the current off from a safe point")
    hand.accept_cautions()
    assert hand.walk.questions.entry.answer("is_case_broken").yes
    ui.tap_text("Previous")
    hand.make_check()
    assert hand.at == "check"  # straight on: the wrong tap is gone, the check is within
    assert ui.sees("Damage at the charger")
    ui.back()
    assert hand.at == "path"


def _comes_next(hand: Hand) -> str:
    step = hand.walk.next_step
    return step.row.check if hand.is_between and not isinstance(step, CircuitState | None) else ""


def _slips(hand: Hand) -> None:
    """2395 for 239.5 is questioned, on a phone that is turned and called away in the middle."""
    ui = hand.ui
    hand.press_main()
    hand.accept_cautions()
    while hand.walk.questions.current.name != "outlet_loaded":
        hand.answer()
    ui.pad("23")
    hand.turn("landscape")
    ui.pad("95")
    hand.pause()
    hand.turn("small")
    ui.tap_text("Take 2395 V")
    assert ui.sees("2395 V? Usual here")
    ui.tap_text("239.5 V")
    assert hand.walk.questions.entry.answer("outlet_loaded").value == "239.5"


def _signs(hand: Hand, device: FakeDevice) -> None:
    ui, walk = hand.ui, hand.walk
    assert walk.next_step is None  # every check that may be made has its entry
    hand.to_sign_off()
    hand.sign(PIN, "Return to service")
    ui.tap_text("Open the report")
    ui.tap_text("Keep a copy")
    assert ui.sees(f"Downloads, {device.kept[0].name}")
    ui.settle()
    ui.tap_text("Close")
    ui.tap_text("Share")
    assert device.opened == device.shared == device.kept
    text = "\n".join(page.extract_text() for page in PdfReader(device.opened[0]).pages)
    for word in ("Invented garage", "Pat Example", "return to service", "P-0000"):
        assert word in text, word
    assert "239.5" in text
    ui.tap_text("All visits")
    assert ui.sees("Invented garage")
    assert ui.sees("signed")
    ui.tap_text("Invented garage")
    assert ui.sees("Signed: this record is closed")
