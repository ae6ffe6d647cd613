"""Charging power at the measured volts and amps, against what the vehicle displays."""

from collections.abc import Mapping
from typing import Final

from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import Number, nominal

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
