"""The receptacle: against its circuit, for this equipment, and its cover."""

from dataclasses import dataclass

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.profile import CodeProfile, Configuration
from checks.codes.table import row

NOMINAL_V = (120, 208, 240)


def configuration(profile: CodeProfile, name: str) -> Configuration:
    """Contacts and ratings of a receptacle configuration.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]

    Returns
    -------
    Configuration
        Ratings [A, V] and contacts.

    Raises
    ------
    OutOfTableError
        The designation is not known here.

    References
    ----------
    NEMA WD 6.
    """
    rule = profile.receptacles.configurations
    return row(rule.value, name, what="receptacle", source=rule.source)


def receptacle_against_circuit(
    profile: CodeProfile, name: str, breaker_a: float, *, is_single: bool = True
) -> Ruling:
    """Whether the receptacle's rating fits the circuit.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]
    breaker_a : float
        Rating of the overcurrent device. [A]
    is_single : bool
        One receptacle on the circuit; a duplex counts as two. [-]

    Returns
    -------
    Ruling
        Yes when it fits, else no. [-]

    References
    ----------
    NEC 2023 210.21(B)(1), 210.21(B)(3); CE Code 2021 14-600.
    """
    rating_a = configuration(profile, name).rating_a
    if is_single:
        rule = profile.receptacles.is_single_below_allowed
        fits = rating_a >= breaker_a or rule.value
        why = (
            f"a single {name} receptacle is rated {rating_a} A, its circuit {breaker_a:g} A; "
            "it may not be rated below the circuit"
        )
        return Ruling(Outcome.YES if fits else Outcome.NO, why, (rule.source,), rule.force)
    shared = profile.receptacles.shared_a
    allowed = row(shared.value, breaker_a, what="circuit, A", source=shared.source)
    listed = " or ".join(str(each) for each in allowed)
    why = f"two or more receptacles on a {breaker_a:g} A circuit: {listed} A, not {rating_a} A"
    if rating_a in allowed:
        why = f"two or more receptacles on a {breaker_a:g} A circuit may be {listed} A"
    fits = rating_a in allowed
    return Ruling(Outcome.YES if fits else Outcome.NO, why, (shared.source,), shared.force)


def plug_load_limit_a(profile: CodeProfile, name: str, breaker_a: float) -> Worked:
    """Largest continuous load that may be plugged in.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]
    breaker_a : float
        Rating of the overcurrent device. [A]

    Returns
    -------
    Worked
        Load. [A]

    References
    ----------
    NEC 2023 210.20(A), 210.21(B).
    """
    rating_a = configuration(profile, name).rating_a
    device = profile.overcurrent.continuous_ratio
    share = profile.receptacles.continuous_ratio
    by_device, by_receptacle = breaker_a / device.value, rating_a * share.value
    lines = [
        f"breaker {breaker_a:g} A / {device.value:g} = {by_device:g} A ({device.source})",
        f"receptacle {rating_a} A × {share.value:g} = {by_receptacle:g} A ({share.source})",
    ]
    value = min(by_device, by_receptacle)
    lines.append(f"largest plugged-in load: the lesser, {value:g} A")
    return Worked(value, (share.source, device.source), tuple(lines), share.force)


def receptacle_permitted(
    profile: CodeProfile,
    name: str,
    *,
    is_fastened: bool,
    breaker_a: float | None = None,
    is_single: bool | None = None,
) -> Ruling:
    """Whether EV supply equipment may be plugged into this configuration.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]
    is_fastened : bool
        Fastened in place, or else portable. [-]
    breaker_a : float or None
        Rating of the overcurrent device; None when not known. [A]
    is_single : bool or None
        One receptacle on the circuit; None when not known. [-]

    Returns
    -------
    Ruling
        Yes, no, or read two ways. [-]

    References
    ----------
    NEC 2023 625.44(A), 625.44(B); CE Code 2021 86-306.
    """
    found = configuration(profile, name)
    listed = profile.receptacles.fastened if is_fastened else profile.receptacles.portable
    kind = "fastened in place" if is_fastened else "portable"
    if name in listed:
        rule = listed[name]
        outcome = Outcome.YES if rule.value.is_plain else Outcome.READ_TWO_WAYS
        if breaker_a is not None and breaker_a < rule.value.least_circuit_a:
            outcome = Outcome.NO
        if rule.value.is_single_only and is_single is False:
            outcome = Outcome.NO
        return Ruling(outcome, rule.value.why, (rule.source,), rule.force)
    if not found.has_ground:
        reason = "it has no grounding contact, and no adapter can make one"
    elif found.is_locking:
        reason = "it is a locking type"
    else:
        reason = "its configuration is not among those listed"
    any_rule = next(iter(listed.values()))
    why = f"{name} is not permitted for {kind} EV supply equipment: {reason}"
    return Ruling(Outcome.NO, why, (any_rule.source,), any_rule.force)


