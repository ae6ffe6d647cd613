"""Typing a number: keys, the digits that are kept, and the question about a slip of the finger."""

import pytest

from checks.check import Measurement, Rating
from checks.quantity import Accuracy
from checks.record import Instrument, InstrumentKind
from checks.units import Dimension
from fieldapp.walk.numbers import MOST_DIGITS, doubt, kept, press


def typed(keys: str, *, signed: bool = False) -> str:
    text = ""
    for key in keys:
        text = press(text, {"<": "back", "~": "sign"}.get(key, key), signed=signed)
    return text


@pytest.mark.parametrize(
    ("keys", "text"),
    [
        ("239.5", "239.5"),
        ("239,5", "239.5"),
        ("2.3.9", "2.39"),
        ("007", "7"),
        ("0.07", "0.07"),
        ("239<<", "2"),
        (".", "0."),
        ("0.05", "0.05"),
        ("12²x", "12"),
        ("<", ""),
        ("12~", "12"),
        ("1e5", "15"),
        ("1234567890", "123456789"),
        ("٣1", "1"),
    ],
)
def test_each_key_does_what_it_shows(keys: str, text: str):
    assert typed(keys) == text


@pytest.mark.parametrize(
    ("keys", "text"),
    [("~.5", "-0.5"), ("12~", "-12"), ("12~~", "12"), ("~5", "-5"), ("~0~7", "7"), ("~07", "-7")],
)
def test_a_sign_is_kept_where_one_makes_sense(keys: str, text: str):
    assert typed(keys, signed=True) == text


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("239.50", "239.50"),
        ("239,5", "239.5"),
        (".5", "0.5"),
        ("7.", "7"),
        ("000", "0"),
        ("-0.50", "-0.50"),
        ("\u22125", "-5"),
        (" 5 ", "5"),
        ("0001234567890", ""),
        ("1234567890", ""),
        ("0.1234567890", ""),
        ("1e5", ""),
        ("", ""),
        (".", ""),
        ("-", ""),
        ("1-2", ""),
        ("٣", ""),
        ("nan", ""),
    ],
)
def test_only_one_plain_number_is_kept_with_its_digits(text: str, value: str):
    assert kept(text) == value


def test_the_longest_number_that_can_be_typed_is_kept():
    assert kept("9" * MOST_DIGITS) == "9" * MOST_DIGITS


VOLTS = Measurement("v", "V", units=("V", "mV"), plausible=(90.0, 270.0))
HEAT = Measurement(
    "c", "C", dimension=Dimension.TEMPERATURE, units=("°C", "°F"), plausible=(-40.0, 120.0)
)
SIZE = Rating("a", "A", plausible=(10.0, 200.0))


@pytest.mark.parametrize(
    ("asked", "text", "unit"),
    [(VOLTS, "90", "V"), (VOLTS, "270.0", "V"), (HEAT, "-40", "°F"), (HEAT, "248", "°F")],
)
def test_what_is_plausible_is_taken_as_typed(asked: Measurement, text: str, unit: str):
    assert doubt(asked, text, unit) is None


@pytest.mark.parametrize(
    ("asked", "text", "unit", "suggestion"),
    [
        (VOLTS, "2395", "V", "239.5"),
        (VOLTS, "2390", "V", "239.0"),  # the last digit was read, and carries the resolution
        (VOLTS, "23950", "V", "239.50"),
        (VOLTS, "2.4", "V", "240"),
        (VOLTS, "0", "V", ""),
        (VOLTS, "999999999", "V", ""),
        (SIZE, "400", "A", "40.0"),
        (HEAT, "999", "°F", "99.9"),
    ],
)
def test_a_slip_is_questioned_and_never_silently_taken_or_refused(
    asked: Measurement | Rating, text: str, unit: str, suggestion: str
):
    found = doubt(asked, text, unit)
    assert found is not None
    assert found.suggestion == suggestion
    assert found.question.startswith(f"{text} {unit}? Usual here: ")
    assert found.question.endswith(f" {unit}.")


THERMOMETER = Instrument(
    id="t",
    kind=InstrumentKind.CONTACT_THERMOMETER,
    name="Thermometer",
    accuracy=(
        Accuracy(
            dimension=Dimension.TEMPERATURE, percent="1.0", counts=10, resolution="0.1", high="200"
        ),
    ),
)
HOT = Measurement(
    "hot", "Hot", dimension=Dimension.TEMPERATURE, units=("°C", "°F"), plausible=(-40.0, 400.0)
)


@pytest.mark.parametrize(
    ("text", "unit", "suggestion"),
    [("31", "°C", "31.0"), ("-4", "°C", "-4.0"), ("88", "°F", "88.0")],
)
def test_a_whole_number_from_a_display_with_decimals_is_questioned(
    text: str, unit: str, suggestion: str
):
    found = doubt(HOT, text, unit, THERMOMETER)
    assert found is not None
    assert found.suggestion == suggestion
    assert "contact thermometer shows more decimals" in found.question


@pytest.mark.parametrize("text", ["31.0", "31.25"])
def test_digits_as_the_display_shows_them_are_taken(text: str):
    assert doubt(HOT, text, "°C", THERMOMETER) is None
    assert doubt(HOT, "31", "°C") is None


def test_a_number_that_the_instrument_cannot_show_is_questioned():
    found = doubt(HOT, "240.0", "°C", THERMOMETER)
    assert found is not None
    assert "beyond the range" in found.question
