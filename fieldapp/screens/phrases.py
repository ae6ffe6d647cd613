"""What several screens say, whatever it is of."""

import re
from datetime import datetime
from typing import Final

_NEXT_SENTENCE: Final = re.compile(r"(?<=[.!?]) (?=[A-ZÀ-Þ¿¡])")


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop."""
    begun = text[:1].upper() + text[1:]
    return begun if not begun or begun.endswith((".", "?", "!")) else f"{begun}."


def day(stamp: str) -> str:
    """Say the day of a time stamp: 14 Mar 2026."""
    at = datetime.fromisoformat(stamp)
    return f"{at.day} {at:%b %Y}"


def sentences(text: str) -> list[str]:
    """Split what is to be done into its steps, so that the eye finds its place again."""
    return _NEXT_SENTENCE.split(text)
