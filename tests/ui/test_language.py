"""The screens in another language, from the settings on."""

from collections.abc import Callable

import pytest

from tests.ui.driver import Ui  # before Kivy: it chooses the window

from fieldapp.widgets import ValueDisplay  # isort: skip
from tests.ui.hand import Hand

# Settings; visits. Plain words: common practice, no source.
WORDS = {"Français": ("Réglages", "Visites"), "Español": ("Ajustes", "Visitas")}


@pytest.mark.parametrize("name", WORDS)
def test_a_language_is_chosen_in_the_settings_and_is_there_at_the_next_start(
    name: str, come_up: Callable[[str], Ui]
) -> None:
    settings, visits = WORDS[name]
    ui = come_up("settings")
    ui.tap_text(name)
    ui.settle()
    ui.wait_text(settings)
    ui.back()
    ui.settle()
    assert ui.sees(visits)
    ui.close()
    assert come_up("").sees(visits)


def test_a_translation_says_that_no_tradesperson_reviewed_it(come_up: Callable[[str], Ui]) -> None:
    ui = come_up("settings")
    ui.show(ui.find_text("English"))
    assert not ui.sees("reviewed")
    ui.tap_text("Français")
    ui.settle()
    ui.show(ui.find_text("anglais"))
    assert ui.sees("Le texte anglais")


def test_in_french_a_number_is_typed_and_told_with_its_comma(come_up: Callable[[str], Ui]) -> None:
    """The record keeps the point; Quebec writes the comma (common practice, no source)."""
    ui = come_up("number")
    ui.app.guide.speak("fr")
    ui.app.guide.go("check", "run.insulation")
    ui.settle()
    for key in ("2", "1", "0", ","):
        ui.tap_text(key)
    ui.tap_text("5")
    assert "210,5" in ui.one(ValueDisplay).shown
    assert ui.find_text("210,5 MΩ")
    asked = ui.app.guide.walk.questions.current.name
    Hand(ui).press_main()
    assert ui.app.guide.walk.questions.entry.answer(asked).value == "210.5"
