"""Thermal-magnetic breakers: will a load trip one, and after how long, with the spread.

A model with one time constant that meets the published calibration points. It explains a trip;
it proves no coordination, and no breaker is tested by it.
"""

from collections.abc import Iterable
from math import inf, log
from typing import Final, NamedTuple

from checks.electrical.conductor import HOTTEST_C
from checks.errors import OutOfRangeError, OutOfTableError
from checks.source import Basis, Source, judgement

CALIBRATION: Final = Source(
    document="UL 489",
    clause="calibration at 100 %, 135 % and 200 % of the rating",
    basis=Basis.LOOKED_UP,
)
CALIBRATION_ABOVE_30_A: Final = Source(
    document="UL 489",
    clause="calibration at 200 % of ratings above 30 A",
    basis=Basis.FROM_MEMORY,
)
AMBIENT: Final = Source(
    document="One maker's table of rating against air temperature, 20 to 30 A",
    clause="element temperature of 125 °C fitted to it",
    basis=Basis.LOOKED_UP,
)
MODEL: Final = judgement("one time constant, its spread set by the calibration points")

ELEMENT_C: Final = 125.0  # temperature of the bimetal at which the breaker trips
RATED_AIR_C: Final = 40.0
TEST_AIR_C: Final = 25.0
DOUBLE: Final = 2.0  # the calibration point that sets the slow edge
INSTANTANEOUS_RATIO: Final = 10.0  # where the magnetic trip acts in any case: judgement


class Frame(NamedTuple):
    """Ratings up to ``upto_a`` [A], the longest time to trip at 200 % [s], and where it stands."""

    upto_a: float
    at_200_s: float
    source: Source


FRAMES: Final = (
    Frame(30.0, 120.0, CALIBRATION),
    Frame(50.0, 240.0, CALIBRATION_ABOVE_30_A),
    Frame(100.0, 360.0, CALIBRATION_ABOVE_30_A),
)


class Element(NamedTuple):
    """What it holds at 40 °C, in parts of its rating [-], and its time constant [s]."""

    hold_ratio: float
    time_constant_s: float


class Spread(NamedTuple):
    """Shortest, usual and longest time to trip; ``inf`` where it never does [s]."""

    fast_s: float
    nominal_s: float
    slow_s: float


class Hottest(NamedTuple):
    """Air that a breaker still bears with a load [°C], and the line that reckons it."""

    air_c: float
    working: str


class Step(NamedTuple):
    """A current that flows for a time [A], [s]."""

    current_a: float
    duration_s: float


# 1.00 from the hold at 100 % and 40 °C, 1.24 from the trip at 135 % and 25 °C bound what a breaker
# may hold; the middle is usual, the fast edge an easily tripped one.
USUAL_HOLD_RATIO: Final = 1.15
FAST: Final = Element(1.05, 40.0)


def hold_ratio(
    air_c: float, *, local_heat_k: float = 0.0, held_at_rated_air: float = 1.15
) -> float:
    """Part of its rating that a breaker holds for ever where it sits.

    Parameters
    ----------
    air_c : float
        Air at the breaker, -40 to 120. [°C]
    local_heat_k : float
        Extra heat at its element, as from a loose terminal. [K]
    held_at_rated_air : float
        Part of its rating that it holds at 40 °C, 1.0 to 1.24 for a sound one. [-]

    Returns
    -------
    float
        Part of the rating; 0 where heat alone trips it. [-]

    Raises
    ------
    OutOfRangeError
        The air is not between -40 and 120 °C.

    References
    ----------
    Balance of heat, √((125 - T)/(125 - 40)); 125 °C fitted to a maker's table.

    Examples
    --------
    >>> hold_ratio(40.0)
    1.15
    """
    if not -RATED_AIR_C <= air_c <= HOTTEST_C:
        raise OutOfRangeError(
            f"{air_c:g} °C at a breaker is outside {-RATED_AIR_C:g} to {HOTTEST_C:g} °C",
            where="Panel, air temperature",
            remedy="Enter the air temperature beside the breaker",
        )
    left_k = max(0.0, ELEMENT_C - air_c - local_heat_k)
    return float(held_at_rated_air * (left_k / (ELEMENT_C - RATED_AIR_C)) ** 0.5)


