"""The rules on EV supply equipment: its circuit, cords, ground-fault protection, ventilation."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.rule import Rule, Threshold


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
