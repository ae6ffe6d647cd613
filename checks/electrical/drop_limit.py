"""Voltage drop by the handbook formula, and turned around: longest run, smallest conductor."""

from collections.abc import Mapping

from checks.electrical.drop import load_voltage_v, loop_factor
from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import nominal
from checks.units import Number


def effective_ohm(
    conductor_ohm: Number, reactance_ohm: Number, *, power_factor: float = 1.0
) -> Number:
    """Effective impedance of one conductor: the part of it that shortens the voltage.

    Parameters
    ----------
    conductor_ohm : Number
        Resistance of one conductor, one way. [Ω]
    reactance_ohm : Number
        Reactance of one conductor, one way. [Ω]
    power_factor : float
        Lagging power factor of the load, above 0 to 1. [-]

    Returns
    -------
    Number
        R cos θ + X sin θ. [Ω]

    Raises
    ------
    OutOfRangeError
        The power factor is not above 0 and up to 1.

    References
    ----------
    NEC 2023 chapter 9 table 9, note 2.

    Examples
    --------
    At unity power factor the reactance does not count:

    >>> effective_ohm(0.2, 0.05)
    0.2
    """
    if not 0 < power_factor <= 1:
        raise OutOfRangeError(
            f"a power factor of {power_factor:g} is not possible",
            where="Circuit, power factor",
            remedy="Enter a power factor above 0 and up to 1",
        )
    return conductor_ohm * power_factor + reactance_ohm * (1 - power_factor**2) ** 0.5


def handbook_drop_v(
    current_a: Number,
    conductor_ohm: Number,
    reactance_ohm: Number,
    *,
    power_factor: float = 1.0,
    phases: int = 1,
) -> Number:
    """Drop between the lines by the formula of the handbooks.

    Parameters
    ----------
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
        Drop. [V]

    References
    ----------
    NEC 2023 chapter 9 table 9, note 2; two-wire factor 2, three-phase factor √3.

    Examples
    --------
    >>> handbook_drop_v(20.0, 0.198, 0.0)
    7.92
    """
    effective = effective_ohm(conductor_ohm, reactance_ohm, power_factor=power_factor)
    return loop_factor(phases) * current_a * effective


def handbook_error_v(
    source_v: float,
    current_a: float,
    conductor_ohm: float,
    reactance_ohm: float,
    *,
    power_factor: float = 1.0,
    phases: int = 1,
) -> float:
    """How far the handbook formula lies below the exact drop.

    The handbook leaves out the part of the drop that stands across the voltage; for a charging
    circuit within its limits it is a few millivolts.

    Parameters
    ----------
    source_v : float
        Voltage between the lines at the supply end. [V]
    current_a : float
        Load current. [A]
    conductor_ohm : float
        Resistance of one conductor, one way. [Ω]
    reactance_ohm : float
        Reactance of one conductor, one way. [Ω]
    power_factor : float
        Lagging power factor of the load, above 0 to 1. [-]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    float
        Exact drop less handbook drop; 0 or more. [V]

    References
    ----------
    Circuit theory: V - √(V² - b²), b the part of the drop across the voltage.

    Examples
    --------
    Without reactance and at unity power factor both are the same:

    >>> handbook_error_v(240.0, 32.0, 0.1, 0.0)
    0.0
    """
    ohms = (current_a, conductor_ohm, reactance_ohm)
    left_v = load_voltage_v(source_v, *ohms, power_factor=power_factor, phases=phases)
    return nominal(
        source_v - left_v - handbook_drop_v(*ohms, power_factor=power_factor, phases=phases)
    )


def longest_run_m(
    limit_v: float, current_a: Number, ohm_per_m: Number, *, phases: int = 1
) -> Number:
    """Longest run, one way, whose drop stays at a limit.

    Parameters
    ----------
    limit_v : float
        Highest drop between the lines. [V]
    current_a : Number
        Load current, above 0. [A]
    ohm_per_m : Number
        Resistance, or effective impedance, of a meter of one conductor, above 0. [Ω/m]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    Number
        Length along the run, one way. [m]

    Raises
    ------
    OutOfRangeError
        Without current, or without resistance, any length would do.

    References
    ----------
    Ohm's law; inverse of ``drop_v``.

    Examples
    --------
    7.2 V at 36 A through 2 mΩ a meter, there and back:

    >>> longest_run_m(7.2, 36.0, 0.002)
    50.0
    """
    if nominal(current_a) <= 0 or nominal(ohm_per_m) <= 0:
        raise OutOfRangeError(
            "no length is the longest at 0 A or 0 Ω",
            where="Run, longest length",
            remedy="Enter the load current and the size of the conductor",
        )
    return limit_v / (loop_factor(phases) * current_a * ohm_per_m)


def smallest_size(
    limit_v: float,
    current_a: float,
    length_m: float,
    ohm_per_m: Mapping[str, float],
    *,
    phases: int = 1,
) -> str:
    """Smallest conductor whose drop stays within a limit.

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
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

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
        if loop_factor(phases) * current_a * per_m * length_m <= limit_v:
            return size
    raise OutOfTableError(
        f"no conductor of the table keeps {current_a:g} A over {length_m:g} m within {limit_v:g} V",
        where="Run, size",
        remedy="Shorten the run, lower the current, or ask an engineer for a larger size",
    )
