"""Resistance that the metal of a run does not explain: the loose joint before it burns."""

from checks.electrical.conductor import resistance_ohm
from checks.electrical.drop import loop_factor
from checks.units import Number


def metal_loop_ohm(
    size: str, material: str, length_m: Number, temp_c: Number = 20.0, *, phases: int = 1
) -> Number:
    """Loop resistance that the metal of the run explains.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : Number
        Length along the run, one way. [m]
    temp_c : Number
        Conductor temperature. [°C]
    phases : int
        1 for a two-wire circuit, 3 for three-phase. [-]

    Returns
    -------
    Number
        Loop resistance with sound joints. [Ω]

    References
    ----------
    As ``resistance_ohm``.
    """
    return loop_factor(phases) * resistance_ohm(size, material, length_m, temp_c)


def excess_ohm(found_ohm: Number, metal_ohm: Number) -> Number:
    """Resistance that the metal does not explain.

    Parameters
    ----------
    found_ohm : Number
        Loop resistance found by measurement. [Ω]
    metal_ohm : Number
        Loop resistance of the metal. [Ω]

    Returns
    -------
    Number
        Excess; negative when length, size or reading is not what was entered. [Ω]

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> excess_ohm(0.25, 0.2)
    0.05
    """
    return found_ohm - metal_ohm


def heat_w(joint_ohm: Number, current_a: Number) -> Number:
    """Power that a resistance turns to heat.

    Parameters
    ----------
    joint_ohm : Number
        Resistance. [Ω]
    current_a : Number
        Current through it. [A]

    Returns
    -------
    Number
        Heat. [W]

    References
    ----------
    Joule's law.

    Examples
    --------
    10 mΩ at 32 A:

    >>> heat_w(0.010, 32.0)
    10.24
    """
    return joint_ohm * current_a**2
