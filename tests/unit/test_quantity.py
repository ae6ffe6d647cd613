"""Units, digits as typed, and the uncertainty of a reading."""

import math

import pytest
from pydantic import BaseModel, ValidationError
from uncertainties import ufloat

from checks.errors import UnitError
from checks.quantity import (
    DEFAULT_ACCURACY,
    Accuracy,
    DecimalText,
    amount,
    expanded,
    gain,
    measured,
    nominal,
)
from checks.units import UNITS, Dimension, from_si, to_si, unit


class _Held(BaseModel):
    value: DecimalText


@pytest.mark.parametrize("text", ["0", "-0", "239.5", "239.50", "-12.34", "999999999.999999999"])
def test_digits_are_kept_as_they_were_typed(text: str):
    assert _Held(value=text).value == text


@pytest.mark.parametrize(
    "text",
    ["", "1e5", "NaN", "inf", "-", ".5", "5.", "007", "1,5", " 1", "1\n", "+1", "1_000", "٣"],
)
def test_what_is_no_plain_decimal_is_refused(text: str):
    with pytest.raises(ValidationError, match="pattern"):
        _Held(value=text)


# Exact by definition: NIST SP 811 (2008), table B.8 and section 4 (from memory).
@pytest.mark.parametrize(
    ("shown", "symbol", "inside"),
    [
        (1.0, "ft", 0.3048),
        (1.0, "in", 0.0254),
        (1.0, "ft²", 0.09290304),
        (1.0, "lbf", 4.4482216152605),
        (1.0, "lbf·in", 0.1129848290276167),
        (1.0, "lbf·ft", 1.3558179483314004),
        (32.0, "°F", 0.0),
        (212.0, "°F", 100.0),
        (-40.0, "°F", -40.0),
        (9.0, "°F rise", 5.0),
        (1.0, "kWh", 1000.0),
        (25.0, "ms", 0.025),
        (6.0, "mA", 0.006),
        (1.0, "mm²", 1e-6),
    ],
)
def test_units_of_the_trade_convert_by_their_definition(shown: float, symbol: str, inside: float):
    assert to_si(shown, symbol) == pytest.approx(inside, rel=1e-12, abs=1e-12)


def test_a_unit_names_itself_and_its_dimension():
    for symbol, found in UNITS.items():
        assert found.symbol == symbol
        assert found.factor > 0
    for dimension in Dimension:  # the unit used inside exists and converts to itself
        assert to_si(7.0, dimension.value) == 7.0
        assert unit(dimension.value).dimension is dimension


def test_a_wrong_unit_is_answered_with_those_that_fit():
    with pytest.raises(UnitError, match=r"no unit 'volt'.*Use one of V, mV"):
        unit("volt")
    with pytest.raises(UnitError, match=r"V does not fit here\. Use A, mA, kA"):
        unit("V", Dimension.CURRENT)


# Published example of a 6000-count meter at 120 V, ±(1 % + 3): ±(1.2 + 0.3) V, each part a limit
# of error taken as rectangular, a/√3 (JCGM 100:2008, 4.3.7; from memory).
def test_counts_and_percent_make_the_uncertainty_of_a_reading():
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
    found = measured("120.0", "V", accuracy, gain(accuracy))
    assert nominal(found) == 120.0
    assert expanded(found) == pytest.approx(2 * math.hypot(1.2, 0.3) / math.sqrt(3), rel=1e-9)


def test_the_digits_that_were_typed_carry_the_resolution():
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="0.0", counts=3)
    fine, coarse = (measured(t, "V", accuracy, gain(accuracy)) for t in ("120.0", "120"))
    assert expanded(coarse) == pytest.approx(10 * expanded(fine))


@pytest.mark.parametrize(("percent", "counts"), [("0", 0), ("0.0", 0), ("0", 2), ("0.5", 0)])
def test_a_perfect_part_of_an_accuracy_adds_nothing(percent: str, counts: int):
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent=percent, counts=counts)
    found = measured("100.0", "V", accuracy, gain(accuracy))
    exact = 2 * (float(percent) + counts * 0.1) / math.sqrt(3)  # at 100 V one part is zero
    assert expanded(found) == pytest.approx(exact)


@pytest.mark.parametrize("wrong", [{"percent": "-1.0"}, {"counts": -3}])
def test_no_meter_is_better_than_perfect(wrong: dict[str, object]):
    with pytest.raises(ValidationError, match=next(iter(wrong))):
        Accuracy(**{"dimension": Dimension.VOLTAGE, "percent": "1.0", "counts": 3, **wrong})


def test_the_class_of_an_unnamed_meter_is_well_formed():
    for dimension, (percent, counts) in DEFAULT_ACCURACY.items():
        accuracy = Accuracy(dimension=dimension, percent=percent, counts=counts)
        assert expanded(gain(accuracy)) > 0


@pytest.mark.parametrize(
    ("value", "symbol", "shown"),
    [
        (239.5, "V", "239.5 V"),
        (0.0123, "mΩ", "12.3 mΩ"),
        (0.0, "A", "0 A"),
        (4.0 / 3.0, "K", "1.333 K"),
        (100.0, "°F", "212 °F"),
        (1e-12, "A", "0 A"),  # six places at most
    ],
)
def test_a_plain_number_is_shown_with_four_digits(value: float, symbol: str, shown: str):
    assert str(amount(value, symbol)) == shown


def test_an_amount_shows_two_digits_of_its_uncertainty():
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
    shown = amount(measured("240.0", "V", accuracy, gain(accuracy)), "V")
    assert (shown.value, shown.expanded) == ("240.0", "2.8")


# JCGM 100:2008, 7.2.6 (from memory): y = 10.057 62 Ω with 27 mΩ is rounded to 10.058 Ω, and a
# value such as 28.05 kHz is rounded down to 28 kHz; the rest by the same rule.
@pytest.mark.parametrize(
    ("value", "spread", "symbol", "shown"),
    [
        (10.05762, 0.027, "Ω", "10.058 ± 0.027 Ω"),
        (3141.59, 28.05, "V", "3142 ± 28 V"),
        (0.0534, 0.018, "mΩ", "53 ± 18 mΩ"),
        (31234.0, 1250.0, "W", "31200 ± 1200 W"),
        (229.42, 0.996, "V", "229.4 ± 1.0 V"),
    ],
)
def test_value_and_uncertainty_are_rounded_alike(
    value: float, spread: float, symbol: str, shown: str
):
    assert str(amount(ufloat(value, spread / 2), symbol)) == shown


def test_no_amount_is_minus_nothing():
    assert amount(-0.0, "V", places=1).value == "0.0"
    assert amount(-0.04, "V", places=1).value == "0.0"


def test_what_goes_out_comes_back():
    for symbol in UNITS:
        assert to_si(from_si(12.5, symbol), symbol) == pytest.approx(12.5, rel=1e-12)
