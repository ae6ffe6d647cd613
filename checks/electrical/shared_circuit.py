"""A Level 1 charger on a circuit that household loads share: which of them would trip it."""

from collections.abc import Mapping
from math import inf
from typing import Final

from checks.electrical.breaker import TEST_AIR_C, Spread, Step, trip_spread_s
from checks.source import trade

# Usual current at 120 V and how long it flows at a time. [A], [s]
HOUSEHOLD: Final[Mapping[str, Step]] = {
    "space heater, 1500 W": Step(12.5, inf),
    "hair dryer, 1875 W": Step(15.6, 600.0),
    "kettle, 1500 W": Step(12.5, 240.0),
    "microwave oven": Step(11.0, 600.0),
    "toaster, 900 W": Step(7.5, 180.0),
    "vacuum cleaner": Step(10.0, 1200.0),
    "clothes iron, 1500 W": Step(12.5, 1200.0),
    "table saw, 15 A": Step(15.0, 120.0),
    "garage door opener": Step(5.0, 20.0),
    "freezer": Step(1.5, 1800.0),
    "lighting": Step(1.0, inf),
}
HOUSEHOLD_SOURCE: Final = trade("Usual currents of household appliances at 120 V, by nameplate")


def trip_beside_charging_s(
    rating_a: float, charger_a: float, load: Step, *, air_c: float = TEST_AIR_C
) -> Spread:
    """Time in which a load trips the circuit of a charger that has charged for hours.

    Parameters
    ----------
    rating_a : float
        Rating of the breaker. [A]
    charger_a : float
        What the charger draws. [A]
    load : Step
        What is switched on beside it, and for how long. [A], [s]
    air_c : float
        Air at the breaker. [°C]

    Returns
    -------
    Spread
        Shortest, usual and longest time, counted from the load's start; ``inf`` where the load is
        off before, or nothing trips. [s]

    References
    ----------
    Thermal model of ``checks.electrical.breaker``; UL 489 calibration points.

    Examples
    --------
    A lamp does no harm:

    >>> trip_beside_charging_s(15.0, 12.0, HOUSEHOLD["lighting"]).fast_s
    inf
    """
    found = trip_spread_s(rating_a, [charger_a, load.current_a], before_a=charger_a, air_c=air_c)
    return Spread(*(each if each <= load.duration_s else inf for each in found))


def tripping_loads(
    rating_a: float, charger_a: float, *, air_c: float = TEST_AIR_C
) -> Mapping[str, Spread]:
    """Household loads that a usual breaker would not carry beside a charger, soonest first.

    Parameters
    ----------
    rating_a : float
        Rating of the breaker. [A]
    charger_a : float
        What the charger draws. [A]
    air_c : float
        Air at the breaker. [°C]

    Returns
    -------
    Mapping
        Load, then the times in which it trips. [s]

    References
    ----------
    Thermal model of ``checks.electrical.breaker``; currents are common practice, no source.

    Examples
    --------
    >>> "kettle, 1500 W" in tripping_loads(15.0, 12.0)
    True
    """
    found = {
        name: trip_beside_charging_s(rating_a, charger_a, load, air_c=air_c)
        for name, load in HOUSEHOLD.items()
    }
    tripping = {name: spread for name, spread in found.items() if spread.nominal_s < inf}
    return dict(sorted(tripping.items(), key=lambda pair: pair[1].nominal_s))
