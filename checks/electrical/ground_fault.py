"""Class A ground-fault protection: the currents it must ignore and interrupt, and how fast."""

from typing import Final

from checks.errors import OutOfRangeError
from checks.quantity import nominal
from checks.source import Basis, Source
from checks.units import Number

NO_TRIP_MA: Final = 4.0  # must not trip below
MUST_TRIP_MA: Final = 6.0  # must trip at and above
HIGHEST_MA: Final = 264.0  # 132 V through 500 Ω: the curve ends here
CURVE_MA: Final = 20.0
CURVE_EXPONENT: Final = 1.43

CLASS_A: Final = Source(
    document="UL 943",
    clause="Class A, trip current 4 to 6 mA and T = (20/I)^1.43",
    basis=Basis.LOOKED_UP,
)


def trip_time_limit_s(current_ma: Number) -> Number:
    """Longest time in which a Class A device may interrupt this ground-fault current.

    Parameters
    ----------
    current_ma : Number
        Ground-fault current, 6 to 264. [mA]

    Returns
    -------
    Number
        Longest allowed time. [s]

    Raises
    ------
    OutOfRangeError
        The current lies outside the curve; below 6 mA the device need not trip.

    References
    ----------
    UL 943, Class A: T = (20/I)^1.43.

    Examples
    --------
    >>> trip_time_limit_s(20.0)
    1.0
    """
    if not MUST_TRIP_MA <= nominal(current_ma) <= HIGHEST_MA:
        raise OutOfRangeError(
            f"the trip curve holds from {MUST_TRIP_MA:g} to {HIGHEST_MA:g} mA, "
            f"not at {nominal(current_ma):g} mA",
            where="Ground fault, test current",
            remedy="Test with a ground-fault current that the device must interrupt",
        )
    return (CURVE_MA / current_ma) ** CURVE_EXPONENT
