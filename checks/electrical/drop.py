"""Voltage drop of a loaded circuit, and the part of it that the metal of the run explains."""

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


def load_voltage_v(
    source_v: Number,
    current_a: Number,
    conductor_ohm: Number,
    reactance_ohm: Number,
    *,
    power_factor: float = 1.0,
    phases: int = 1,
) -> Number:
    """Voltage left at the load, exactly, from resistance and reactance of one conductor.

    Parameters
    ----------
    source_v : Number
        Voltage between the lines at the supply end. [V]
    current_a : Number
        Load current. [A]
    conductor_ohm : Number
        Resistance of one conductor, one way. [Ω]
    reactance_ohm : Number
        Reactance of one conductor, one way. [Ω]
    power_factor : float
        Lagging power factor of the load, above 0 to 1. [-]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    Number
        Voltage between the lines at the load. [V]

    Raises
    ------
    OutOfRangeError
        The power factor is not above 0 and up to 1.

    References
    ----------
    NEC 2023 chapter 9 table 9, note 2 (R cos θ + X sin θ); exact form from circuit theory.
    """
    if not 0 < power_factor <= 1:
        raise OutOfRangeError(
            f"a power factor of {power_factor:g} is not possible",
            where="Circuit, power factor",
            remedy="Enter a power factor above 0 and up to 1",
        )
    cos, sin = power_factor, (1 - power_factor**2) ** 0.5
    loop_a = loop_factor(phases) * current_a
    along_v = loop_a * (conductor_ohm * cos + reactance_ohm * sin)
    across_v = loop_a * (reactance_ohm * cos - conductor_ohm * sin)
    return (source_v**2 - across_v**2) ** 0.5 - along_v


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
