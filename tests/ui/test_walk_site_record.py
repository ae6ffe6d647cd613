"""A second visit of another kind to its end: a Level 1 site record by one who opens nothing."""

from pathlib import Path

from pypdf import PdfReader

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from checks.check import AnyInput  # isort: skip
from fieldapp.app import FieldApp
from tests.benchmarks.taps import hold_to_aim
from tests.fakes.device import FakeDevice
from tests.ui.answers import plausible
from tests.ui.hand import Hand

# A cord set on an ordinary 120 V circuit; invented.
LEVEL_1 = {
    "breaker.rating.rated_a": "20",
    "breaker.rating.poles": "1",
    "charger.nameplate.volts": "120",
    "charger.nameplate.rated_a": "12",
    "charger.configuration.configured_a": "12",
    "run.conductor.size": "12 AWG",
    "run.conductor.method": "NM",
    "run.conductor.insulation": "NM",
    "run.conductor.carrying": "2",
    "run.grounding_conductor.size": "12 AWG",
    "outlet.configuration.kind": "5-20",
    "outlet.no_load_voltage.conductors": "line_neutral",
    "outlet.loaded_voltage.outlet_no_load": "121.0",
    "outlet.loaded_voltage.current": "11.8",
    "outlet.loaded_voltage.outlet_loaded": "112.1",
    "vehicle.power.displayed": "1.3",
    "charger.offered_current.duty": "20.0",
}


def answers(check: str, asked: AnyInput) -> str:
    return LEVEL_1.get(f"{check}.{asked.name}") or plausible(check, asked)


def test_a_site_record_by_an_inspector_comes_to_its_signed_report(tmp_path: Path) -> None:
    device = FakeDevice(tmp_path)
    with window(SIZES["phone"]):
        ui = Ui(FieldApp(tmp_path, device))
        try:
            _walk(Hand(ui, answers), device)
        finally:
            ui.close()


def _walk(hand: Hand, device: FakeDevice) -> None:
    ui = hand.ui
    hand.begin(
        kind="site record",
        role="inspects",
        site="Invented cottage",
        address="1 Example Lane",
        occupancy="dwelling",
        system="120/240 V single-phase",
        panel="Panel B",
        code="nec_2023",
        is_service="yes",
        name="Carport",
        connection="level 1 cord set",
        connector="SAE J1772",
        inlet="SAE J3400",
    )
    hand.walk_on(lambda: hand.is_between and hand.walk.progress[0] == 2)
    _leaves_one_out(hand)
    hand.walk_on()
    assert not any(s.row.check == "breaker.absence_of_voltage" for s in hand.walk.steps)
    hold_to_aim("site record", hand)
    hand.to_sign_off()
    assert ui.sees("not measured")
    hand.sign("730415", "Leave it to the owner or the authority")
    ui.tap_text("Open the report")
    text = "\n".join(page.extract_text() for page in PdfReader(device.opened[0]).pages)
    for word in ("Invented cottage", "site record", "no access", "Rack in the way"):
        assert word in text, word


def _leaves_one_out(hand: Hand) -> None:
    """A check is left out with its reason, and stands as not measured."""
    ui = hand.ui
    hand.to_path()
    hand.station("panel")
    ui.tap_text("Working space")
    hand.accept_cautions()
    ui.tap_text("About this check")
    ui.tap_text("Leave this check out")
    hand.write("Rack in the way")
    ui.tap_text("No access")
    hand.press_main()
    assert hand.at == "result"
    assert ui.sees("not measured")
    assert ui.sees("Left out, no access: Rack in the way")
    ui.tap_text("Path")
