"""Pasted words, words that are too long, and what cannot be read or judged, under a finger."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from checks.record import TEXT_MOST
from checks.stations.all import BY_ID
from fieldapp.app import FieldApp
from fieldapp.widgets import TextEntry
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, desk_in
from tests.ui.driver import App, Ui  # before Kivy: it chooses the window
from tests.ui.hand import Hand

Open = Callable[[App], Ui]
CHECK = "outlet.damage"
LONG = "x" * (TEXT_MOST + 1)


def at_note(folder: Path) -> None:
    """A visit at the note of a check that is half made."""
    with desk_in(folder) as desk:
        walk = begin(desk)
        walk.begin(CHECK)
        walk.acknowledge()
        desk.ledger.go("note", walk.visit.id, CHECK)


def opened(ui: Open, folder: Path) -> Ui:
    return ui(FieldApp(folder, FakeDevice(folder)))


def paste(app: Ui, words: str, field: int = 0) -> None:
    entry = app.all(TextEntry)[field].ids.field
    entry.focus = True
    app.frames(2)
    entry.select_all()
    entry.delete_selection()
    entry.insert_text(words)
    app.settle()


def test_what_is_pasted_into_a_note_is_kept_and_there_at_the_next_start(ui: Open, tmp_path: Path):
    at_note(tmp_path)
    app = opened(ui, tmp_path)
    paste(app, "Panel\tA\r\nto the left")
    app.tap_text("Keep the note")
    assert Hand(app).walk.open_questions.entry.note == "Panel A\nto the left"
    app.close()
    again = opened(ui, tmp_path)
    assert Hand(again).walk.open_questions.entry.note == "Panel A\nto the left"


def test_a_note_that_is_too_long_is_refused_by_how_much_and_nothing_of_it_is_lost(
    ui: Open, tmp_path: Path
):
    at_note(tmp_path)
    app = opened(ui, tmp_path)
    hand = Hand(app)
    paste(app, LONG)
    app.tap_text("Keep the note")
    assert app.sees("2001 characters are too many, 2000 is the most.")
    assert app.sees("Shorten it by 1; what you wrote still stands in the field.")
    app.tap_text("Close")
    assert (hand.at, app.one(TextEntry).text) == ("note", LONG)
    app.tap_text("Back")  # it still stands there, and nobody leaves it unsaid
    app.tap_text("Close")
    assert hand.at == "note"
    app.close()  # the system may end the app there
    again = opened(ui, tmp_path)
    assert again.one(TextEntry).text == LONG
    paste(again, "short")
    again.tap_text("Keep the note")
    assert Hand(again).walk.open_questions.entry.note == "short"


def test_a_name_in_the_settings_is_as_long_as_fits(ui: Open, tmp_path: Path):
    app = opened(ui, tmp_path)
    app.tap_text("Settings")
    paste(app, "Pat\tExample")
    app.seconds(0.5)
    assert Hand(app).guide.desk.settings.technician.name == "Pat Example"
    paste(app, LONG, field=1)
    app.tap_text("Done")
    assert app.sees("License number")
    assert app.sees("2001 characters are too many, 2000 is the most.")


def test_a_half_made_check_that_cannot_be_read_is_told_and_the_visit_opens(
    ui: Open, tmp_path: Path
):
    at_note(tmp_path)
    (path,) = (tmp_path / "visits").iterdir()
    doc = json.loads(path.read_text())
    (draft,) = doc["draft"].values()
    draft["entry"]["note"] = "a\tb"
    path.write_text(json.dumps(doc))
    app = opened(ui, tmp_path)
    title = BY_ID[CHECK].title
    assert app.sees(f"What was half made there cannot be read: {title}.")
    app.tap_text("Close")
    assert Hand(app).walk.open_questions.entry.note == ""


def test_a_visit_that_cannot_be_judged_needs_attention_and_says_why(
    ui: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    with desk_in(tmp_path) as desk:
        begin(desk, site="Invented depot")
        bad = begin(desk)
        desk.ledger.go("path", bad.visit.id)
    real = BY_ID[CHECK].judge

    def judge(s):  # type: ignore[no-untyped-def]
        if s.visit.id == bad.visit.id:
            raise ZeroDivisionError
        return real(s)

    monkeypatch.setitem(BY_ID[CHECK].__dict__, "judge", judge)
    app = opened(ui, tmp_path)
    assert app.sees("It cannot be judged (ZeroDivisionError in judge")
    app.tap_text("Close")
    assert app.sees("Invented depot")
    app.tap_text("Needs attention")
    assert app.sees("What is on disk is kept as it is.")
    app.tap_text("Close")
    app.tap_text("Invented depot")
    assert Hand(app).at == "path"