@dataclass(frozen=True)
class Permits:
    """What a receptacle configuration is good for under a code.

    Parameters
    ----------
    configuration : Configuration
        Ratings and contacts.
    nominal_v : tuple of int
        Nominal voltages that it brings to the plug. [V]
    level : int or None
        Highest charging level; None where it may not be used at all.
    charger_a : Worked
        Largest continuous load on a circuit of its own rating. [A]
    portable, fastened : Ruling
        Whether EV supply equipment of either kind may be plugged in.
    """

    configuration: Configuration
    nominal_v: tuple[int, ...]
    level: int | None
    charger_a: Worked
    portable: Ruling
    fastened: Ruling


def permits(profile: CodeProfile, name: str) -> Permits:
    """Tell what a receptacle configuration permits.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]

    Returns
    -------
    Permits
        Voltages [V], level, largest charger [A], and for which equipment.

    Raises
    ------
    OutOfTableError
        The designation is not known here.

    References
    ----------
    NEMA WD 6; NEC 2023 210.20(A), 210.21(B), 625.44; CE Code 2021 86-306.
    """
    found = configuration(profile, name)
    volts = tuple(each for each in NOMINAL_V if is_voltage_served(profile, name, each))
    portable, fastened = (
        receptacle_permitted(profile, name, is_fastened=is_fastened, breaker_a=found.rating_a)
        for is_fastened in (False, True)
    )
    is_usable = any(each.outcome is not Outcome.NO for each in (portable, fastened))
    level = max((1 if each == NOMINAL_V[0] else 2) for each in volts) if is_usable else None
    limit = plug_load_limit_a(profile, name, found.rating_a)
    return Permits(found, volts, level, limit, portable, fastened)


def is_voltage_served(profile: CodeProfile, name: str, nominal_v: float) -> bool:
    """Whether a configuration brings this nominal voltage to the plug.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    name : str
        Designation, such as ``"14-50"``. [-]
    nominal_v : float
        120, 208 or 240. [V]

    Returns
    -------
    bool
        True when one of its rated voltages is for this nominal voltage. [-]

    References
    ----------
    NEMA WD 6: 125 V class for 120 V, 250 V class for 208 V and 240 V.
    """
    volts = configuration(profile, name).volts
    return any(nominal_v <= rated <= nominal_v * 1.25 for rated in volts)


def cover_required(profile: CodeProfile, place: str, rating_a: float) -> Ruling:
    """Which cover a receptacle needs where it is mounted.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    place : str
        ``"dry"``, ``"damp"`` or ``"wet"``. [-]
    rating_a : float
        Rating of the receptacle. [A]

    Returns
    -------
    Ruling
        Yes with the cover in words, or no where none is asked. [-]

    Raises
    ------
    OutOfTableError
        The place is none of the three.

    References
    ----------
    NEC 2023 406.9(A), 406.9(B).
    """
    rules = profile.receptacles
    source = next(iter(rules.cover.values())).source
    rule = row(rules.cover, place, what="place", source=source)
    if not rule.value:
        return Ruling(Outcome.NO, "a dry place asks for no weatherproof cover", (rule.source,))
    why, sources = rule.value, [rule.source]
    if rating_a <= rules.weather_resistant_upto_a.value:
        why += "; the receptacle of the weather-resistant type"
        sources.append(rules.weather_resistant_upto_a.source)
    return Ruling(Outcome.YES, why, tuple(sources), rule.force)
