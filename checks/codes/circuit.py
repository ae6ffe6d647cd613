"""The circuit: continuous load, breaker, circuit of its own, disconnect, drop limits, impedance."""

from dataclasses import dataclass

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.profile import CodeProfile, Rule, VoltageBand
from checks.codes.table import row
from checks.errors import OutOfTableError
from checks.source import Source

M_PER_KFT = 304.8


def required_circuit_a(profile: CodeProfile, load_a: float) -> Worked:
    """Least rating of the circuit for a continuous load.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    load_a : float
        Continuous load: the charger's configured output. [A]

    Returns
    -------
    Worked
        Least rating. [A]

    References
    ----------
    NEC 2023 210.20(A), 625.41.

    Examples
    --------
    >>> from checks.codes import profile
    >>> required_circuit_a(profile("nec_2023"), 48.0).value
    60.0
    """
    rule = profile.overcurrent.continuous_ratio
    value = load_a * rule.value
    return Worked(
        value,
        (rule.source,),
        (f"continuous load {load_a:g} A × {rule.value:g} = {value:g} A ({rule.source})",),
        rule.force,
    )


def next_standard_a(profile: CodeProfile, amps: float) -> Worked:
    """Next standard rating at or above a current.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    amps : float
        Current. [A]

    Returns
    -------
    Worked
        Standard rating. [A]

    Raises
    ------
    OutOfTableError
        The current lies above the ratings that are known here.

    References
    ----------
    NEC 2023 240.6(A).
    """
    rule = profile.overcurrent.standard_a
    for rating in rule.value:
        if rating >= amps:
            line = f"next standard rating at or above {amps:g} A: {rating} A ({rule.source})"
            return Worked(float(rating), (rule.source,), (line,), rule.force)
    raise OutOfTableError(
        f"{amps:g} A lies above the standard ratings known here, up to {rule.value[-1]} A",
        where="Breaker, rating",
        remedy="Check the load; beyond the table an engineer decides",
    )


def is_standard(profile: CodeProfile, rating_a: float) -> bool:
    """Whether a rating is one of the code's standard ratings."""
    return rating_a in profile.overcurrent.standard_a.value


def largest_charger_a(profile: CodeProfile, breaker_a: float) -> Worked:
    """Largest continuous output that a breaker may supply.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    breaker_a : float
        Rating of the overcurrent device. [A]

    Returns
    -------
    Worked
        Output. [A]

    References
    ----------
    NEC 2023 210.20(A), 625.41.
    """
    rule = profile.overcurrent.continuous_ratio
    value = breaker_a / rule.value
    line = f"breaker {breaker_a:g} A / {rule.value:g} = {value:g} A ({rule.source})"
    return Worked(value, (rule.source,), (line,), rule.force)


def individual_circuit_required(profile: CodeProfile, output_a: float, nominal_v: float) -> Ruling:
    """Whether the outlet must have a branch circuit of its own.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    output_a : float
        Rating of the EV supply equipment. [A]
    nominal_v : float
        Nominal voltage of the outlet. [V]

    Returns
    -------
    Ruling
        Yes or no. [-]

    References
    ----------
    NEC 2023 625.40.
    """
    amps, volts = profile.charging.individual_above_a, profile.charging.individual_above_v
    is_required = amps.value.is_passed_by(output_a) or volts.value.is_passed_by(nominal_v)
    bound = f"{amps.value.value:g} A or {volts.value.value:g} V"
    return Ruling(
        Outcome.YES if is_required else Outcome.NO,
        f"{output_a:g} A at {nominal_v:g} V: beyond {bound} the outlet needs a branch circuit "
        "that supplies nothing else"
        if is_required
        else f"{output_a:g} A at {nominal_v:g} V is not beyond {bound}: the circuit may be shared",
        (amps.source,),
        amps.force,
    )


def disconnect_required(profile: CodeProfile, output_a: float, volts_to_ground_v: float) -> Ruling:
    """Whether the equipment must have a disconnecting means of its own.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    output_a : float
        Rating of the EV supply equipment. [A]
    volts_to_ground_v : float
        Highest nominal voltage to ground. [V]

    Returns
    -------
    Ruling
        Yes or no. [-]

    References
    ----------
    NEC 2023 625.43.
    """
    amps, volts = profile.charging.disconnect_a, profile.charging.disconnect_v_to_ground
    is_required = amps.value.is_passed_by(output_a) or volts.value.is_passed_by(volts_to_ground_v)
    bound = f"{amps.value.value:g} A or {volts.value.value:g} V to ground"
    is_beyond = "beyond" if is_required else "not beyond"
    return Ruling(
        Outcome.YES if is_required else Outcome.NO,
        f"{output_a:g} A with {volts_to_ground_v:g} V to ground is {is_beyond} {bound}",
        (amps.source,),
        amps.force,
    )


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
    NEC 2023 210.19 and 215.2 informational notes: a recommendation, not a rule.
    """
    return DropLimits(profile.voltage.branch_drop_pct, profile.voltage.total_drop_pct)


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
class RunImpedance:
    """Resistance and reactance of one conductor of a run, one way. [Ω]."""

    resistance_ohm: float
    reactance_ohm: float
    source: Source


def design_resistance_ohm(
    profile: CodeProfile, size: str, material: str, length_m: float
) -> RunImpedance:
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
    RunImpedance
        Resistance; no reactance. [Ω]

    References
    ----------
    NEC 2023 chapter 9 table 8.
    """
    rule = profile.conductors.resistance_ohm_per_kft
    sizes = row(rule.value, material, what="material", source=rule.source)
    per_kft = row(sizes, size, what="size", source=rule.source)
    return RunImpedance(per_kft * length_m / M_PER_KFT, 0.0, rule.source)


def design_impedance_ohm(
    profile: CodeProfile, size: str, material: str, length_m: float, raceway: str
) -> RunImpedance:
    """Alternating-current resistance and reactance at 75 °C in a raceway.

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
    raceway : str
        ``"PVC"`` or ``"steel"``. [-]

    Returns
    -------
    RunImpedance
        Resistance and reactance. [Ω]

    References
    ----------
    NEC 2023 chapter 9 table 9.
    """
    rule = profile.conductors.impedance_ohm_per_kft
    metals = row(rule.value, raceway, what="raceway", source=rule.source)
    sizes = row(metals, material, what="material", source=rule.source)
    cell = row(sizes, size, what="size", source=rule.source)
    length_kft = length_m / M_PER_KFT
    return RunImpedance(cell.resistance * length_kft, cell.reactance * length_kft, rule.source)
