"""Sources of limits and what meters state, in another language.

Common practice, no source: the title, number and edition of a document stay as they are printed,
so that it can be found; what is told of it in words is said.
"""

import re

import pytest

from checks.codes.cec_2021.source import borrowed, good_practice
from checks.codes.nec_2023.installation import INSTALLATION
from checks.codes.nec_2023.source import nec
from checks.codes.rule import Rule
from checks.verdict import Force
from fieldapp.language import say, using

SUPPORT = INSTALLATION.seen["support"]
BORROWED = str(borrowed(Rule(25.0, nec("625.17(C)"), Force.CODE_RULE)).source)


@pytest.mark.parametrize("code", ["fr", "es"])
@pytest.mark.parametrize(
    ("text", "stays", "english"),
    [
        (BORROWED, "NEC (NFPA 70) 2023 625.17(C)", "not read on this figure of doubtful"),
        (
            "NEC (NFPA 70) 2023 table 310.4(1), letters that are not those of CE Code table 19 "
            "(doubtful)",
            "310.4(1)",
            "letters that are not those doubtful",
        ),
        (
            str(good_practice(SUPPORT).source),
            "NEC (NFPA 70) 2023 334.30",
            "good practice its like for each own",
        ),
        (
            "UL 489 calibration at 200 % of ratings above 30 A (from memory)",
            "UL 489",
            "of ratings above from memory",
        ),
        ("CAT IV up to 600 V", "CAT IV", "up to"),
        (
            "voltage: ±(0.7 % + 2 counts of 0 V) to 600 V; generic",
            "% + 2 ",
            "voltage counts of to generic",
        ),
        ("L1: 114 ± 1 V; 1 V from the limit, uncertain by 1 V", "114 ± 1 V", "from the limit by"),
    ],
)
def test_what_is_told_in_words_is_said_and_titles_stay(
    code: str, text: str, stays: str, english: str
) -> None:
    with using(code):
        said = str(say(text))
    assert stays in said
    assert set(english.split()).isdisjoint(re.findall(r"\w+", said))
