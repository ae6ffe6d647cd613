"""A site record of four hard-wired charging points, with all that comes between on a real site."""

from pathlib import Path

from pypdf import PdfReader

from tests.ui.dying import come_up_again, killed  # before Kivy: it chooses the window

from checks.stations.all import BY_ID  # isort: skip
from checks.verdict import Verdict
from fieldapp.widgets import NumberPad
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand

BAYS = ["Bay 1", "Bay 2", "Bay 3", "Bay 4"]
IMPACT = "surroundings.vehicle_impact"
# what has no receptacle, no plug and no vehicle, and who opens nothing, is not asked
SPARED = {"outlet.retention", "charger.supply_cord", "vehicle.power", "breaker.terminal_torque"}


def test_four_points_are_recorded_through_slips_turns_a_call_and_a_kill(tmp_path: Path) -> None:
    device = FakeDevice(tmp_path)
    assert killed(tmp_path, "four_points") == []
    with come_up_again(tmp_path, device) as ui:
        hand = Hand(ui)
        _goes_on_with_the_third(hand)
        _records_each(hand)
        _finds_what_is_wrong(hand)
        _leaves_the_live_tests_out(hand)
        _signs(hand, device)


def _goes_on_with_the_third(hand: Hand) -> None:
    """Killed, turned, called and slipped: the digits stay, and the slip is asked about."""
    ui = hand.ui
    assert [p.name for p in hand.walk.visit.points] == BAYS
    assert hand.walk.point.name == "Bay 3"
    assert (hand.at, ui.one(NumberPad).text) == ("check", "48")
    hand.turn("landscape")
    assert ui.one(NumberPad).text == "48"
    ui.pad("0")
    hand.pause()
    ui.tap_text("Take 480 A")
    assert ui.sees("480 A? Usual here")
    ui.tap_text("48.0 A")
    hand.turn("small")
    hand.answer("240")
    assert ui.back()  # in the middle: what is answered is there again
    ui.tap_text("Nameplate and listing")
    assert [a.input for a in hand.walk.questions.entry.answers] == ["rated_a", "volts"]
    hand.make_check()
    hand.to_path()


def _records_each(hand: Hand) -> None:
    """The service once for all of them, and at each bay what is there; none is copied."""
    ui = hand.ui
    hand.station("service")
    ui.tap_text("Service rating")
    hand.make_check()
    hand.to_path()
    for bay in BAYS:
        _goes_to(hand, bay)
        if hand.walk.asks_vehicle:  # of a bay that was added like another it is asked
            hand.say_vehicle("No vehicle here")
        assert "service.rating" in {s.row.check for s in hand.walk.steps if s.is_done}
        assert _verdict(hand) is Verdict.NOT_MEASURED
        hand.station("surroundings")
        ui.tap_text("Guard against vehicles")
        if bay == "Bay 2":
            _says_it_wrong_first(hand)
        else:
            hand.answer("no")
        hand.to_path()
        if bay != "Bay 2":
            hand.walk_on(lambda at=bay: hand.walk.point.name != at)
            _goes_to(hand, bay)
            assert not any(s.row.check in SPARED for s in hand.walk.steps)
            undone = [BY_ID[s.row.check] for s in hand.walk.steps if not s.is_done]
            # what closes the work on the site, and what has all of them charge, waits for Bay 2
            assert all(check.closes or check.loads_all for check in undone)
            assert len(hand.walk.steps) > 40


def _says_it_wrong_first(hand: Hand) -> None:
    """A wrong answer is taken back: it stands exposed, and nothing guards it."""
    ui = hand.ui
    hand.answer("no")
    assert _verdict(hand) is Verdict.WITHIN
    hand.to_path()
    ui.tap_text("Undo: Guard against vehicles")
    ui.tap_text("Go on: Guard against vehicles")
    assert _verdict(hand) is Verdict.NOT_MEASURED
    ui.tap_text("A vehicle can hit it")
    hand.answer("yes")
    hand.turn("tablet")
    hand.answer("none")
    hand.turn("small")
    assert _verdict(hand) is Verdict.OUTSIDE


def _goes_to(hand: Hand, bay: str) -> None:
    hand.to_path()
    hand.ui.tap_text("Charging points: 4")
    hand.ui.tap_text(bay)
    assert (hand.at, hand.walk.point.name) == ("path", bay)


def _verdict(hand: Hand) -> Verdict:
    return hand.walk.assessment.row(IMPACT, hand.walk.point_id).judgement.verdict


def _finds_what_is_wrong(hand: Hand) -> None:
    """From the fourth bay the finding at the second is reached, and leads there."""
    ui = hand.ui
    assert hand.walk.point.name == "Bay 4"
    ui.tap_text(f"{len(hand.walk.assessment.findings)} findings")
    ui.show(ui.find_text("Guard against vehicles"))
    ui.tap_text("Guard against vehicles")
    assert ui.sees("Surroundings · Bay 2")
    assert hand.walk.point.name == "Bay 2"
    assert ui.find_text("To be done by who may open and switch here")
    ui.tap_text("Path")


def _leaves_the_live_tests_out(hand: Hand) -> None:
    """Where it is not live its tests are left out with the reason, at this bay alone."""
    ui = hand.ui
    hand.station("outlet")
    ui.tap_text("Ground-fault trip test")
    assert ui.sees("Not now: the circuit must be energised"), ui.texts()
    ui.tap_text("Is the circuit live?")
    while not ui.sees("It is not live"):
        hand.press_main()
    ui.tap_text("It is not live")
    ui.tap_text("Leave these checks out")
    left = {e.subject for e in hand.walk.visit.entries if e.not_done is not None}
    assert left - {"site", "p1"} == {"c2"}


def _signs(hand: Hand, device: FakeDevice) -> None:
    ui = hand.ui
    hand.to_path()
    ui.tap_text("Sign off now")
    assert ui.sees("not measured")
    hand.sign("730415", "Leave it to the owner or the authority")
    ui.tap_text("Open the report")
    text = "\n".join(page.extract_text() for page in PdfReader(device.opened[0]).pages)
    for word in ("Invented depot", "site record", "It is not live", "48.0", *BAYS):
        assert word in text, word
