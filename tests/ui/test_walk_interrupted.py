"""A service call that is killed, turned, called away from and led astray still finds its cause."""

from pathlib import Path

from tests.ui.dying import come_up_again, killed  # before Kivy: it chooses the window

from checks.check import AnyInput  # isort: skip
from fieldapp.walk.thread import thread
from fieldapp.widgets import CautionSheet, NumberPad
from tests.fakes.device import FakeDevice
from tests.ui.answers import plausible
from tests.ui.hand import Hand

# Common practice: a charger set above what its breaker carries for hours trips it after a while.
SAID = {
    "breaker.rating.rated_a": "30",
    "breaker.trip_history.when": "minutes",
    "breaker.trip_history.kind": "overcurrent",
    "charger.behavior.start": "charges",
    "charger.behavior.stops": "no",
}


def said(check: str, asked: AnyInput) -> str:
    return SAID.get(f"{check}.{asked.name}") or plausible(check, asked)


def test_a_service_call_goes_on_after_a_kill_a_turn_a_call_and_wrong_keys(tmp_path: Path) -> None:
    assert killed(tmp_path, "service_call") == []
    with come_up_again(tmp_path, FakeDevice(tmp_path)) as ui:
        hand = Hand(ui, said)
        assert (hand.at, ui.one(NumberPad).text) == ("check", "3")
        hand.turn("landscape")
        ui.pad("99")  # a finger on its neighbour, twice
        hand.pause()
        ui.tap_text("Take 399 A")
        assert isinstance(ui.top, CautionSheet)
        assert ui.back()  # the question is not answered, and nothing is taken
        assert ui.one(NumberPad).text == "399"
        for _ in "99":
            _backspace(hand)
        ui.pad("2")
        ui.tap_text("Take 32 A")
        hand.turn("small")
        assert ui.back()  # half-way: the setting stays
        ui.tap_text("Current setting")
        hand.make_check()
        _makes(hand, "breaker", "Breaker rating")
        _tells_what_happens(hand)


def _backspace(hand: Hand) -> None:
    key = next(w for w in hand.ui.all() if getattr(w, "does", "") == "back")
    hand.ui.tap(key)


def _makes(hand: Hand, station: str, title: str) -> None:
    hand.ui.tap_text("Path")
    hand.station(station)
    hand.ui.tap_text(title)
    hand.make_check()


def _tells_what_happens(hand: Hand) -> None:
    """The symptom is told on a turned phone, through another call, and the causes are ranked."""
    ui = hand.ui
    _makes(hand, "breaker", "Trips of the breaker")
    hand.turn("tablet")
    hand.pause()
    ui.tap_text("Likely causes")
    assert hand.at == "causes"
    first = thread(hand.walk).ranking.causes[0]
    assert ui.sees(first.title)
    hand.turn("small")
    assert ui.sees("Likely causes")
    assert ui.back()
    assert hand.at == "path"
