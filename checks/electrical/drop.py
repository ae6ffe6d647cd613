"""Voltage drop of a loaded circuit, and the smallest conductor that keeps it within a limit."""

from collections.abc import Mapping
from typing import Final

from checks.errors import OutOfRangeError, OutOfTableError
from checks.units import Number

# How often the resistance of one conductor counts in the drop between the lines: both wires of a
# two-wire circuit (120 V, or two lines of a 208 V or 240 V system); √3 for three balanced lines.
LOOP_FACTOR: Final[Mapping[int, float]] = {1: 2.0, 3: 3**0.5}


def loop_factor(phases: int) -> float:
    """How often one conductor's ohms count in the drop between the lines.

    Parameters
    ----------
    phases : int
        1 for a two-wire circuit, 3 for balanced three-phase line voltage. [-]

    Returns
    -------
    float
        2 or √3. [-]

    Raises
    ------
    OutOfTableError
        Another number of phases.

    References
    ----------
    NEC 2023 chapter 9 table 9, note 2; circuit theory.

    Examples
    --------
    >>> loop_factor(1)
    2.0
    """
    if phases not in LOOP_FACTOR:
        raise OutOfTableError(
            f"a circuit of {phases} phases is not known here",
            where="Circuit, phases",
            remedy="Use 1 for a two-wire circuit or 3 for three-phase",
        )
    return LOOP_FACTOR[phases]


def drop_v(current_a: Number, conductor_ohm: Number, *, phases: int = 1) -> Number:
    """Drop between the lines from the resistance of one conductor, at unity power factor.

    Parameters
    ----------
    current_a : Number
        Load current. [A]
    conductor_ohm : Number
        Resistance of one conductor, one way. [Ω]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    Number
        Drop. [V]

    References
    ----------
    Ohm's law; two-wire factor as in trade examples with NEC chapter 9 table 8.

    Examples
    --------
    20 A through 0.198 Ω each way:

    >>> drop_v(20.0, 0.198)
    7.92
    """
    return loop_factor(phases) * current_a * conductor_ohm


def percent_of_nominal(volts: Number, nominal_v: float) -> Number:
    """Express a drop in percent of the circuit's nominal voltage.

    Parameters
    ----------
    volts : Number
        Drop. [V]
    nominal_v : float
        Nominal voltage between the conductors of the circuit: 120, 208 or 240. [V]

    Returns
    -------
    Number
        Drop. [%]

    Raises
    ------
    OutOfRangeError
        The nominal voltage is not above 0.

    References
    ----------
    NEC 2023 210.19 informational note (percent of the circuit's voltage).

    Examples
    --------
    5 % of 240 V is 12 V:

    >>> percent_of_nominal(12.0, 240.0)
    5.0
    """
    if nominal_v <= 0:
        raise OutOfRangeError(
            f"a nominal voltage of {nominal_v:g} V is not possible",
            where="Circuit, nominal voltage",
            remedy="Enter 120, 208 or 240 V",
        )
    return 100 * volts / nominal_v


def smallest_size(
    limit_v: float, current_a: float, length_m: float, ohm_per_m: Mapping[str, float]
) -> str:
    """Smallest conductor whose drop, there and back, stays within a limit.

    Parameters
    ----------
    limit_v : float
        Highest drop between the lines. [V]
    current_a : float
        Load current. [A]
    length_m : float
        Length along the run, one way. [m]
    ohm_per_m : Mapping
        Size, smallest first, then resistance of a meter of one conductor. [Ω/m]

    Returns
    -------
    str
        Size. [-]

    Raises
    ------
    OutOfTableError
        No size of the table is large enough.

    References
    ----------
    Ohm's law; inverse of ``drop_v``.

    Examples
    --------
    >>> smallest_size(6.0, 30.0, 50.0, {"8 AWG": 0.0026, "6 AWG": 0.0016})
    '6 AWG'
    """
    for size, per_m in ohm_per_m.items():
        if drop_v(current_a, per_m * length_m) <= limit_v:
            return size
    raise OutOfTableError(
        f"no conductor of the table keeps {current_a:g} A over {length_m:g} m within {limit_v:g} V",
        where="Run, size",
        remedy="Shorten the run, lower the current, or ask an engineer for a larger size",
    )
