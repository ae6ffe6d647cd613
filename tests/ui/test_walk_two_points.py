"""Two charging points on one panel, by touch: the way on ends at the sign-off, with few switchings.

The bus is dead only while no circuit of it is live, so the dead work of both comes before either is
energised; and both are energised and tested before they charge together. Common practice, no
source.
"""

from pathlib import Path

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from checks.check import CircuitState  # isort: skip
from fieldapp.app import FieldApp
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand
from tests.ui.test_walk_commissioning import SAID


def test_two_points_of_a_panel_are_walked_by_the_strongest_key_to_the_sign_off(
    tmp_path: Path,
) -> None:
    device = FakeDevice(tmp_path)
    with window(SIZES["small"]):
        ui = Ui(FieldApp(tmp_path, device))
        try:
            _walk(Hand(ui))
        finally:
            ui.close()


def _walk(hand: Hand) -> None:
    ui = hand.ui
    hand.begin(**SAID)
    ui.tap_text("Charging points: 1")
    ui.tap_text("Add one more like Bay 1")
    ui.tap_text("Bay 1")
    hand.walk_on(lambda: len(hand.walk.visit.states) > 8)
    hand.to_path()
    states = [(s.point, s.state) for s in hand.walk.visit.states]
    dead, live = CircuitState.DEAD.value, CircuitState.ENERGISED.value
    assert [s for s in states if s[1] in (dead, live)] == [
        ("c1", dead),
        ("c2", dead),
        ("c2", live),
        ("c1", live),
    ]
    last_live = max(s.number for s in hand.walk.visit.states if s.state == live)
    together = [e for e in hand.walk.visit.entries if e.check == "charger.together"]
    assert {e.subject for e in together} == {"c1", "c2"}
    assert all(e.number > last_live and e.not_done is None for e in together)
    assert hand.main_key().text == "Sign off"
    for point in hand.walk.visit.points:
        hand.walk.go_to_point(point.id)
        assert [s.row.check for s in hand.walk.steps if not s.is_done] == []
