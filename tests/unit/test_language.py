"""Texts in another language: known again whole, by their fixed words, or in parts."""

from collections.abc import Iterator
from gettext import NullTranslations

import pytest

from checks.units import UNITS
from fieldapp import language
from fieldapp.language import Said, say, sentences

# French of our own for messages that the code has.
KNOWN = {
    "Panel": "Panneau",
    "within": "conforme",
    "danger": "danger",
    "at most": "au plus",
    "Breaker condition": "État du disjoncteur",
    "Directory": "Répertoire",
    "{missing} missing": "{missing} : manque",
    "{value} to {high}": "{value} à {high}",
    "Have it mended before {crossing}": "À réparer avant {crossing}",
    "{n_abs} {unit} inside the limit": "marge de {n_abs} {unit}",
    "{n_abs} {unit} outside the limit": "limite manquée de {n_abs} {unit}",
    "and": "et",
    "Mar": "mars",
}


class Small(NullTranslations):
    def gettext(self, message: str) -> str:
        return KNOWN.get(message, "")


@pytest.fixture(autouse=True)
def french(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    messages = [m for m in KNOWN if "{" in m]
    made = tuple(map(sentences._composed_of, messages))
    monkeypatch.setattr(sentences, "composed", lambda: made)
    language.use("fr", Small())
    yield
    language.use(language.ENGLISH)


def test_a_text_is_begun_and_ended_as_the_english_one() -> None:
    assert say("Panel") == "Panneau"
    assert say("panel") == "panneau"
    assert say("Panel.") == "Panneau."
    assert say("DANGER") == "DANGER"


def test_a_composed_sentence_is_known_by_its_fixed_words_and_what_it_holds_is_said_too() -> None:
    assert say("Have it mended before 2027-11.") == "À réparer avant 2027-11."
    assert say("directory missing") == "répertoire : manque"


def test_a_text_that_is_no_message_is_said_by_its_parts() -> None:
    assert say("Panel · within") == "Panneau · conforme"
    assert say("Directory, panel and breaker condition") == (
        "Répertoire, panneau et état du disjoncteur"
    )
    assert say("at most 75 °C") == "au plus 75 °C"


def test_few_fixed_words_say_nothing_unless_numbers_stand_between_them() -> None:
    assert say("47 to 63 Hz") == "47 à 63 Hz"
    assert say("Road to Nowhere") == "Road to Nowhere"


def test_a_date_says_its_month() -> None:
    assert say("14 Mar 2026") == "14 mars 2026"


def test_a_persons_own_words_and_what_is_said_already_stay() -> None:
    assert say(Said("Panel")) == "Panel"
    assert say(say("Panel")) == "Panneau"


def test_a_sentence_that_is_not_known_is_not_said_in_pieces() -> None:
    assert say("Showed the panel and the meter to her") == "Showed the panel and the meter to her"


def test_a_persons_own_words_stay_inside_a_sentence_too() -> None:
    language.keep(lambda: frozenset({"panel and breaker condition", "Panel"}))
    assert say("Have it mended before panel and breaker condition.") == (
        "À réparer avant panel and breaker condition."
    )
    assert say("Panel · within") == "Panel · conforme"
    language.keep(frozenset)
    assert say("Panel · within") == "Panneau · conforme"


def test_words_that_the_catalog_lacks_stay_english() -> None:
    assert say("Panel · Carport outlet") == "Panneau · Carport outlet"


@pytest.mark.parametrize("code", language.LANGUAGES)
def test_a_minus_is_a_sign_of_its_own_and_a_hyphen_stays(code: str) -> None:
    language.use(code)
    mark = language.decimal_mark()
    assert say("-0.65 N, 14-50, 2026-05-12") == f"\N{MINUS SIGN}0{mark}65 N, 14-50, 2026-05-12"
    assert say(say("-8 °C")) == "\N{MINUS SIGN}8 °C"


def test_english_is_what_the_code_makes() -> None:
    language.use(language.ENGLISH)
    assert say("Panel") == "Panel"
    assert language.tag() == "en-US"
    assert language.caveat() == ""


def test_a_french_amount_has_a_comma_and_a_clause_its_point() -> None:
    """Clause numbers are names; 210.19(A) and 625.41 are of the National Electrical Code."""
    told = "239.5 ± 1.2 V, 1.25 × 40.5 A, 98.5 % (210.19(A)), 625.41"
    with language.using("fr"):
        assert say(told) == "239,5 ± 1,2 V, 1,25 × 40,5 A, 98,5 % (210.19(A)), 625.41"
        language.keep(lambda: frozenset({"Rack 5.5 m wide", "A"}))  # a note; a panel's name
        assert say("5.5 m: Rack 5.5 m wide") == "5,5 m: Rack 5.5 m wide"
        assert say("57.6 A × 1.25 = 72 A") == "57,6 A × 1,25 = 72 A"
        language.keep(frozenset)
    for code in ("en", "es"):  # the American continent's Spanish has the point
        with language.using(code):
            assert say(told) == told


def test_a_margin_is_told_of_its_own_number_wherever_it_stands() -> None:
    """With the places of the code's own message: its number is one, and so is its unit."""
    told = "within · 8.50 N·m · 0.85 N·m inside the limit"
    assert say(told) == "conforme · 8.50 N·m · marge de 0.85 N·m"
    told = "114.50 ± 0.95 V, 0.50 V outside the limit"
    assert say(told) == "114.50 ± 0.95 V, limite manquée de 0.50 V"


@pytest.mark.parametrize("unit", UNITS)
def test_a_margin_is_told_in_every_unit(unit: str) -> None:
    assert say(f"1.5 {unit} inside the limit") == f"marge de 1.5 {unit}"
