"""Conductors, and the overcurrent devices that protect them."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from checks.codes.rule import Band, Rule
from checks.source import Source


@dataclass(frozen=True)
class ConductorTables:
    """Conductors: what they carry and what resists.

    Parameters
    ----------
    columns_c : tuple of int
        Temperatures that head the ampacity columns. [°C]
    ampacity_a : Rule
        Material, size, then one ampacity a column, at 30 °C and up to three conductors. [A]
    ambient_ratio : Rule
        Column temperature, then bands of the ambient temperature [°C] with their factor.
    bundling_ratio : Rule
        Bands of the number of current-carrying conductors with their factor.
    insulation_c : Mapping
        Insulation letters, then rating where dry or damp and where wet; None: not for there. [°C]
    cable_cap_c : Mapping
        Cable kind, then the column its final ampacity may not exceed. [°C]
    termination_c : tuple of Band
        Bands of the circuit's rating [A] with the column that unmarked terminals allow. [°C]
    area_cmil : Rule
        Size, then the printed area. [circular mil]
    resistance_ohm_per_kft : Rule
        Material, size, then direct-current resistance at 75 °C, stranded, uncoated. [Ω/1000 ft]
    dwelling_service : Rule, optional
        Material, then bands of the rating of a dwelling's service or main feeder [A] with the
        least size; None where that table was not read.
    cell_source : Mapping
        (material, size) of the ampacity table's rows that are known otherwise than the table.
    insulated_cap_c : Mapping
        Cable kind, then for each size that has one the column its final ampacity may not exceed in
        thermal insulation. [°C]
    insulated_rating_c : Mapping
        Cable kind, then the least rating of its conductors in thermal insulation. [°C]
    """

    columns_c: tuple[int, ...]
    ampacity_a: Rule[Mapping[str, Mapping[str, tuple[int, ...]]]]
    ambient_ratio: Rule[Mapping[int, tuple[Band[float], ...]]]
    bundling_ratio: Rule[tuple[Band[float], ...]]
    insulation_c: Mapping[str, Rule[tuple[int | None, int | None]]]
    cable_cap_c: Mapping[str, Rule[int]]
    termination_c: tuple[Band[Rule[int]], ...]
    area_cmil: Rule[Mapping[str, int]]
    resistance_ohm_per_kft: Rule[Mapping[str, Mapping[str, float]]]
    dwelling_service: Rule[Mapping[str, tuple[Band[str], ...]]] | None = None
    cell_source: Mapping[tuple[str, str], Source] = field(default_factory=dict)
    insulated_cap_c: Mapping[str, Rule[Mapping[str, int]]] = field(default_factory=dict)
    insulated_rating_c: Mapping[str, Rule[int]] = field(default_factory=dict)


@dataclass(frozen=True)
class OvercurrentTables:
    """Overcurrent devices and the conductors they protect.

    Parameters
    ----------
    continuous_ratio : Rule
        What a continuous load counts for the device, and for the conductor before correction. [-]
    corrected_ratio : Rule
        What it counts for the conductor after correction. [-]
    fully_rated_ratio : Rule
        What it counts for a device and assembly that are listed for continuous full load. [-]
    standard_a : Rule
        Standard ratings, ascending. [A]
    next_size_up_a : Rule
        Up to this rating the next standard size above the ampacity may protect. [A]
    small_conductor_cap_a : Rule
        Material, size, then the highest device. [A]
    grounding : Rule
        Material, then bands of the device's rating [A] with the grounding conductor's size.
    is_grounding_enlarged : Rule
        Whether it grows in proportion where the conductors are larger than they need to be.
    upsizing_tolerance_ratio : Rule
        How far an area falls short by the rounding of the printed areas alone. [-]
    """

    continuous_ratio: Rule[float]
    corrected_ratio: Rule[float]
    fully_rated_ratio: Rule[float]
    standard_a: Rule[tuple[int, ...]]
    next_size_up_a: Rule[float]
    small_conductor_cap_a: Rule[Mapping[str, Mapping[str, int]]]
    grounding: Rule[Mapping[str, tuple[Band[str], ...]]]
    is_grounding_enlarged: Rule[bool]
    upsizing_tolerance_ratio: Rule[float]
