"""Typing a number: keys, the digits that are kept, and the question about a slip of the finger."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from checks.check import Measurement, Rating
from checks.quantity import amount
from checks.record import Instrument
from checks.units import UNITS, to_si

MOST_DIGITS: Final = 9
MINUS: Final = "-"
BACK, SIGN = "back", "sign"
_NUMBER: Final = re.compile(r"-?0*([0-9]{1,9}(\.[0-9]{0,9})?|\.[0-9]{1,9})")


def press(text: str, key: str, *, signed: bool = False) -> str:
    """Return the typed text after one key; unchanged where the key makes no sense.

    Parameters
    ----------
    text : str
        What stands there, with a decimal point.
    key : str
        A digit, ``"."`` or ``","``, ``"back"`` or ``"sign"``.
    signed : bool
        Whether a minus sign is allowed.

    Examples
    --------
    >>> press("23", "9")
    '239'
    >>> press("0", "7")
    '7'
    >>> press("239.5", ".")
    '239.5'
    """
    if key == BACK:
        return text[:-1]
    if key == SIGN:
        return _turned(text) if signed else text
    digits = text.removeprefix(MINUS)
    if key in (".", ","):
        return text if "." in text else (text + "." if digits else text + "0.")
    is_digit = len(key) == 1 and key.isascii() and key.isdigit()
    if not is_digit or sum(c.isdigit() for c in text) >= MOST_DIGITS:
        return text
    return text[:-1] + key if digits == "0" else text + key


def _turned(text: str) -> str:
    return text.removeprefix(MINUS) if text.startswith(MINUS) else MINUS + text


def kept(text: str) -> str:
    """Return the decimal text that goes into the record; empty when it is not one number.

    The digits stay as typed, trailing zeros included: they carry the resolution.

    Examples
    --------
    >>> kept("239,50")
    '239.50'
    >>> kept(".5"), kept("7."), kept("007"), kept("1e5")
    ('0.5', '7', '7', '')
    """
    plain = text.strip().replace(",", ".").replace("\u2212", MINUS)
    if not _NUMBER.fullmatch(plain):
        return ""
    sign = MINUS if plain.startswith(MINUS) else ""
    whole, _, fraction = plain.removeprefix(MINUS).partition(".")
    whole = whole.lstrip("0") or "0"
    return sign + whole + (f".{fraction}" if fraction else "")


@dataclass(frozen=True)
class Doubt:
    """A number that is hardly possible: the question, and what may have been meant."""

    question: str
    suggestion: str = ""


def doubt(
    asked: Measurement | Rating, text: str, unit: str, tool: Instrument | None = None
) -> Doubt | None:
    """Question a number that is hardly possible; it is never silently taken or refused.

    It may lie outside what is plausible or what the instrument can show, or it may be typed with
    fewer decimals than the instrument shows: a count of 31 is ten times a count of 31.0.

    Parameters
    ----------
    asked : Measurement or Rating
        The input, with its plausible range.
    text, unit : str
        As `kept` returned it, and the unit it was typed in.
    tool : Instrument, optional
        What it is read from.

    Returns
    -------
    Doubt or None
        With the number that a slipped decimal point would explain, where there is one.
    """
    lo, hi = asked.plausible
    typed = Decimal(text)
    if lo <= float(to_si(float(typed), unit)) <= hi:
        return None if tool is None else _not_as_shown(tool, text, unit)
    low, high = amount(lo, unit), amount(hi, unit)
    question = f"{text} {unit}? Usual here: {low.value} to {high}."
    for shift in (-1, 1, -2, 2, -3, 3):
        tried = typed.scaleb(shift)
        if lo <= float(to_si(float(tried), unit)) <= hi and tried != 0:
            return Doubt(question, f"{tried:f}")
    return Doubt(question)


def _not_as_shown(tool: Instrument, text: str, symbol: str) -> Doubt | None:
    """Question a number that the instrument would show otherwise, or not at all."""
    value = float(to_si(float(text), symbol))
    shown = tool.accuracy_for(UNITS[symbol].dimension, value)
    if shown is None:
        return None
    if not shown.covers(value):
        return Doubt(f"{text} {symbol}? That is beyond the range of the {tool.kind}.")
    places = -Decimal(f"{shown.step(symbol):.0e}").adjusted() if shown.step(symbol) else 0
    typed = len(text.partition(".")[2])
    if places <= typed:
        return None
    full = f"{Decimal(text):.{places}f}"
    return Doubt(
        f"{text} {symbol}? The {tool.kind} shows more decimals. Does it read {full}?", full
    )
