"""What changed at one charging point over the years, and when a limit would be crossed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from uncertainties import ufloat

from checks.electrical.heating import rise_interval_k
from checks.electrical.least_squares import straight_line
from checks.errors import OutOfRangeError
from checks.quantity import SQRT_3, expanded, nominal
from checks.units import Number

DAYS_PER_YEAR: Final = 365.25
LEAST_DAYS: Final = 30
# A straight line says nothing farther off than this, or than this many times what it spans: own
# judgement, no source.
FARTHEST_YEARS: Final = 25.0
FAR_RATIO: Final = 3.0


@dataclass(frozen=True)
class Visit:
    """A normalized quantity as one visit found it, with its uncertainty."""

    on: date
    value: Number


@dataclass(frozen=True)
class Trend:
    """A straight line through visits.

    Parameters
    ----------
    start : Number
        At the first visit, on the line, in the quantity's unit.
    change : Number
        From the first visit to the last, along the line, in the quantity's unit.
    per_year : Number
        Slope, in the quantity's unit per year.
    is_seen : bool
        Whether the change is more than the meters' uncertainty; without it, no change that these
        meters can see.
    crossing : date, optional
        When the limit would be crossed if it goes on; none without a seen change toward it, or
        too far ahead to say.
    earliest : date, optional
        When it could be crossed at the steepest; only with a crossing.
    is_beyond : bool
        Whether the line has crossed the limit by the last visit.
    is_straight : bool
        Whether all visits lie on the line within their uncertainties.
    """

    start: Number
    change: Number
    per_year: Number
    is_seen: bool
    crossing: date | None
    earliest: date | None
    is_beyond: bool
    is_straight: bool

    @property
    def words(self) -> str:
        """What may be said without a number."""
        if not self.is_seen:
            return "no change that these meters can see"
        return "a change that is more than the meters' uncertainty"


def trend(visits: Sequence[Visit], limit: float, *, is_upper: bool = True) -> Trend:
    """Fit a straight line to visits, each weighed by its uncertainty, and carry it on to a limit.

    Values of one meter share its gain error when they were made with it; they are then compared
    far better than each is known.

    Parameters
    ----------
    visits : sequence of Visit
        At least two, a month apart or more. [unit of the quantity]
    limit : float
        The limit, in the same unit. [unit of the quantity]
    is_upper : bool
        Whether values should stay below the limit (rise, resistance, time) or above it (retention).
        [-]

    Returns
    -------
    Trend
        Change, slope and date of crossing. [unit of the quantity]

    Raises
    ------
    OutOfRangeError
        Fewer than two visits, or less than a month between the first and the last.

    References
    ----------
    Aitken 1935, generalized least squares; JCGM 100:2008, 5.2.2 (from memory).

    Examples
    --------
    From 10 to 12 in two years, limit 15: three years on.

    >>> found = trend([Visit(date(2023, 5, 1), 10.0), Visit(date(2025, 5, 1), 12.0)], 15.0)
    >>> found.crossing.year, found.is_seen
    (2028, True)
    """
    order = sorted(visits, key=lambda each: each.on)
    if len(order) < 2 or (order[-1].on - order[0].on).days < LEAST_DAYS:  # noqa: PLR2004 - a line
        raise OutOfRangeError(
            "a trend needs two visits a month apart or more",
            where="Trend over visits",
            remedy="Compare again after the next visit",
        )
    at = [_years(each.on, order[0].on) for each in order]
    start, per_year = straight_line(at, [each.value for each in order])
    change = per_year * at[-1]
    sign = 1.0 if is_upper else -1.0
    left = sign * (limit - nominal(start + change))
    is_seen = abs(nominal(change)) > expanded(change)
    rate, most = sign * nominal(per_year), sign * nominal(per_year) + expanded(per_year)
    crossing = _crossing(order, left, rate) if is_seen and left > 0 else None
    return Trend(
        start,
        change,
        per_year,
        is_seen,
        crossing,
        _crossing(order, left, most) if crossing else None,
        left <= 0,
        _is_straight(order, at, start, per_year),
    )


def normalized_rise_k(rise_k: Number, test_a: Number, reference_a: float) -> Number:
    """Bring a rise of one visit to the current at which visits are compared.

    Parameters
    ----------
    rise_k : Number
        Final rise over ambient at this visit. [K]
    test_a : Number
        Current at this visit. [A]
    reference_a : float
        Current at which visits are compared. [A]

    Returns
    -------
    Number
        Rise at that current; the range of exponents is part of its uncertainty. [K]

    References
    ----------
    As ``rise_interval_k``; a rectangular error by JCGM 100:2008, 4.3.7 (from memory).
    """
    low_k, high_k = rise_interval_k(rise_k, test_a, reference_a)
    half_k = abs(nominal(high_k) - nominal(low_k)) / 2
    spread = ufloat(0.0, half_k / SQRT_3) if half_k > 0 else 0.0
    return (low_k + high_k) / 2 + spread


def _years(on: date, start: date) -> float:
    return (on - start).days / DAYS_PER_YEAR


def _crossing(order: Sequence[Visit], left: float, rate: float) -> date | None:
    span = _years(order[-1].on, order[0].on)
    if rate <= 0 or left / rate > min(FARTHEST_YEARS, FAR_RATIO * span):
        return None
    return order[-1].on + timedelta(days=left / rate * DAYS_PER_YEAR)


def _is_straight(
    order: Sequence[Visit], at: Sequence[float], start: Number, per_year: Number
) -> bool:
    """Whether each visit lies on the line, by its own uncertainty and the line's together."""
    off = [each.value - (start + per_year * t) for each, t in zip(order, at, strict=True)]
    return all(abs(nominal(each)) <= max(expanded(each), 1e-9) for each in off)
