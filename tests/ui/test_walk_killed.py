"""Nothing typed is lost when the process is ended in the middle of a number."""

from pathlib import Path

from tests.ui.dying import come_up_again, killed  # before Kivy: it chooses the window

from fieldapp.widgets import NumberPad  # isort: skip
from tests.fakes.device import FakeDevice
from tests.ui.hand import Hand


def test_after_a_kill_the_app_comes_up_where_it_was_with_every_entry_and_digit(
    tmp_path: Path,
) -> None:
    made = killed(tmp_path, "commissioning")
    with come_up_again(tmp_path, FakeDevice(tmp_path)) as ui:
        hand = Hand(ui)
        assert hand.at == "check"
        assert ui.one(NumberPad).text == "18."
        assert [e.check for e in hand.walk.visit.entries] == made
        ui.pad("5")
        ui.tap_text("Take 18.5 m")
        length = next(e for e in hand.walk.visit.entries if e.check == "run.length")
        assert length.answer("length").value == "18.5"
