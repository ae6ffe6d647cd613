"""A small set of looks in which each screen meets each size, palette and text size."""

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import combinations, product

from tests.gallery.looks import Look


def pairwise(
    states: Sequence[tuple[str, str]],
    sizes: Sequence[str],
    palettes: Sequence[str],
    text_scales: Sequence[float],
    at_most: int,
) -> list[Look]:
    """Looks that hold every state, and every pair of a screen, a window, a palette, a text size.

    What room is left pairs the states themselves with the text sizes, then with the windows.

    Parameters
    ----------
    states : sequence of (str, str)
        Each state and its screen.
    at_most : int
        How many looks there is time for.
    """
    screens = dict(states)
    every = [
        Look(*look) for look in product(screens, sizes, palettes, sorted(text_scales, reverse=True))
    ]
    chosen: list[Look] = []
    for pairs in (_of_screens(screens), _of_states("text_scale"), _of_states("size")):
        missing = set().union(*map(pairs, every)) - set().union(*map(pairs, chosen))
        while missing and len(chosen) < at_most:
            chosen.append(max(every, key=lambda look: len(pairs(look) & missing)))
            missing -= pairs(chosen[-1])
    return chosen


Pairs = Callable[[Look], frozenset[object]]


def _of_screens(screens: Mapping[str, str]) -> Pairs:
    def pairs(look: Look) -> frozenset[object]:
        values = [("screen", screens[look.state]), *list(look._asdict().items())[1:]]
        return frozenset([look.state, *combinations(values, 2)])

    return cache(pairs)


def _of_states(what: str) -> Pairs:
    return lambda look: frozenset([(look.state, getattr(look, what))])
