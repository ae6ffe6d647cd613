"""What the resistance of a protective (equipment grounding) conductor should be."""

from typing import Final

from checks.electrical.conductor import resistance_ohm
from checks.source import judgement
from checks.units import Number

JOINT_ALLOWANCE_OHM: Final = 0.05
JOINT_ALLOWANCE: Final = judgement("0.05 Ω for the joints of a sound protective conductor")


def expected_ohm(size: str, material: str, length_m: Number, temp_c: Number = 20.0) -> Number:
    """Resistance of the metal of the protective conductor, without joints.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"10 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : Number
        Length along the run, one way. [m]
    temp_c : Number
        Conductor temperature during the test. [°C]

    Returns
    -------
    Number
        Expected resistance. [Ω]

    References
    ----------
    As ``resistance_ohm``.
    """
    return resistance_ohm(size, material, length_m, temp_c)


def limit_ohm(size: str, material: str, length_m: Number, temp_c: Number = 20.0) -> Number:
    """Highest resistance at which the joints may still be called sound.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"10 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : Number
        Length along the run, one way. [m]
    temp_c : Number
        Conductor temperature during the test. [°C]

    Returns
    -------
    Number
        Expected resistance and the allowance for joints. [Ω]

    References
    ----------
    As ``resistance_ohm``; the allowance of 0.05 Ω is this project's own judgement.
    """
    return expected_ohm(size, material, length_m, temp_c) + JOINT_ALLOWANCE_OHM