def hottest_air_c(load_a: float, rated_a: float) -> Hottest:
    """Air up to which a breaker that just holds its rating at 40 °C holds a load.

    Parameters
    ----------
    load_a : float
        The load. [A]
    rated_a : float
        Rating of the breaker, above 0. [A]

    Returns
    -------
    Hottest
        Air, and how it is reckoned. [°C]

    References
    ----------
    Balance of heat as in ``hold_ratio``, solved for the air; 125 °C fitted to a maker's table.

    Examples
    --------
    At its rating it holds what the rating says, 40 °C:

    >>> hottest_air_c(50.0, 50.0).air_c
    40.0
    """
    air_c = ELEMENT_C - (ELEMENT_C - RATED_AIR_C) * (load_a / rated_a) ** 2
    line = (
        f"{ELEMENT_C:g} − ({ELEMENT_C:g} − {RATED_AIR_C:g})·({load_a:g}/{rated_a:g})² = "
        f"{air_c:.0f} °C"
    )
    return Hottest(air_c, line)


def trip_time_s(
    ratio: float, held_ratio: float, time_constant_s: float, *, before_ratio: float = 0.0
) -> float:
    """Time in which one element trips at a steady current.

    Parameters
    ----------
    ratio : float
        Current in parts of the rating. [-]
    held_ratio : float
        What the element holds for ever here. [-]
    time_constant_s : float
        Its time constant. [s]
    before_ratio : float
        Steady current before, in parts of the rating. [-]

    Returns
    -------
    float
        Time; ``inf`` where it never trips. [s]

    References
    ----------
    τ dθ/dt = m² - θ, trip at θ = held²: t = τ ln((m² - p²)/(m² - held²)).

    Examples
    --------
    >>> trip_time_s(1.0, 1.15, 120.0)
    inf
    """
    if before_ratio >= held_ratio:
        return 0.0
    if ratio <= held_ratio:
        return inf
    if ratio >= INSTANTANEOUS_RATIO:
        return 0.0
    return time_constant_s * log((ratio**2 - before_ratio**2) / (ratio**2 - held_ratio**2))


def elements(rating_a: float) -> tuple[Element, Element, Element]:
    """Return the fast, the usual and the slow element of a breaker of this rating.

    Parameters
    ----------
    rating_a : float
        Rating, up to 100. [A]

    Returns
    -------
    tuple of Element
        Fast, usual, slow; the slow one trips at 200 % just in the time that the standard allows,
        the usual one in half of it. [-], [s]

    References
    ----------
    UL 489, calibration at 200 %; the spread below it is this project's judgement.
    """
    slow_s = frame(rating_a).at_200_s / trip_time_s(DOUBLE, hold_ratio(TEST_AIR_C), 1.0)
    return FAST, Element(USUAL_HOLD_RATIO, slow_s / 2), Element(USUAL_HOLD_RATIO, slow_s)


def frame(rating_a: float) -> Frame:
    """Return the calibration point at twice the rating.

    Parameters
    ----------
    rating_a : float
        Rating, up to 100. [A]

    Returns
    -------
    Frame
        The frame size that holds this rating. [A], [s]

    Raises
    ------
    OutOfTableError
        The rating lies beyond the calibration points that are known here.

    References
    ----------
    UL 489, calibration at 200 %; above 30 A from memory.
    """
    for each in FRAMES:
        if 0 < rating_a <= each.upto_a:
            return each
    raise OutOfTableError(
        f"no calibration point is known here for a {rating_a:g} A breaker",
        where="Breaker, rating",
        remedy=f"Enter the rating from its handle, up to {FRAMES[-1].upto_a:g} A",
    )


def trip_spread_s(
    rating_a: float,
    loads_a: Iterable[float],
    *,
    air_c: float = TEST_AIR_C,
    local_heat_k: float = 0.0,
    before_a: float = 0.0,
) -> Spread:
    """Whether a sum of loads trips a breaker, and after how long, with the spread.

    Parameters
    ----------
    rating_a : float
        Rating, up to 100. [A]
    loads_a : iterable of float
        Every load on the circuit at the same time. [A]
    air_c : float
        Air at the breaker. [°C]
    local_heat_k : float
        Extra heat at its element, as from a loose terminal. [K]
    before_a : float
        Steady current before. [A]

    Returns
    -------
    Spread
        Shortest, usual and longest time; ``inf`` where it never trips. [s]

    References
    ----------
    Thermal model of this module; UL 489 calibration points.

    Examples
    --------
    What the rating says, it carries:

    >>> trip_spread_s(20.0, [12.0, 4.0])
    Spread(fast_s=inf, nominal_s=inf, slow_s=inf)
    """
    ratio = sum(loads_a) / rating_a
    fast, usual, slow = (
        trip_time_s(
            ratio,
            hold_ratio(air_c, local_heat_k=local_heat_k, held_at_rated_air=element.hold_ratio),
            element.time_constant_s,
            before_ratio=before_a / rating_a,
        )
        for element in elements(rating_a)
    )
    return Spread(fast, usual, slow)
