"""What a code profile offers: tables and rules as data, each with its source and its force.

Another code or edition is another set of these values, never another branch in a function.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from checks.source import Source
from checks.verdict import Force

T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True)
class Rule(Generic[T_co]):
    """One value or one table of a code.

    Parameters
    ----------
    value : object
        A number, whose unit the name of the field says, or a whole table.
    source : Source
        Where it stands.
    force : Force
        What stands behind it.
    """

    value: T_co
    source: Source
    force: Force = Force.CODE_RULE


@dataclass(frozen=True)
class Threshold:
    """A number above which something holds, or from which on when ``is_included``."""

    value: float
    is_included: bool = False

    def is_passed_by(self, number: float) -> bool:
        """Whether the number lies beyond the threshold."""
        return number > self.value or (self.is_included and number == self.value)


@dataclass(frozen=True)
class Band(Generic[T_co]):
    """A row of a table that is read by bands: it holds up to and including ``upto``."""

    upto: float
    value: T_co


@dataclass(frozen=True)
class Impedance:
    """Resistance and reactance of one conductor, to neutral. [Ω/1000 ft]."""

    resistance: float
    reactance: float


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
    impedance_ohm_per_kft : Rule
        Raceway, material, size, then alternating-current impedance at 75 °C.
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
    impedance_ohm_per_kft: Rule[Mapping[str, Mapping[str, Mapping[str, Impedance]]]]


@dataclass(frozen=True)
class OvercurrentTables:
    """Overcurrent devices and the conductors they protect.

    Parameters
    ----------
    continuous_ratio : Rule
        What a continuous load counts for the device, and for the conductor before correction. [-]
    corrected_ratio : Rule
        What it counts for the conductor after correction. [-]
    standard_a : Rule
        Standard ratings, ascending. [A]
    next_size_up_a : Rule
        Up to this rating the next standard size above the ampacity may protect. [A]
    small_conductor_cap_a : Rule
        Material, size, then the highest device. [A]
    grounding : Rule
        Material, then bands of the device's rating [A] with the grounding conductor's size.
    upsizing_tolerance_ratio : Rule
        How far an area may fall short when conductors are enlarged in proportion. [-]
    """

    continuous_ratio: Rule[float]
    corrected_ratio: Rule[float]
    standard_a: Rule[tuple[int, ...]]
    next_size_up_a: Rule[float]
    small_conductor_cap_a: Rule[Mapping[str, Mapping[str, int]]]
    grounding: Rule[Mapping[str, tuple[Band[str], ...]]]
    upsizing_tolerance_ratio: Rule[float]


@dataclass(frozen=True)
class Configuration:
    """A receptacle configuration.

    Parameters
    ----------
    name : str
        Its designation, such as ``"14-50"``.
    volts : tuple of int
        Rated voltages: (125,), (250,) or (125, 250). [V]
    rating_a : int
        Rated current. [A]
    has_ground, has_neutral, is_locking : bool
        Its contacts.
    """

    name: str
    volts: tuple[int, ...]
    rating_a: int
    has_ground: bool
    has_neutral: bool
    is_locking: bool = False


@dataclass(frozen=True)
class ReceptacleTables:
    """Receptacles: configurations, what they permit, and their covers.

    Parameters
    ----------
    configurations : Rule
        Designation, then configuration.
    portable : Mapping
        Designations that portable EV supply equipment may use, each with its rule.
    fastened : Mapping
        Designations that equipment fastened in place may use, each with its rule.
    is_single_below_allowed : Rule
        Whether a single receptacle may be rated below its individual circuit.
    shared_a : Rule
        Circuit rating [A], then receptacle ratings allowed where there are two or more. [A]
    continuous_ratio : Rule
        Share of its rating that a receptacle may carry without end. [-]
    cover : Mapping
        Place (``dry``, ``damp``, ``wet``), then the cover it needs, in words.
    weather_resistant_upto_a : Rule
        In damp and wet places receptacles up to this rating are of the weather-resistant type. [A]
    """

    configurations: Rule[Mapping[str, Configuration]]
    portable: Mapping[str, "Rule[Permission]"]
    fastened: Mapping[str, "Rule[Permission]"]
    is_single_below_allowed: Rule[bool]
    shared_a: Rule[Mapping[float, tuple[int, ...]]]
    continuous_ratio: Rule[float]
    cover: Mapping[str, Rule[str]]
    weather_resistant_upto_a: Rule[float]


@dataclass(frozen=True)
class Permission:
    """Whether a text permits something plainly, or can be read two ways, and why."""

    is_plain: bool
    why: str


@dataclass(frozen=True)
class GroundFaultRule:
    """Where ground-fault protection for personnel is required; None means no condition.

    Parameters
    ----------
    is_receptacle : bool or None
        For receptacles only, for hard-wired outlets only, or for both.
    is_dwelling : bool or None
        For dwellings only, for other places only, or for both.
    places : frozenset of str or None
        Only in these places.
    upto_v_to_ground : float
        Only up to this voltage to ground. [V]
    upto_a : float
        Only up to this circuit rating. [A]
    is_plain : bool
        False when the text can be read two ways.
    why : str
        The rule in our own words.
    """

    why: str
    is_receptacle: bool | None = None
    is_dwelling: bool | None = None
    places: frozenset[str] | None = None
    upto_v_to_ground: float = float("inf")
    upto_a: float = float("inf")
    is_plain: bool = True


@dataclass(frozen=True)
class ChargingRules:
    """The rules on EV supply equipment itself.

    Parameters
    ----------
    individual_above_a, individual_above_v : Rule
        Beyond either, the outlet has a branch circuit of its own. [A], [V]
    disconnect_a, disconnect_v_to_ground : Rule
        Beyond either, a disconnecting means is required. [A], [V]
    output_cable_m : Rule
        Longest usable output cable without cable management. [m]
    supply_cord_m : Rule
        ``portable`` and ``fastened``, then the longest supply cord. [m]
    storage_height_m : Rule
        ``indoors`` and ``outdoors``, then the least height of the stored connector. [m]
    ground_fault : tuple of Rule
        Every rule that may require ground-fault protection.
    """

    individual_above_a: Rule[Threshold]
    individual_above_v: Rule[Threshold]
    disconnect_a: Rule[Threshold]
    disconnect_v_to_ground: Rule[Threshold]
    output_cable_m: Rule[float]
    supply_cord_m: Rule[Mapping[str, float]]
    storage_height_m: Rule[Mapping[str, float]]
    ground_fault: tuple[Rule[GroundFaultRule], ...]


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
    supply : Mapping
        (nominal volts, ``service`` or ``utilization``, ``A`` or ``B``), then the band.
    """

    branch_drop_pct: Rule[float]
    total_drop_pct: Rule[float]
    supply: Mapping[tuple[int, str, str], Rule[VoltageBand]]


