"""Voltage: drop limits and the current they hold for, supply bands, resistance of a run."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.answer import Worked
from checks.codes.profile import CodeProfile, Rule, VoltageBand
from checks.codes.table import row
from checks.errors import OutOfRangeError
from checks.source import Source

M_PER_KFT = 304.8


@dataclass(frozen=True)
class DropLimits:
    """Highest drop in the branch circuit, and from the service to the outlet. [%]."""

    branch_pct: Rule[float]
    total_pct: Rule[float]


def drop_limits(profile: CodeProfile) -> DropLimits:
    """Voltage drop limits, each with its force.

    Parameters
    ----------
    profile : CodeProfile
        The code.

    Returns
    -------
    DropLimits
        Branch and total. [%]

    References
    ----------
    NEC 2023 210.19 and 215.2 informational notes: a recommendation, not a rule; CE Code 2021
    8-102: a rule.
    """
    return DropLimits(profile.voltage.branch_drop_pct, profile.voltage.total_drop_pct)


def drop_current_a(
    profile: CodeProfile, breaker_a: float | None, load_a: float | None = None
) -> Worked:
    """Return the current at which the drop of a circuit is reckoned.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    breaker_a : float or None
        Rating of the overcurrent device; None when not known. [A]
    load_a : float or None
        Connected load; None when not known. [A]

    Returns
    -------
    Worked
        The connected load, or the code's share of the device's rating. [A]

    Raises
    ------
    OutOfRangeError
        Neither is known.

    References
    ----------
    CE Code 2021 8-102; in the NEC this project's judgement.

    Examples
    --------
    >>> from checks.codes import profile
    >>> drop_current_a(profile("nec_2023"), 50.0).value
    40.0
    """
    rule = profile.voltage.unknown_load_ratio
    if load_a is not None:
        line = (
            f"drop at the connected load, {load_a:g} A ({profile.voltage.branch_drop_pct.source})"
        )
        return Worked(load_a, (profile.voltage.branch_drop_pct.source,), (line,))
    if breaker_a is None:
        raise OutOfRangeError(
            "drop needs a current", where="Run, drop", remedy="Record the charger or the breaker"
        )
    value = breaker_a * rule.value
    line = f"load not known: breaker {breaker_a:g} A × {rule.value:g} = {value:g} A ({rule.source})"
    return Worked(value, (rule.source,), (line,), rule.force)


def supply_band(
    profile: CodeProfile, nominal_v: int, place: str = "service", band: str = "A"
) -> Rule[VoltageBand]:
    """Band in which the supply should lie.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    nominal_v : int
        Nominal voltage between the measured conductors: 120, 208 or 240. [V]
    place : str
        ``"service"`` or ``"utilization"``. [-]
    band : str
        ``"A"``, or ``"B"`` for the wider one. [-]

    Returns
    -------
    Rule of VoltageBand
        Lowest and highest. [V]

    Raises
    ------
    OutOfTableError
        No band for this voltage.

    References
    ----------
    ANSI C84.1.
    """
    source = next(iter(profile.voltage.supply.values())).source
    return row(
        profile.voltage.supply, (nominal_v, place, band), what="supply voltage", source=source
    )


@dataclass(frozen=True)
class RunResistance:
    """Resistance of one conductor of a run, one way. [Ω]."""

    resistance_ohm: float
    source: Source


def design_resistance_ohm(
    profile: CodeProfile, size: str, material: str, length_m: float
) -> RunResistance:
    """Direct-current resistance at 75 °C, as a design calculation takes it.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    size : str
        Conductor size, such as ``"6 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : float
        Length along the run, one way. [m]

    Returns
    -------
    RunResistance
        Resistance. [Ω]

    References
    ----------
    NEC 2023 chapter 9 table 8.
    """
    rule = profile.conductors.resistance_ohm_per_kft
    sizes = row(rule.value, material, what="material", source=rule.source)
    per_kft = row(sizes, size, what="size", source=rule.source)
    return RunResistance(per_kft * length_m / M_PER_KFT, rule.source)


def design_ohm_per_m(profile: CodeProfile, material: str) -> Mapping[str, float]:
    """Direct-current resistance of a meter of every size at 75 °C, smallest size first.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    material : str
        ``"copper"`` or ``"aluminum"``. [-]

    Returns
    -------
    Mapping
        Size, then resistance of one conductor. [Ω/m]

    Raises
    ------
    OutOfTableError
        The material is not in the table.

    References
    ----------
    NEC 2023 chapter 9 table 8.
    """
    rule = profile.conductors.resistance_ohm_per_kft
    sizes = row(rule.value, material, what="material", source=rule.source)
    return {size: per_kft / M_PER_KFT for size, per_kft in sizes.items()}
