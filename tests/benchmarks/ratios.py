"""How two measures are compared on a machine that does other things too."""

from collections.abc import Callable


def quickest(pair: Callable[[], tuple[float, float]], aim: float, runs: int) -> tuple[float, float]:
    """Run both in turns, once to warm up, and return the quickest of each.

    A busy machine only ever makes a run slower: where the ratio is above the aim there are more
    runs, three times as many at most.
    """
    pair()
    one, other = pair()
    for run in range(1, 3 * runs):
        if run >= runs and other / one <= aim:
            break
        again = pair()
        one, other = min(one, again[0]), min(other, again[1])
    return one, other
