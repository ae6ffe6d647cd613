"""Which side of its limit a value lies on, in words: common practice, no source."""

import pytest

from checks.quantity import Amount
from checks.verdict import margin_words


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("0.4", "0.4 V inside the limit"),
        ("-0.4", "0.4 V outside the limit"),
        ("0.0", "at the limit"),
        ("-0.0", "at the limit"),
    ],
)
def test_a_margin_says_its_side(value: str, said: str) -> None:
    assert margin_words(Amount(value=value, unit="V")) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [
        # JCGM 106:2012: where the interval straddles the limit it lies on neither side
        ("0.02", "0.02 Ω from the limit, uncertain by 0.35 Ω"),
        ("-0.02", "0.02 Ω from the limit, uncertain by 0.35 Ω"),
        ("0.36", "0.36 Ω inside the limit"),
    ],
)
def test_a_margin_below_its_uncertainty_has_no_side(value: str, said: str) -> None:
    assert margin_words(Amount(value=value, unit="Ω", expanded="0.35")) == said


def test_no_margin_says_nothing() -> None:
    assert margin_words(None) == ""
