"""Which side of its limit a value lies on, in words: common practice, no source."""

import pytest

from checks.quantity import Amount
from checks.verdict import Judgement, Verdict
from fieldapp.report.words import margin_words
from fieldapp.screens.phrases import margin_line


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("0.4", "0.4 V inside the limit"),
        ("-0.4", "0.4 V outside the limit"),
        ("0.0", "at the limit"),
        ("-0.0", "at the limit"),
    ],
)
def test_a_margin_says_its_side_alike_on_screen_and_paper(value: str, said: str) -> None:
    margin = Amount(value=value, unit="V")
    assert margin_line(margin) == said
    assert (
        margin_words(Judgement(verdict=Verdict.BORDERLINE, margin=margin, explanation="Invented"))
        == said
    )
