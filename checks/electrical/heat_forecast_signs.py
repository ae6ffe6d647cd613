"""Signs in a temperature series: spikes, a changed current, cooling, a rise that gets faster."""

from collections.abc import Sequence
from statistics import median
from typing import Final

from checks.source import judgement

SPIKE_K: Final = 1.5
SPIKE_RATIO: Final = 6.0  # of the usual scatter
SLIPS: Final = 2  # readings in a row that a probe spoils which slipped
BESIDE_RATIO: Final = 0.5  # of a spike: what its neighbors may be off once it is gone
LAG_MIN: Final = 5.0  # a surface lags behind its contact at first and may seem to accelerate
LEAST_SPAN_MIN: Final = 8.0
LEAST_READINGS: Final = 6
SURE: Final = 4.0  # standard uncertainties
LEAST_BEND_K: Final = 1.0  # of a curve over the window, before it counts
COOLING_K: Final = 1.0
CURRENT_RATIO: Final = 0.05
FASTER: Final = judgement("a rise that gets faster at a steady current ends a test")


def spikes(minutes: Sequence[float], rises_k: Sequence[float]) -> tuple[int, ...]:
    """Find readings that stand out from both neighbors far more than others do.

    The bend of a heating curve stands out too, and so does the reading before a last one that is
    wrong; but without a spike, what is beside it lies on a line, and without those it does not.

    Parameters
    ----------
    minutes : sequence of float
        Times. [min]
    rises_k : sequence of float
        Rise over ambient. [K]

    Returns
    -------
    tuple of int
        Their numbers, from 0. [-]

    References
    ----------
    Median absolute deviation (textbook); thresholds are judgement.

    Examples
    --------
    >>> spikes([0, 1, 2, 3, 4, 5], [0.0, 1.0, 2.0, 9.0, 3.8, 4.6])
    (3,)
    """
    found: list[int] = []
    kept = list(range(len(minutes)))
    most = max(1, len(minutes) // 8)
    while len(kept) >= LEAST_READINGS - 1 and len(found) < most:
        together = _standing_out(minutes, rises_k, kept, most - len(found))
        if not together:
            break
        found += together
        kept = [each for each in kept if each not in together]
    return tuple(sorted(found))


def _standing_out(
    minutes: Sequence[float], rises_k: Sequence[float], kept: Sequence[int], most: int
) -> Sequence[int]:
    """Find one reading, or two one after the other, without which the rest lies on its lines."""
    off = _off_k(minutes, rises_k, kept)
    for count in range(1, min(SLIPS, most) + 1):
        places = range(1, len(kept) - count)
        away = {i: _away_k(minutes, rises_k, kept[i - 1 : i + count + 1]) for i in places}
        for place in sorted(away, key=lambda i: -away[i]):
            if away[place] < SPIKE_K:
                break
            near = kept[place - 1 : place + count + 1]  # a spike pulls at both its neighbors
            usual_k = _usual_k([each for number, each in off.items() if number not in near])
            rest = [*kept[:place], *kept[place + count :]]
            without = _off_k(minutes, rises_k, rest)
            beside_k = max(abs(without.get(each, 0.0)) for each in (near[0], near[-1]))
            if away[place] >= max(SPIKE_RATIO * usual_k, beside_k / BESIDE_RATIO):
                return kept[place : place + count]
    return ()


def _away_k(minutes: Sequence[float], rises_k: Sequence[float], group: Sequence[int]) -> float:
    """How far all between the ends of a group lie off the line that joins these, on one side."""
    lines = [_off_k(minutes, rises_k, (group[0], each, group[-1]))[each] for each in group[1:-1]]
    return min(map(abs, lines)) if min(lines) > 0 or max(lines) < 0 else 0.0


def scatter_k(minutes: Sequence[float], rises_k: Sequence[float]) -> float:
    """Scatter of one reading about the line between its neighbors; any smooth shape has none.

    Parameters
    ----------
    minutes : sequence of float
        Times. [min]
    rises_k : sequence of float
        Rise over ambient. [K]

    Returns
    -------
    float
        Standard deviation. [K]

    References
    ----------
    Median absolute deviation, 1.48 of it for a normal error (textbook); a reading less the mean
    of two others has 1.5 times the variance of one.
    """
    off = _off_k(minutes, rises_k, range(len(minutes)))
    return float(_usual_k(list(off.values())) / 1.5**0.5)


def _usual_k(off_k: Sequence[float]) -> float:
    return 1.48 * float(median(abs(each) for each in off_k)) if off_k else 0.0


def _off_k(
    minutes: Sequence[float], rises_k: Sequence[float], kept: Sequence[int]
) -> dict[int, float]:
    """How far each reading but the first and last lies off the line between its neighbors."""
    found = {}
    for before, now, after in zip(kept, kept[1:], kept[2:], strict=False):
        part = (minutes[now] - minutes[before]) / max(minutes[after] - minutes[before], 1e-9)
        line_k = rises_k[before] + part * (rises_k[after] - rises_k[before])
        found[now] = rises_k[now] - line_k
    return found


def steady_since(currents_a: Sequence[float]) -> int:
    """Find the reading since which the current has been steady.

    Parameters
    ----------
    currents_a : sequence of float
        Current at each reading. [A]

    Returns
    -------
    int
        Number of the reading, from 0. [-]

    References
    ----------
    Within 5 % of the last current, judgement: 10 % of the rise.

    Examples
    --------
    >>> steady_since([16.0, 16.1, 32.0, 31.9])
    2
    """
    last_a = currents_a[-1]
    for number in range(len(currents_a) - 1, -1, -1):
        if abs(currents_a[number] - last_a) > CURRENT_RATIO * abs(last_a):
            return number + 1
    return 0


def is_cooling(minutes: Sequence[float], rises_k: Sequence[float], noise_k: float) -> bool:
    """Whether the part cools.

    Parameters
    ----------
    minutes : sequence of float
        Times. [min]
    rises_k : sequence of float
        Rise over ambient. [K]
    noise_k : float
        Scatter of one reading, as a standard deviation. [K]

    Returns
    -------
    bool
        Whether the last third falls, by more than noise. [-]

    References
    ----------
    Straight-line regression (textbook); thresholds are judgement.
    """
    start = min(len(minutes) * 2 // 3, len(minutes) - 4)
    if start < 0:
        return False
    t, y = minutes[start:], rises_k[start:]
    slope, error = _slope(t, y, noise_k)
    fallen_k = -slope * (t[-1] - t[0])
    return slope < -SURE * error and fallen_k + max(rises_k) - rises_k[-1] > 2 * COOLING_K


def is_accelerating(minutes: Sequence[float], rises_k: Sequence[float], noise_k: float) -> bool:
    """Whether the rise gets faster, as a joint does that destroys itself.

    Parameters
    ----------
    minutes : sequence of float
        Times since the first reading. [min]
    rises_k : sequence of float
        Rise over ambient. [K]
    noise_k : float
        Scatter of one reading, as a standard deviation. [K]

    Returns
    -------
    bool
        Whether the second half of a window rises faster than its first, by more than noise. [-]

    References
    ----------
    Straight-line regression (textbook); thresholds are judgement.
    """
    start = next((i for i, t in enumerate(minutes) if t >= LAG_MIN), len(minutes))
    for first in (start, max(start, len(minutes) - 12)):
        t, y = minutes[first:], rises_k[first:]
        if len(t) >= 2 * (LEAST_READINGS // 2) and t[-1] - t[0] >= LEAST_SPAN_MIN:
            half = len(t) // 2
            early, early_error = _slope(t[: half + 1], y[: half + 1], noise_k)
            late, late_error = _slope(t[half:], y[half:], noise_k)
            error = (early_error**2 + late_error**2) ** 0.5
            bend_k = (late - early) * (t[-1] - t[0]) / 2
            if late > 0 and late - early > SURE * error and bend_k > LEAST_BEND_K:
                return True
    return False


def _slope(
    minutes: Sequence[float], rises_k: Sequence[float], noise_k: float
) -> tuple[float, float]:
    """Slope and its standard uncertainty. [K/min]."""
    middle = sum(minutes) / len(minutes)
    spread = sum((t - middle) ** 2 for t in minutes)
    if spread <= 0:
        return 0.0, float("inf")
    slope = sum((t - middle) * y for t, y in zip(minutes, rises_k, strict=True)) / spread
    return slope, noise_k / spread**0.5
