"""How much hotter a contact ends up than a like one beside it, read in turn by the same probe."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from checks.electrical.heat_forecast import HeatForecast
from checks.electrical.heat_forecast_stop import HeatSample
from checks.quantity import expanded, nominal
from checks.source import judgement
from checks.units import Number

PAIRS: Final = 5  # the last ones: their mean is surer than one, and still as warm
GROWTH: Final = judgement(
    "the difference of like contacts grows in step with their rise, and shrinks not at all"
)


class Bounds(NamedTuple):
    """Lowest and highest difference [K]."""

    low_k: float
    high_k: float


def like_difference_k(
    part: Sequence[HeatSample], like: Sequence[HeatSample], found: HeatForecast
) -> Bounds | None:
    """Interval by which one contact ends up hotter than a like one, such as on the other leg.

    Readings of one probe share its error, and their difference is known far better than either.

    Parameters
    ----------
    part : sequence of HeatSample
        The series of the contact, in order of time. [s, °C, °C, A]
    like : sequence of HeatSample
        The series of the like one at the same current. [s, °C, °C, A]
    found : HeatForecast
        What the contact's own series says of its end. While that is open upward, the interval is
        of the difference as it is now. [K]

    Returns
    -------
    Bounds, or None
        Nothing while no reading of the like part lies between two of the contact. [K]

    References
    ----------
    JCGM 100:2008, 5.2.2 (from memory): errors that two readings share leave their difference.
    Growth in step with the rise: judgement.

    Examples
    --------
    >>> def at(minutes: float, temp_c: float) -> HeatSample:
    ...     return HeatSample(60 * minutes, temp_c, 20.0, 32.0)
    >>> from checks.electrical.heat_forecast import forecast
    >>> part = [at(0, 30.0), at(2, 31.0)]
    >>> like_difference_k(part, [at(1, 28.5)], forecast(part, 32.0))
    Bounds(low_k=2.0, high_k=2.0)
    """
    differences = [warm_c - at.temp_c for at in like for warm_c in _between(part, at.at_s)]
    if not differences:
        return None
    last = differences[-PAIRS:]
    mean_k = sum(last) / len(last)
    low_k, high_k = (nominal(mean_k) + sign * expanded(mean_k) for sign in (-1, 1))
    growth = _growth(found)
    return Bounds(min(low_k, low_k * growth), max(high_k, high_k * growth))


def _between(part: Sequence[HeatSample], at_s: float) -> list[Number]:
    """Return the temperature of the contact at a time, on the line that joins two readings."""
    for before, after in pairwise(part):
        if before.at_s <= at_s <= after.at_s:
            share = (at_s - before.at_s) / (after.at_s - before.at_s)
            return [before.temp_c * (1 - share) + after.temp_c * share]
    return []


def _growth(found: HeatForecast) -> float:
    """Return by how much the rise may still grow, as a ratio of at least 1."""
    last_k = nominal(found.last_rise_k)
    if found.at_test is None or found.at_test.high_k is None or last_k <= 0:
        return 1.0
    return max(1.0, found.at_test.high_k / last_k)
