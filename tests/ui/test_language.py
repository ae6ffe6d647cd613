"""The screens in another language, from the settings on."""

from collections.abc import Callable

import pytest

from tests.ui.driver import Ui

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
