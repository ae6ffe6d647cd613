"""Conductors: geometry of gauge, circular-mil and metric sizes; resistance from conductivity."""

from collections.abc import Mapping
from math import pi
from typing import Final, NamedTuple

from checks.errors import OutOfRangeError, OutOfTableError
from checks.quantity import nominal
from checks.units import Number

MM_PER_INCH: Final = 25.4
SMALLEST_DIAMETER_IN: Final = 0.005  # 36 AWG, the lower anchor of the series
RATIO: Final = 92.0  # 4/0 AWG is 92 times as thick as 36 AWG: 0.460 in
STEPS: Final = 39  # gauge steps between the two anchors

# Gauge number of each size that building wire comes in, smallest first.
GAUGE: Final[Mapping[str, int]] = {
    "14 AWG": 14,
    "12 AWG": 12,
    "10 AWG": 10,
    "8 AWG": 8,
    "6 AWG": 6,
    "4 AWG": 4,
    "3 AWG": 3,
    "2 AWG": 2,
    "1 AWG": 1,
    "1/0 AWG": 0,
    "2/0 AWG": -1,
    "3/0 AWG": -2,
    "4/0 AWG": -3,
}
SIZES: Final = tuple(GAUGE)

# Sizes that are named by the area of their metal: thousands of circular mils, and square
# millimeters. The area is the nominal one; strands come a few per cent thinner.
KCMIL: Final[Mapping[str, float]] = {
    f"{each} kcmil": float(each) for each in (250, 300, 350, 400, 500, 600, 700, 750)
}
METRIC_MM2: Final[Mapping[str, float]] = {
    f"{each:g} mm²": each for each in (1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0)
}
MM2_PER_KCMIL: Final = pi / 4 * MM_PER_INCH**2 / 1000  # by definition of the circular mil
ALL_SIZES: Final = (*SIZES, *KCMIL, *METRIC_MM2)

STRAND_LAY_RATIO: Final = 1.02  # a class B strand is 2 % longer than its cable's axis
COLDEST_C: Final = -40.0
HOTTEST_C: Final = 120.0  # the linear model is not used beyond


class Metal(NamedTuple):
    """Conductivity at 20 °C [MS/m] and its temperature coefficient at 20 °C [1/K]."""

    conductivity_ms_per_m: float
    coefficient_per_k: float


# IEC 60028 and ASTM B8, recalled; the resistance they give lands within 0.6 % of every cell of
# NEC 2023 chapter 9 table 8, which was read.
METALS: Final[Mapping[str, Metal]] = {
    "copper": Metal(58.0, 0.00393),  # 100 % IACS
    "aluminum": Metal(0.61 * 58.0, 0.00403),  # 61 % IACS
}


def diameter_mm(size: str) -> float:
    """Diameter of a solid round conductor of this size.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``, ``"250 kcmil"`` or ``"10 mm²"``. [-]

    Returns
    -------
    float
        Diameter of the bare metal. [mm]

    Raises
    ------
    OutOfTableError
        The size is not known here.

    References
    ----------
    ASTM B258: diameters in geometric progression between 0.0050 in and 0.4600 in (from memory).

    Examples
    --------
    The upper anchor, 0.460 in:

    >>> diameter_mm("4/0 AWG")
    11.684
    """
    if size not in GAUGE:
        return float((4 / pi * area_mm2(size)) ** 0.5)
    return MM_PER_INCH * SMALLEST_DIAMETER_IN * float(RATIO ** ((36 - GAUGE[size]) / STEPS))


def area_mm2(size: str) -> float:
    """Cross-section of the metal.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``. [-]

    Returns
    -------
    float
        Area; the nominal one where the size is named by it. [mm²]

    Raises
    ------
    OutOfTableError
        The size is not known here.

    References
    ----------
    ASTM B258; IEC 60228 for metric sizes (from memory).

    Examples
    --------
    >>> round(area_mm2("4/0 AWG"), 2)
    107.22
    """
    if size in KCMIL:
        return KCMIL[size] * MM2_PER_KCMIL
    if size in METRIC_MM2:
        return METRIC_MM2[size]
    if size not in GAUGE:
        raise OutOfTableError(
            f"there is no conductor size {size!r} here",
            where="Conductor, size",
            remedy="Use one of " + ", ".join(ALL_SIZES),
        )
    return pi / 4 * diameter_mm(size) ** 2


def resistance_ohm(
    size: str,
    material: str,
    length_m: Number,
    temp_c: Number = 20.0,
    *,
    is_stranded: bool = True,
) -> Number:
    """Direct-current resistance of one conductor, one way.

    Linear about 20 °C; without skin effect, which is under 1 % for these sizes at 60 Hz.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : Number
        Length along the run, one way. [m]
    temp_c : Number
        Conductor temperature, -40 to 120. [°C]
    is_stranded : bool
        Whether the strands' lay adds 2 % of length. [-]

    Returns
    -------
    Number
        Resistance. [Ω]

    Raises
    ------
    OutOfTableError
        Size or material is not known.
    OutOfRangeError
        The temperature lies where the linear model is not used.

    References
    ----------
    IEC 60028 (copper 58 MS/m at 20 °C), ASTM B8 (2 % lay), from memory; agrees within 0.6 % with
    NEC 2023 chapter 9 table 8.
    """
    if material not in METALS:
        raise OutOfTableError(
            f"there is no conductor material {material!r} here",
            where="Conductor, material",
            remedy="Use " + " or ".join(METALS),
        )
    conductivity, coefficient = METALS[material]
    at_20_c = length_m / (conductivity * area_mm2(size))
    lay = STRAND_LAY_RATIO if is_stranded else 1.0
    return at_20_c * lay * (1 + coefficient * (_in_range(temp_c) - 20.0))


def _in_range(temp_c: Number) -> Number:
    if not COLDEST_C <= nominal(temp_c) <= HOTTEST_C:
        raise OutOfRangeError(
            f"{nominal(temp_c):g} °C is outside {COLDEST_C:g} to {HOTTEST_C:g} °C",
            where="Conductor, temperature",
            remedy="Enter the temperature of the conductor itself",
        )
    return temp_c
