"""Numbers in a text for people: the minus sign of print, and the decimal mark of a language."""

import re
from collections.abc import Sequence
from typing import Final

from checks.units import UNITS

_MINUS: Final = re.compile(r"(?<![\w.)\]])-(?=\.?\d)")


def with_minus_signs(text: str) -> str:
    """Return a text for people, the minus of each number as the sign that print has for it.

    Records and assessments keep the hyphen, which keyboards and parsers know.

    References
    ----------
    The Unicode Standard, 6.2: U+2212 is the minus sign, U+002D stands for hyphen and minus (from
    memory).

    Examples
    --------
    >>> with_minus_signs("-0.65 N a year until 2026-05-12, on a 14-50 receptacle")
    '−0.65 N a year until 2026-05-12, on a 14-50 receptacle'
    """
    return _MINUS.sub("\N{MINUS SIGN}", text) if "-" in text else text


ANY_UNIT: Final = "|".join(map(re.escape, sorted(UNITS, key=len, reverse=True)))  # a pattern
_JOINED: Final = r"(?:\s(?:±|×|→|=|/|to|à)\s[-\u2212]?\d+(?:\.\d+)?)"
_WITH_UNIT: Final = rf"(?<![\w.])\d+\.\d+(?={_JOINED}*\s(?:{ANY_UNIT})(?![\w'’]))"
_DECIMALS: Final = re.compile(rf"{_WITH_UNIT}|(?<=[×=/]\s)\d+\.\d+(?![\w.])")


def with_decimal_commas(text: str, kept: Sequence[tuple[int, int]] = ()) -> str:
    """Return a text for people whose decimal mark is the comma, in every number of a calculation.

    That is one with a unit, or behind a multiplication, a division or an equals sign. The number
    of a clause has a point in any language, and keeps it.

    Parameters
    ----------
    text : str
        What is said.
    kept : sequence of (int, int), optional
        Where words begin and end that stay as they are.

    References
    ----------
    ISO 80000-1:2022, 7.3.2 (from memory): the decimal sign is a comma or a point on the line, as
    the language has it.

    Examples
    --------
    >>> with_decimal_commas("239.5 ± 1.2 V, at least 236.5 V (210.19(A) and 625.41)")
    '239,5 ± 1,2 V, at least 236,5 V (210.19(A) and 625.41)'
    >>> with_decimal_commas("57.6 A × 1.25 = 72 A, 38.5 A / 48.2 A = 0.80")
    '57,6 A × 1,25 = 72 A, 38,5 A / 48,2 A = 0,80'
    """

    def comma(found: re.Match[str]) -> str:
        is_kept = any(begin <= found.start() < end for begin, end in kept)
        return found[0] if is_kept else found[0].replace(".", ",")

    return _DECIMALS.sub(comma, text) if "." in text else text
