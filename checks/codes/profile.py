"""What a code profile offers: tables and rules as data, each with its source and its force.

Another code or edition is another set of these values, never another branch in a function.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from checks.codes.dwelling import DwellingMethod
from checks.codes.rule import Band, Rule, Threshold
from checks.source import Source

__all__ = [
    "Band",
    "ChargingRules",
    "CodeProfile",
    "ConductorTables",
    "Configuration",
    "GroundFaultRule",
    "Impedance",
    "InstallationRules",
    "LoadRules",
    "OvercurrentTables",
    "Permission",
    "ReceptacleTables",
    "Rule",
    "Threshold",
    "VentilationRules",
    "VoltageBand",
    "VoltageRules",
    "WorkspaceRules",
]


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
    dwelling_service : Rule, optional
        Material, then bands of the rating of a dwelling's service or main feeder [A] with the
        least size; None where that table was not read.
    cell_source : Mapping
        (material, size) of the ampacity table's rows that are known otherwise than the table.
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
    dwelling_service: Rule[Mapping[str, tuple[Band[str], ...]]] | None = None
    cell_source: Mapping[tuple[str, str], Source] = field(default_factory=dict)


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
        How far an area may fall short when conductors are enlarged in proportion. [-]
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

    @property
    def poles(self) -> int:
        """Contacts without the grounding one."""
        return 1 + len(self.volts)

    @property
    def wires(self) -> int:
        """Contacts, the grounding one included."""
        return self.poles + self.has_ground


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
    """What a text says of a configuration.

    Parameters
    ----------
    is_plain : bool
        False when the text can be read two ways.
    why : str
        What it says, in our own words.
    least_circuit_a : float
        Only on circuits of at least this rating. [A]
    is_single_only : bool
        Only as a single receptacle on its circuit.
    """

    is_plain: bool
    why: str
    least_circuit_a: float = 0.0
    is_single_only: bool = False


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
    configurations : frozenset of str or None
        Only for these receptacle configurations.
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
    configurations: frozenset[str] | None = None
    is_plain: bool = True


@dataclass(frozen=True)
class VentilationRules:
    """Ventilation where a vehicle gives off gas while it charges.

    Parameters
    ----------
    tabled : Rule
        (volts [V], amps [A]), then the least rate for each vehicle. [m³/min]
    va_per_rate : Rule
        Apparent power [VA] for each unit of the rate, for what is not tabled. [VA·min/m³]
    is_interlocked : Rule
        Whether charging must be impossible without it.
    """

    tabled: Rule[Mapping[tuple[int, int], float]]
    va_per_rate: Rule[float]
    is_interlocked: Rule[bool]


@dataclass(frozen=True)
class ChargingRules:
    """The rules on EV supply equipment itself.

    Parameters
    ----------
    individual_above_a, individual_above_v : Rule
        Beyond either, the outlet has a branch circuit of its own. [A], [V]
    disconnect_a, disconnect_v_to_ground : Rule
        Beyond either, a disconnecting means is required. [A], [V]
    is_disconnect_in_sight : Rule
        Whether it must be within sight of the equipment.
    output_cable_m : Rule
        Longest usable output cable without cable management. [m]
    supply_cord_m : Rule
        ``portable`` and ``fastened``, then the longest supply cord. [m]
    storage_height_m : Rule
        ``indoors`` and ``outdoors``, then the least height of the stored connector. [m]
    ground_fault : tuple of Rule
        Every rule that may require ground-fault protection.
    ventilation : VentilationRules
        Where a vehicle needs it.
    """

    individual_above_a: Rule[Threshold]
    individual_above_v: Rule[Threshold]
    disconnect_a: Rule[Threshold]
    disconnect_v_to_ground: Rule[Threshold]
    is_disconnect_in_sight: Rule[bool]
    output_cable_m: Rule[float]
    supply_cord_m: Rule[Mapping[str, float]]
    storage_height_m: Rule[Mapping[str, float]]
    ground_fault: tuple[Rule[GroundFaultRule], ...]
    ventilation: VentilationRules


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
    """Load on a service or panel.

    Parameters
    ----------
    measured_ratio, calculated_ratio : Rule
        What a measured, and what a calculated existing demand counts. [-]
    new_load_ratios, new_load_on_calculated_ratios : Rule
        What the new continuous load may count beside either, one factor a reading, the lenient
        one first. [-]
    record_days : Rule
        Length of record that a measured demand rests on. [d]
    short_record_days : Rule, optional
        Length that may do where nothing on site generates; None where there is no such way. [d]
    managed_ratio : Rule
        What the setpoint of load management counts. [-]
    methods : tuple of DwellingMethod
        Every way to calculate a dwelling that the code offers; the user may choose.
    """

    measured_ratio: Rule[float]
    calculated_ratio: Rule[float]
    new_load_ratios: Rule[tuple[float, ...]]
    new_load_on_calculated_ratios: Rule[tuple[float, ...]]
    record_days: Rule[int]
    short_record_days: Rule[int] | None
    managed_ratio: Rule[float]
    methods: tuple[DwellingMethod, ...]


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
    not_covered : tuple of str
        What of the code this profile does not hold, in the trade's words.
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
    not_covered: tuple[str, ...]
