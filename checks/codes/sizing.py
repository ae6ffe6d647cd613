"""Conductor against load and device: largest load, highest device, smallest conductor."""

from dataclasses import replace

from checks.codes.ampacity import Ampacity, Wiring, conductor_ampacity
from checks.codes.answer import SizeAnswer, Worked
from checks.codes.profile import CodeProfile
from checks.codes.table import band, row
from checks.errors import NoneLargeEnoughError, OutOfTableError


def largest_continuous_load_a(profile: CodeProfile, ampacity: Ampacity) -> Worked:
    """Largest continuous load that the conductor may carry.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    ampacity : Ampacity
        What the conductor may carry here.

    Returns
    -------
    Worked
        Load. [A]

    References
    ----------
    NEC 2023 210.19(A): 125 % before correction at the terminals, 100 % after it.
    """
    before, after = profile.overcurrent.continuous_ratio, profile.overcurrent.corrected_ratio
    at_terminals = ampacity.termination_a.value / before.value
    along = ampacity.corrected_a.value / after.value
    value = min(at_terminals, along)
    final = ampacity.final_a
    return Worked(
        value,
        (before.source, after.source, *final.sources),
        (
            *ampacity.termination_a.working,
            f"{ampacity.termination_a.value:g} A / {before.value:g} = {at_terminals:.4g} A "
            f"({before.source})",
            *ampacity.corrected_a.working,
            f"{ampacity.corrected_a.value:.4g} A / {after.value:g} = {along:.4g} A "
            f"({after.source})",
            f"largest continuous load: the lesser, {value:.4g} A",
        ),
    )


def overcurrent_allowed_a(
    profile: CodeProfile,
    wiring: Wiring,
    ampacity: Ampacity,
    *,
    is_shared_by_receptacles: bool = False,
) -> Worked:
    """Highest overcurrent device that may protect a conductor.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    wiring : Wiring
        How it is installed.
    ampacity : Ampacity
        What it may carry here.
    is_shared_by_receptacles : bool
        Whether the circuit supplies more than one receptacle for portable loads.

    Returns
    -------
    Worked
        Rating. [A]

    Raises
    ------
    OutOfTableError
        The ampacity lies beyond the standard ratings that are known here.

    References
    ----------
    NEC 2023 240.4(B), 240.4(D), 240.6(A).
    """
    rules = profile.overcurrent
    final = ampacity.final_a
    rating, line = _standard_for(profile, final.value, is_shared_by_receptacles)
    sources = [rules.next_size_up_a.source, rules.standard_a.source, *final.sources]
    lines = [*final.working, line]
    cap = rules.small_conductor_cap_a.value.get(wiring.material, {}).get(wiring.size)
    if cap is not None:
        rating = min(rating, cap)
        clause = rules.small_conductor_cap_a.source
        sources.append(clause)
        lines.append(f"{wiring.size} {wiring.material}: at most {cap} A ({clause})")
    return Worked(float(rating), tuple(sources), tuple(lines))


def _standard_for(profile: CodeProfile, amps: float, is_shared: bool) -> tuple[int, str]:
    """Return the next standard rating up where allowed, else the next one down."""
    rules = profile.overcurrent
    is_upward = not is_shared and amps <= rules.next_size_up_a.value
    if is_upward:
        fitting = [each for each in rules.standard_a.value if each >= amps]
        clause = rules.next_size_up_a.source
    else:
        fitting = [each for each in reversed(rules.standard_a.value) if each <= amps]
        clause = rules.standard_a.source
    if not fitting:
        raise OutOfTableError(
            f"no standard rating is known here for an ampacity of {amps:.4g} A",
            where="Breaker, rating",
            remedy="Check size and correction; beyond the table an engineer decides",
        )
    way = "up" if is_upward else "down"
    return fitting[0], f"{amps:.4g} A: standard rating {way} {fitting[0]} A ({clause})"


def dwelling_service_size(profile: CodeProfile, rating_a: float, material: str) -> SizeAnswer:
    """Least size of the conductors of a dwelling's service, or of a feeder of its whole load.

    Only where no ambient or bundling correction applies.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating of service or feeder. [A]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]

    Returns
    -------
    SizeAnswer
        Size. [-]

    Raises
    ------
    OutOfTableError
        The code's table was not read, or does not reach so far.

    References
    ----------
    NEC 2023 table 310.12(A).
    """
    rule = profile.conductors.dwelling_service
    if rule is None:
        raise OutOfTableError(
            f"the table of {profile.title} for a dwelling's service was not read",
            where="Service, conductors",
            remedy="Size them by the ampacity table",
        )
    bands = row(rule.value, material, what="material", source=rule.source)
    size = band(bands, rating_a, what="service, A", source=rule.source)
    line = f"dwelling service {rating_a:g} A: {size} {material} ({rule.source})"
    return SizeAnswer(size, (rule.source,), (line,))


def minimum_size(
    profile: CodeProfile, wiring: Wiring, load_a: float, breaker_a: float
) -> SizeAnswer:
    """Smallest conductor for a continuous load on a breaker, installed as the given wiring.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    wiring : Wiring
        How it is installed; its size is not used.
    load_a : float
        Continuous load. [A]
    breaker_a : float
        Rating of the overcurrent device. [A]

    Returns
    -------
    SizeAnswer
        Size, with the working of that size. [-]

    Raises
    ------
    NoneLargeEnoughError
        No size of the table is large enough.
    OutOfTableError
        The tables do not answer it otherwise.

    References
    ----------
    NEC 2023 210.19(A), 240.4, table 310.16.
    """
    rule = profile.conductors.ampacity_a
    for size in row(rule.value, wiring.material, what="material", source=rule.source):
        trial = replace(wiring, size=size)
        ampacity = conductor_ampacity(profile, trial, breaker_a)
        load = largest_continuous_load_a(profile, ampacity)
        device = overcurrent_allowed_a(profile, trial, ampacity)
        if load.value >= load_a and device.value >= breaker_a:
            return SizeAnswer(size, load.sources + device.sources, load.working)
    raise NoneLargeEnoughError(
        f"no conductor of {rule.source} carries {load_a:g} A on a {breaker_a:g} A breaker here",
        where="Run, size",
        remedy="Check ambient temperature and the number of conductors",
    )
