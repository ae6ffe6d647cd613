"""How the temperature rise of a contact grows with its current."""

from typing import Final, NamedTuple

from checks.errors import OutOfRangeError
from checks.quantity import nominal
from checks.source import Basis, Source
from checks.units import Number

LEAST_EXPONENT: Final = 1.6
MOST_EXPONENT: Final = 2.0
EXPONENTS: Final = Source(
    document="Thermography practice after IEEE: rise scales with current to the power 1.6 to 2.0",
    basis=Basis.LOOKED_UP,
)


class RiseInterval(NamedTuple):
    """Lowest and highest rise to expect [K]."""

    low_k: Number
    high_k: Number


def scaled_rise_k(rise_k: Number, test_a: Number, full_a: Number, exponent: float) -> Number:
    """Scale a temperature rise from the test current to full current.

    Parameters
    ----------
    rise_k : Number
        Rise over ambient at the test current. [K]
    test_a : Number
        Current during the test, above 0. [A]
    full_a : Number
        Current to scale to. [A]
    exponent : float
        Power of the current ratio, 1.6 to 2.0 for sound contacts. [-]

    Returns
    -------
    Number
        Rise at full current. [K]

    Raises
    ------
    OutOfRangeError
        No current flowed in the test.

    References
    ----------
    Thermography practice after IEEE: exponent between 1.6 and 2.0.

    Examples
    --------
    Twice the current, four times the heat:

    >>> scaled_rise_k(5.0, 16.0, 32.0, 2.0)
    20.0
    """
    if nominal(test_a) <= 0:
        raise OutOfRangeError(
            "a temperature rise cannot be scaled from 0 A",
            where="Temperature under load, current",
            remedy="Measure the temperature while current flows",
        )
    return rise_k * (full_a / test_a) ** exponent


def rise_interval_k(rise_k: Number, test_a: Number, full_a: Number) -> RiseInterval:
    """Interval of the rise at full current, over the whole range of exponents.

    A joint whose resistance grows with heat rises faster than this.

    Parameters
    ----------
    rise_k : Number
        Rise over ambient at the test current. [K]
    test_a : Number
        Current during the test, above 0. [A]
    full_a : Number
        Current to scale to. [A]

    Returns
    -------
    RiseInterval
        Lowest and highest rise. [K]

    References
    ----------
    Thermography practice after IEEE: exponent between 1.6 and 2.0.
    """
    least = scaled_rise_k(rise_k, test_a, full_a, LEAST_EXPONENT)
    most = scaled_rise_k(rise_k, test_a, full_a, MOST_EXPONENT)
    is_upward = nominal(full_a) >= nominal(test_a)
    return RiseInterval(least, most) if is_upward else RiseInterval(most, least)
