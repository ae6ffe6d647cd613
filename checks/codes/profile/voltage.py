"""Voltage drop limits and supply bands."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.rule import Rule


@dataclass(frozen=True)
class VoltageBand:
    """Lowest and highest voltage, inclusive. [V]."""

    low_v: float
    high_v: float


@dataclass(frozen=True)
class VoltageRules:
    """Voltage drop limits and supply bands.

    Parameters
    ----------
    branch_drop_pct, total_drop_pct : Rule
        Highest drop in the branch circuit, and from the service to the outlet. [%]
    unknown_load_ratio : Rule
        Share of the device's rating at which drop is reckoned where the load is not known. [-]
    supply : Mapping
        (nominal volts, ``service`` or ``utilization``, ``A`` or ``B``), then the band.
    """

    branch_drop_pct: Rule[float]
    total_drop_pct: Rule[float]
    unknown_load_ratio: Rule[float]
    supply: Mapping[tuple[int, str, str], Rule[VoltageBand]]