@dataclass(frozen=True)
class WorkspaceRules:
    """Working space in front of electrical equipment.

    Parameters
    ----------
    depth_m : Rule
        Bands of voltage to ground [V], then the depth for conditions 1, 2 and 3. [m]
    width_m, height_m : Rule
        Least width and height; the equipment's own where that is more. [m]
    """

    depth_m: Rule[tuple[Band[tuple[float, float, float]], ...]]
    width_m: Rule[float]
    height_m: Rule[float]


@dataclass(frozen=True)
class LoadRules:
    """Load calculation.

    Parameters
    ----------
    measured_ratio : Rule
        What a measured maximum demand counts. [-]
    new_load_ratios : Rule
        What the new continuous load may count, one factor a reading of the text. [-]
    dwelling_va_per_m2 : Rule
        General lighting and receptacles of a dwelling. [VA/m²]
    dwelling_circuit_va : Rule
        Each small-appliance and laundry circuit. [VA]
    general_bands : Rule
        Bands of general load [VA] with the share that counts, as in an income tax. [-]
    heating_few_ratio, heating_many_ratio : Rule
        Share of electric heating with few, and with many, separately controlled units. [-]
    many_units : int
        From this number of units on they are many.
    charger_least_va : Rule
        The least that EV supply equipment counts. [VA]
    """

    measured_ratio: Rule[float]
    new_load_ratios: Rule[tuple[float, ...]]
    dwelling_va_per_m2: Rule[float]
    dwelling_circuit_va: Rule[float]
    general_bands: Rule[tuple[Band[float], ...]]
    heating_few_ratio: Rule[float]
    heating_many_ratio: Rule[float]
    many_units: int
    charger_least_va: Rule[float]


@dataclass(frozen=True)
class InstallationRules:
    """How equipment is installed and kept: what is only seen, and the few rules with a number.

    Parameters
    ----------
    seen : Mapping
        Subject, then the rule in our own words.
    source_output_ratio : Rule
        What the output current of another source on the bus counts. [-]
    bus_ratio : Mapping
        Where the other source feeds in (``opposite end``, ``elsewhere``), then the share of the
        bus's rating that all sources together may reach. [-]
    cover_m : Mapping
        What lies above (``general``, ``driveway``, ``street``), then wiring method
        (``cable``, ``metal conduit``, ``plastic conduit``) with the least cover. [m]
    """

    seen: Mapping[str, Rule[str]]
    source_output_ratio: Rule[float]
    bus_ratio: Mapping[str, Rule[float]]
    cover_m: Mapping[str, Rule[Mapping[str, float]]]


@dataclass(frozen=True)
class CodeProfile:
    """One edition of one code.

    Parameters
    ----------
    name : str
        Identity, such as ``"nec_2023"``.
    title, edition : str
        What a report calls it.
    """

    name: str
    title: str
    edition: str
    conductors: ConductorTables
    overcurrent: OvercurrentTables
    receptacles: ReceptacleTables
    charging: ChargingRules
    voltage: VoltageRules
    workspace: WorkspaceRules
    load: LoadRules
    installation: InstallationRules
