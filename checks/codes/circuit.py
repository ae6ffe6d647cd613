"""The circuit: continuous load, breaker, circuit of its own, disconnect."""

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.profile import CodeProfile
from checks.codes.voltage import (
    DropLimits,
    RunResistance,
    design_ohm_per_m,
    design_resistance_ohm,
    drop_current_a,
    drop_limits,
    supply_band,
)
from checks.errors import OutOfTableError

__all__ = [
    "DropLimits",
    "RunResistance",
    "design_ohm_per_m",
    "design_resistance_ohm",
    "disconnect_required",
    "drop_current_a",
    "drop_limits",
    "individual_circuit_required",
    "is_standard",
    "largest_charger_a",
    "next_standard_a",
    "required_circuit_a",
    "required_feeder_a",
    "supply_band",
]


def required_circuit_a(
    profile: CodeProfile, load_a: float, *, is_fully_rated: bool = False
) -> Worked:
    """Least rating of the circuit for a continuous load.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    load_a : float
        Continuous load: the charger's configured output. [A]
    is_fully_rated : bool
        Device and assembly are listed for continuous full load. [-]

    Returns
    -------
    Worked
        Least rating. [A]

    References
    ----------
    NEC 2023 210.20(A), 625.41; CE Code 2021 8-104 5), 6).

    Examples
    --------
    >>> from checks.codes import profile
    >>> required_circuit_a(profile("nec_2023"), 48.0).value
    60.0
    """
    rules = profile.overcurrent
    rule = rules.fully_rated_ratio if is_fully_rated else rules.continuous_ratio
    value = load_a * rule.value
    return Worked(
        value,
        (rule.source,),
        (f"continuous load {load_a:g} A × {rule.value:g} = {value:g} A ({rule.source})",),
        rule.force,
    )


def required_feeder_a(
    profile: CodeProfile, continuous_a: float, noncontinuous_a: float = 0.0
) -> Worked:
    """Least rating of a feeder or service for continuous and other load together.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    continuous_a : float
        Continuous load, chargers included. [A]
    noncontinuous_a : float
        All other load. [A]

    Returns
    -------
    Worked
        Least rating. [A]

    References
    ----------
    NEC 2023 625.41, 215.3, 230.42; CE Code 2021 8-104 5), 6).

    Examples
    --------
    >>> from checks.codes import profile
    >>> required_feeder_a(profile("nec_2023"), 40.0, 30.0).value
    80.0
    """
    rule = profile.overcurrent.continuous_ratio
    value = noncontinuous_a + continuous_a * rule.value
    line = (
        f"{noncontinuous_a:g} A + continuous {continuous_a:g} A × {rule.value:g} = {value:g} A "
        f"({rule.source})"
    )
    return Worked(value, (rule.source,), (line,), rule.force)


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
    """Whether a rating is one of the code's standard ratings.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating on the device. [A]

    Returns
    -------
    bool
        True when a device of this rating is made.

    References
    ----------
    NEC 2023 240.6(A).
    """
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
    here = f"{output_a:g} A at {nominal_v:g} V"
    if not is_required:
        why = f"{here} is not beyond {bound}: the circuit may be shared"
    elif amps.value.value:
        why = f"{here}: beyond {bound} the outlet needs a branch circuit that supplies nothing else"
    else:
        why = f"{here}: whatever its rating, the circuit supplies nothing else"
    outcome = Outcome.YES if is_required else Outcome.NO
    return Ruling(outcome, why, (amps.source,), amps.force)


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
    NEC 2023 625.43; CE Code 2021 86-304.
    """
    amps, volts = profile.charging.disconnect_a, profile.charging.disconnect_v_to_ground
    is_required = amps.value.is_passed_by(output_a) or volts.value.is_passed_by(volts_to_ground_v)
    bound = f"{amps.value.value:g} A or {volts.value.value:g} V to ground"
    if amps.value.is_included:
        bound = f"{amps.value.value:g} A, which counts, or {volts.value.value:g} V to ground"
    load = f"{output_a:g} A with {volts_to_ground_v:g} V to ground"
    why = f"{load} is beyond {bound}" if is_required else f"{load} is not beyond {bound}"
    sources, sight = [amps.source], profile.charging.is_disconnect_in_sight
    if is_required and sight.value:
        why += "; it must be within sight of the equipment"
        sources.append(sight.source)
    outcome = Outcome.YES if is_required else Outcome.NO
    return Ruling(outcome, why, tuple(sources), amps.force)
