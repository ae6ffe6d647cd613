"""A small set of looks in which each screen meets each size, palette and text size."""

from collections.abc import Sequence
from itertools import combinations, product
from typing import NamedTuple


class Look(NamedTuple):
    """How one state of a screen comes up."""

    state: str
    size: str
    palette: str
    text_scale: float


def pairwise(
    states: Sequence[tuple[str, str]],
    sizes: Sequence[str],
    palettes: Sequence[str],
    text_scales: Sequence[float],
) -> list[Look]:
    """Looks that hold every pair of two values, of screens as a whole, and every state.

    A state is paired with the text sizes; with window and palette its screen is: a pair of each
    would be as many pictures as there are.

    Parameters
    ----------
    states : sequence of (str, str)
        Each state and its screen.
    """
    every = [
        (Look(state, size, palette, scale), _pairs(state, screen, size, palette, scale))
        for (state, screen), size, palette, scale in product(states, sizes, palettes, text_scales)
    ]
    missing = set().union(*(pairs for _, pairs in every))
    chosen: list[Look] = []
    while missing:
        look, pairs = max(every, key=lambda one: len(one[1] & missing))
        chosen.append(look)
        missing -= pairs
    return chosen


def _pairs(state: str, screen: str, *look: object) -> frozenset[tuple[object, ...]]:
    values = [("screen", screen), *zip(("size", "palette", "scale"), look, strict=True)]
    return frozenset([*combinations(values, 2), (("state", state), values[-1])])
