"""The legend of a figure: what each of its marks means."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from fieldapp.figures.scene import LEADING, Item, Text, placed, text_width, wrapped

SAMPLE: Final = 20.0  # width of a mark shown as a sample
_KEY: Final = SAMPLE + 8.0
_APART: Final = 16.0


class Key(NamedTuple):
    """A mark and its meaning; the mark is drawn from 0 to `SAMPLE` about the middle of a line."""

    words: str
    sample: Sequence[Item]


def legend(
    keys: Sequence[Key], y: float, width: float, size: float, color: str = "ink"
) -> tuple[list[Item], float]:
    """Set the keys side by side where there is room, else below each other.

    Parameters
    ----------
    keys : sequence of Key
        In the order in which they are read.
    y, width : float
        Where it begins, and how wide it may be. [unit]
    size : float
        Of its words. [unit]
    color : str
        Token of the words' color.

    Returns
    -------
    tuple of list of Item and float
        What is drawn, and where the legend ends. [unit]
    """
    row, x = size * LEADING, 0.0
    items: list[Item] = []
    for words, sample in keys:
        if x and x + _KEY + text_width(words, size) > width:
            x, y = 0.0, y + row
        items += placed(sample, x, y + row / 2)
        lines = wrapped(words, size, width - _KEY - x)
        for i, line in enumerate(lines):
            items.append(Text((x + _KEY, y + (i + 0.5) * row), line, size, color))
        y += (len(lines) - 1) * row
        x += _KEY + text_width(lines[-1], size) + _APART
    return items, y + row
