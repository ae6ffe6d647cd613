"""The list of visits under a finger."""

from collections.abc import Callable
from pathlib import Path

from tests.ui.driver import App, Ui  # before Kivy: it chooses the window

from kivy.uix.textinput import TextInput  # isort: skip

from fieldapp.app import FieldApp
from tests.fakes.device import FakeDevice
from tests.gallery.states.visit import visits
from tests.gallery.walking import desk_in


def test_a_visit_is_found_by_a_few_letters_and_what_is_broken_stays_in_view(
    ui: Callable[[App], Ui], tmp_path: Path
) -> None:
    with desk_in(tmp_path) as desk:
        visits(desk)
    app = ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
    app.tap(app.one(TextInput))
    app.type("depot")
    app.seconds(0.5)
    assert app.sees("Invented depot, row of six")
    assert not app.sees("Invented garage")
    assert app.sees("Needs attention"), "what cannot be read is never hidden"
    assert app.sees("1 of 3 match")
    app.type(" voltage")
    app.seconds(0.5)
    assert app.sees("0 of 3 match")


def test_settings_that_cannot_be_are_set_aside_and_said_when_they_are_asked_for(
    ui: Callable[[App], Ui], tmp_path: Path
) -> None:
    with desk_in(tmp_path) as desk:
        desk.set(theme="night")
        desk.ledger.keep(settings={"text_scale": 40, "theme": "outdoor"})
    app = ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
    assert app.sees("No visits yet"), "the list needs no settings"
    app.tap_text("Settings")
    assert app.sees("These cannot be used: text size.")
    app.tap_text("Close")
    assert app.sees("Text size")
    assert list(tmp_path.glob("app_state.damaged.*.json"))
