"""A service call by touches alone: symptom, ranking, tests, proof, repair, repeat, sign-off."""

from pathlib import Path

from pypdf import PdfReader

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from checks.check import AnyInput  # isort: skip
from checks.stations.all import BY_ID
from fieldapp.app import FieldApp
from fieldapp.walk.thread import Stage, thread
from tests.fakes.device import FakeDevice
from tests.gallery.walking import BEGIN, KETTLE, POINT, SERVICE
from tests.ui.answers import plausible
from tests.ui.hand import Hand


class Caller(Hand):
    """A hand whose answers change as the call goes on."""

    def __init__(self, ui: Ui) -> None:
        super().__init__(ui, self._said)
        self.said = dict(KETTLE)

    def _said(self, check: str, asked: AnyInput) -> str:
        return self.said.get(f"{check}.{asked.name}") or plausible(check, asked)


def test_a_tripping_breaker_is_followed_from_symptom_to_the_signed_report(tmp_path: Path) -> None:
    """Common practice: a Level 1 unit and a kitchen load on one 15 A circuit trip the breaker."""
    device = FakeDevice(tmp_path)
    with window(SIZES["phone"]):
        ui = Ui(FieldApp(tmp_path, device))
        try:
            _walk(Caller(ui), device)
        finally:
            ui.close()


def _walk(hand: Caller, device: FakeDevice) -> None:
    ui = hand.ui
    hand.begin(**{**BEGIN, **POINT, **SERVICE})
    for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
        _makes_at_a_station(hand, plate)
    hand.press_main()
    assert hand.at == "causes"
    assert ui.sees("No symptom is recorded yet")
    _takes_a_wrong_turn(hand)
    _follow(hand, Stage.REPAIR)
    assert ui.sees("Other loads on the charger's circuit")
    assert ui.sees("Remedy")
    assert not any("%" in words for words in ui.texts())
    hand.said["run.dedicated.is_alone"] = "yes"
    _follow(hand, Stage.DECIDE)
    assert ui.sees("Circuit of its own: before and after")
    hand.press_main()
    ui.tap_text("Cards to leave")
    assert ui.sees("DANGER. DO NOT ENERGIZE.")
    assert ui.sees("Why: Other loads on the charger's circuit.")
    ui.back()
    hand.sign("730415", "Keep out of service")
    ui.tap_text("Open the report")
    text = "\n".join(page.extract_text() for page in PdfReader(device.opened[0]).pages)
    for word in (
        "Likely causes: Bay 1",
        "Before and after mending",
        "Kettle moved to the kitchen circuit",
        "keep out of service",
        "DO NOT ENERGIZE",
    ):
        assert word in text, word


def _makes_at_a_station(hand: Caller, check: str) -> None:
    title = BY_ID[check].title
    hand.station(check.split(".")[0])
    hand.ui.show(hand.ui.find_text(title))
    hand.ui.tap_text(title)
    hand.make_check()
    hand.ui.tap_text("Path")


def _takes_a_wrong_turn(hand: Caller) -> None:
    """A symptom that was told wrong is taken back, and told anew."""
    right, hand.said["charger.behavior.start"] = hand.said["charger.behavior.start"], "dead"
    hand.press_main()
    hand.make_check()
    hand.ui.tap_text("Likely causes")
    assert hand.ui.sees("Not settled")
    assert thread(hand.walk).ranking.causes[0].cause != "shared_circuit"
    hand.said["charger.behavior.start"] = right
    hand.ui.tap_text("Path")
    hand.ui.show(hand.ui.find_text("Undo: What the charger does"))
    hand.ui.tap_text("Undo: What the charger does")
    hand.press_main()
    hand.press_main()
    hand.ui.tap_text("On plugging in")
    hand.answer()
    hand.make_check()
    hand.ui.tap_text("Likely causes")


def _follow(hand: Caller, until: Stage) -> None:
    """Press the main key until a stage is reached; each result leads back to the causes."""
    while thread(hand.walk).stage is not until or hand.at != "causes":
        if hand.at == "check":
            hand.make_check()
        elif hand.at == "state":
            hand.bring_into_state()
        else:
            hand.press_main()
