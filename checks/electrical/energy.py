"""Charging power against the display, energy between two states, time and range."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import nominal
from checks.source import Basis, Source, judgement
from checks.units import Number

FULL_PCT: Final = 100.0

# Power of line voltage times line current at unity power factor, by number of phases.
POWER_FACTOR_OF_PHASES: Final[Mapping[int, float]] = {1: 1.0, 3: 3**0.5}


def power_kw(volts: Number, current_a: Number, *, phases: int = 1) -> Number:
    """Power from line voltage and line current, at unity power factor.

    Parameters
    ----------
    volts : Number
        Voltage between the lines. [V]
    current_a : Number
        Line current. [A]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    Number
        Power. [kW]

    Raises
    ------
    OutOfTableError
        Another number of phases.

    References
    ----------
    Circuit theory: P = V·I, or √3·V·I for balanced three-phase.

    Examples
    --------
    >>> power_kw(240.0, 32.0)
    7.68
    """
    if phases not in POWER_FACTOR_OF_PHASES:
        raise OutOfTableError(
            f"a circuit of {phases} phases is not known here",
            where="Circuit, phases",
            remedy="Use 1 for a two-wire circuit or 3 for three-phase",
        )
    return POWER_FACTOR_OF_PHASES[phases] * volts * current_a / 1000


def shortfall_pct(displayed_kw: Number, expected_kw: Number) -> Number:
    """How far the displayed power lies below the expected one.

    Parameters
    ----------
    displayed_kw : Number
        Power that the vehicle shows. [kW]
    expected_kw : Number
        Power from the measured volts and amps, above 0. [kW]

    Returns
    -------
    Number
        Shortfall; negative when more is displayed than expected. [%]

    Raises
    ------
    OutOfRangeError
        No power was expected.

    References
    ----------
    Definition of a relative difference.

    Examples
    --------
    >>> shortfall_pct(6.0, 8.0)
    25.0
    """
    if nominal(expected_kw) <= 0:
        raise OutOfRangeError(
            "no power is expected at 0 V or 0 A",
            where="Energy, expected power",
            remedy="Compare while current flows",
        )
    return 100 * (1 - displayed_kw / expected_kw)


class Interval(NamedTuple):
    """Lowest and highest, in the unit that the function's name says."""

    low: float
    high: float


# Share of the wall's energy that reaches the battery, by charging level: working values.
EFFICIENCY: Final[Mapping[int, Interval]] = {1: Interval(0.80, 0.85), 2: Interval(0.87, 0.92)}
EFFICIENCY_SOURCE: Final = judgement(
    "of the wall's energy 0.80 to 0.85 reaches the battery at Level 1 and 0.87 to 0.92 at Level 2, "
    "from two published studies; less of it in a short charge or with a cold battery"
)
# Wall energy of the thriftiest and the thirstiest vehicle on the label. [kWh/100 km]
CONSUMPTION: Final = Interval(15.0, 39.5)
CONSUMPTION_SOURCE: Final = Source(
    document="US EPA labels, model years 2023 and 2024",
    clause="energy from the wall, 140 to 53 MPGe",
    basis=Basis.LOOKED_UP,
)

# A common compact crossover, so that one figure can be told: 123 MPGe. [kWh/100 km]
COMMON_CONSUMPTION: Final = 17.0


def efficiency(level: int) -> Interval:
    """Share of the wall's energy that reaches the battery.

    Parameters
    ----------
    level : int
        Charging level, 1 or 2. [-]

    Returns
    -------
    Interval
        Lowest and highest share. [-]

    Raises
    ------
    OutOfTableError
        Another level.

    References
    ----------
    Working values from two published studies of Level 1 and Level 2 (own judgement).

    Examples
    --------
    >>> efficiency(1)
    Interval(low=0.8, high=0.85)
    """
    if level not in EFFICIENCY:
        raise OutOfTableError(
            f"there is no charging level {level} here", where="Energy, level", remedy="Use 1 or 2"
        )
    return EFFICIENCY[level]


