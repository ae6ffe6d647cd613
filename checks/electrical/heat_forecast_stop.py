"""One reading of a temperature under load, and what ends the test at once."""

from enum import StrEnum
from typing import Final, NamedTuple

from checks.electrical.thermography import AMBIENT_MAJOR_K, LEVELS
from checks.quantity import nominal
from checks.source import Basis, Source
from checks.units import Number

STOP_C: Final = 60.0
STOP_C_BASIS: Final = Source(
    document="NEC (NFPA 70)",
    edition="2023",
    clause="110.14(C), 60 °C terminations",
    basis=Basis.FROM_MEMORY,
)
STOP_RISE_K: Final = AMBIENT_MAJOR_K
STOP_RISE_BASIS: Final = LEVELS


class HeatSample(NamedTuple):
    """One reading of a series: when, how hot, in which air, at what current."""

    at_s: float
    temp_c: Number
    ambient_c: Number
    current_a: Number


class Stop(StrEnum):
    """Why a test ends at once."""

    NONE = ""
    SIGN = "smell, discoloration or damage was seen"
    TEMPERATURE = "the stop temperature is reached"
    RISE = "the stop rise is reached"
    ACCELERATING = "the rise gets faster at a steady current"


def too_hot(sample: HeatSample, stop_c: float = STOP_C, stop_rise_k: float = STOP_RISE_K) -> Stop:
    """Say whether one reading ends a test.

    Parameters
    ----------
    sample : HeatSample
        The reading. [s, °C, °C, A]
    stop_c : float
        Temperature that ends the test. [°C]
    stop_rise_k : float
        Rise over ambient that ends the test. [K]

    Returns
    -------
    Stop
        Why it ends; none where it may go on. [-]

    References
    ----------
    NEC 2023 110.14(C), from memory; NETA ATS 2003 table 100.18.

    Examples
    --------
    >>> too_hot(HeatSample(0.0, 61.0, 25.0, 32.0)).name
    'TEMPERATURE'
    """
    if nominal(sample.temp_c) >= stop_c:
        return Stop.TEMPERATURE
    is_steep = nominal(sample.temp_c - sample.ambient_c) >= stop_rise_k
    return Stop.RISE if is_steep else Stop.NONE
