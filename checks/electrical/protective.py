"""What the resistance of a protective (equipment grounding) conductor should be."""

from typing import Final

from checks.electrical.conductor import resistance_ohm
from checks.source import judgement
from checks.units import Number

JOINT_ALLOWANCE_OHM: Final = 0.05
JOINT_ALLOWANCE: Final = judgement("0.05 Ω for the joints of a sound protective conductor")
COLDEST_RUN_C: Final = -20.0
LEAST_METAL_RATIO: Final = 0.95  # of what its nominal size explains
RACEWAY_OHM_PER_M: Final = 0.48e-3
LEAST_METAL: Final = judgement(
    "no path reads less than 95 % of its metal at -20 °C; of a steel raceway no less than 300 mm² "
    "at 7 MS/m, 0.48 mΩ/m"
)


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


def least_ohm(
    wire: tuple[str, str] | None, length_m: Number, *, has_raceway: bool
) -> Number | None:
    """Least resistance that the recorded path itself can show, however good its joints.

    A reading below it was carried by something else as well, or never went along the run.

    Parameters
    ----------
    wire : tuple of str, or None
        Size and material of the wire; None where metal of the run alone is the path. [-]
    length_m : Number
        Length along the run, one way. [m]
    has_raceway : bool
        Whether metal of the run may carry it too. [-]

    Returns
    -------
    Number or None
        Resistance; None where there is neither wire nor metal. [Ω]

    References
    ----------
    As ``resistance_ohm``. Coldest run, share of the metal and steel of the raceway are this
    project's own judgement; heavy 2 in steel tubing has near 280 mm².
    """
    paths = [] if wire is None else [expected_ohm(*wire, 1.0, COLDEST_RUN_C)]  # of one meter
    if has_raceway:
        paths.append(RACEWAY_OHM_PER_M)
    if not paths:
        return None
    return LEAST_METAL_RATIO * length_m / sum(1.0 / path for path in paths)