def wall_energy_kwh(battery_kwh: float, from_pct: float, to_pct: float, share: float) -> float:
    """Energy from the wall between two states of charge.

    Parameters
    ----------
    battery_kwh : float
        Usable capacity. [kWh]
    from_pct : float
        State of charge at the start. [%]
    to_pct : float
        State of charge at the end, not below the start. [%]
    share : float
        Share of the wall's energy that reaches the battery, above 0 to 1. [-]

    Returns
    -------
    float
        Energy. [kWh]

    Raises
    ------
    OutOfRangeError
        The states or the share are not possible.

    References
    ----------
    Definition of efficiency.

    Examples
    --------
    36 kWh into the battery at 90 %:

    >>> wall_energy_kwh(60.0, 20.0, 80.0, 0.9)
    40.0
    """
    if not 0 <= from_pct <= to_pct <= FULL_PCT or not 0 < share <= 1:
        raise OutOfRangeError(
            f"charging from {from_pct:g} % to {to_pct:g} % at a share of {share:g} is not possible",
            where="Energy, state of charge",
            remedy="Enter two states between 0 and 100 %, the later one not below the earlier",
        )
    return battery_kwh * (to_pct - from_pct) / FULL_PCT / share


def charging_time_h(
    battery_kwh: float, from_pct: float, to_pct: float, wall_kw: float, level: int
) -> Interval:
    """Time to charge between two states at steady power.

    Above about 90 % a vehicle takes less: the last part lasts longer than this.

    Parameters
    ----------
    battery_kwh : float
        Usable capacity. [kWh]
    from_pct : float
        State of charge at the start. [%]
    to_pct : float
        State of charge at the end. [%]
    wall_kw : float
        Power at the wall, above 0. [kW]
    level : int
        Charging level, 1 or 2. [-]

    Returns
    -------
    Interval
        Shortest and longest. [h]

    Raises
    ------
    OutOfRangeError
        There is no power, or the states are not possible.

    References
    ----------
    As ``wall_energy_kwh`` and ``efficiency``.
    """
    if wall_kw <= 0:
        raise OutOfRangeError(
            "no time is long enough at 0 kW", where="Energy, power", remedy="Enter the power"
        )
    shares = efficiency(level)
    states = (battery_kwh, from_pct, to_pct)
    return Interval(
        wall_energy_kwh(*states, shares.high) / wall_kw,
        wall_energy_kwh(*states, shares.low) / wall_kw,
    )


def range_per_hour_km(wall_kw: float, wall_kwh_per_100_km: float) -> float:
    """Distance that an hour of charging adds.

    Not for scaling from one level to the other: a vehicle's own needs weigh more at low power.

    Parameters
    ----------
    wall_kw : float
        Power at the wall. [kW]
    wall_kwh_per_100_km : float
        Consumption of the vehicle, charging losses included, above 0. [kWh/100 km]

    Returns
    -------
    float
        Distance for each hour. [km/h]

    Raises
    ------
    OutOfRangeError
        The consumption is not above 0.

    References
    ----------
    US EPA label: consumption is measured at the wall.

    Examples
    --------
    >>> range_per_hour_km(6.0, 15.0)
    40.0
    """
    if wall_kwh_per_100_km <= 0:
        raise OutOfRangeError(
            f"a consumption of {wall_kwh_per_100_km:g} kWh/100 km is not possible",
            where="Energy, consumption",
            remedy="Enter the figure from the vehicle's label",
        )
    return 100 * wall_kw / wall_kwh_per_100_km


def plausible_range_per_hour_km(wall_kw: float) -> Interval:
    """Distances that an hour of charging may add, over the vehicles on the market.

    Parameters
    ----------
    wall_kw : float
        Power at the wall. [kW]

    Returns
    -------
    Interval
        Of the thirstiest and of the thriftiest vehicle. [km/h]

    References
    ----------
    US EPA labels, model years 2023 and 2024.

    Examples
    --------
    >>> plausible_range_per_hour_km(6.0).high
    40.0
    """
    return Interval(
        range_per_hour_km(wall_kw, CONSUMPTION.high), range_per_hour_km(wall_kw, CONSUMPTION.low)
    )
