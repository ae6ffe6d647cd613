"""Room in the panel by its measured demand; whole-service load management."""

from dataclasses import dataclass

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.profile import CodeProfile, Rule
from checks.errors import OutOfRangeError

__all__ = [
    "MeasuredDemand",
    "headroom_a",
    "largest_charger_that_fits_a",
    "managed_service",
    "measured_demand",
    "record_allowed",
]


@dataclass(frozen=True)
class MeasuredDemand:
    """What a measured demand and a new load add up to, one total a reading of the text.

    Parameters
    ----------
    totals_a : tuple of float
        Total, one a reading, the lenient one first. [A]
    headroom_a : float
        Rating less the factored demand; negative when there is none. [A]
    ruling : Ruling
        Whether it fits: yes, no, or read two ways.
    working : tuple of str
        One line a step.
    """

    totals_a: tuple[float, ...]
    headroom_a: float
    ruling: Ruling
    working: tuple[str, ...]


def headroom_a(
    profile: CodeProfile, rating_a: float, demand_a: float, *, is_measured: bool = True
) -> Worked:
    """Room that the existing demand leaves.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating of service or panel, the lesser of device and conductors. [A]
    demand_a : float
        Highest demand of the highest loaded line. [A]
    is_measured : bool
        Measured, which counts with a margin; or else calculated by the code, which does not. [-]

    Returns
    -------
    Worked
        Room for new load; negative when there is none. [A]

    Raises
    ------
    OutOfRangeError
        The rating is not above 0, or the demand is below 0.

    References
    ----------
    NEC 2023 220.87.

    Examples
    --------
    100 A less 1.25 × 40 A:

    >>> from checks.codes import profile
    >>> headroom_a(profile("nec_2023"), 100.0, 40.0).value
    50.0
    """
    if rating_a <= 0 or demand_a < 0:
        raise OutOfRangeError(
            f"a rating of {rating_a:g} A with a demand of {demand_a:g} A is not possible",
            where="Panel, load",
            remedy="Enter the rating from the label and the highest demand on record",
        )
    rule = profile.load.measured_ratio if is_measured else profile.load.calculated_ratio
    kind = "measured" if is_measured else "calculated"
    factored = demand_a * rule.value
    value = rating_a - factored
    lines = (
        f"{kind} demand {demand_a:g} A × {rule.value:g} = {factored:g} A ({rule.source})",
        f"rating {rating_a:g} A − {factored:g} A = {value:g} A of room",
    )
    return Worked(value, (rule.source,), lines, rule.force)


def _new_load_ratios(profile: CodeProfile, *, is_measured: bool) -> Rule[tuple[float, ...]]:
    rules = profile.load
    return rules.new_load_ratios if is_measured else rules.new_load_on_calculated_ratios


def measured_demand(
    profile: CodeProfile,
    rating_a: float,
    demand_a: float,
    new_load_a: float,
    *,
    is_measured: bool = True,
) -> MeasuredDemand:
    """Whether a new continuous load fits on top of the existing demand.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating of service or panel. [A]
    demand_a : float
        Highest measured demand of the highest loaded line. [A]
    new_load_a : float
        Rated output of the new charger. [A]
    is_measured : bool
        As for `headroom_a`. [-]

    Returns
    -------
    MeasuredDemand
        Totals [A], headroom [A], ruling and working.

    References
    ----------
    NEC 2023 220.87; whether the new continuous load takes its own 125 % is read both ways.
    """
    room = headroom_a(profile, rating_a, demand_a, is_measured=is_measured)
    ratios = _new_load_ratios(profile, is_measured=is_measured)
    factored = rating_a - room.value
    totals = tuple(factored + new_load_a * ratio for ratio in ratios.value)
    fitting = [total <= rating_a for total in totals]
    outcome = Outcome.READ_TWO_WAYS
    if all(fitting):
        outcome = Outcome.YES
    elif not any(fitting):
        outcome = Outcome.NO
    lines = tuple(
        f"new load {new_load_a:g} A × {ratio:g} + {factored:g} A = {total:g} A, "
        f"{'fits' if total <= rating_a else 'exceeds'} {rating_a:g} A"
        for ratio, total in zip(ratios.value, totals, strict=True)
    )
    sources = room.sources
    if outcome is Outcome.READ_TWO_WAYS:
        sources = (ratios.source, *sources)
    ruling = Ruling(outcome, lines[-1], sources, room.force)
    return MeasuredDemand(totals, room.value, ruling, (*room.working, *lines))


def largest_charger_that_fits_a(
    profile: CodeProfile, rating_a: float, demand_a: float, *, is_measured: bool = True
) -> tuple[Worked, ...]:
    """Largest charger output that fits, one a reading of the text, the lenient one first.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating of service or panel. [A]
    demand_a : float
        Highest demand of the highest loaded line. [A]
    is_measured : bool
        As for `headroom_a`. [-]

    Returns
    -------
    tuple of Worked
        Output; 0 where nothing fits. [A]

    References
    ----------
    NEC 2023 220.87.
    """
    room = headroom_a(profile, rating_a, demand_a, is_measured=is_measured)
    ratios = _new_load_ratios(profile, is_measured=is_measured)
    return tuple(
        Worked(
            max(room.value, 0.0) / ratio,
            room.sources,
            (*room.working, f"{max(room.value, 0.0):g} A of room / {ratio:g}"),
            room.force,
        )
        for ratio in ratios.value
    )


def record_allowed(profile: CodeProfile, days: float, *, is_generating: bool) -> Ruling:
    """Whether a record of demand is long enough to rest a load on.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    days : float
        Length of the record. [d]
    is_generating : bool
        Whether anything on site generates or shaves peaks. [-]

    Returns
    -------
    Ruling
        Yes or no. [-]

    References
    ----------
    NEC 2023 220.87 and its exception; CE Code 2021 8-106 8).
    """
    year, short = profile.load.record_days, profile.load.short_record_days
    if days >= year.value:
        return Ruling(Outcome.YES, f"{days:g} days of demand", (year.source,))
    if short is None or days < short.value:
        least = year if short is None else short
        why = f"{days:g} days of demand are fewer than the {least.value:g} that are asked for"
        return Ruling(Outcome.NO, why, (least.source,))
    if is_generating:
        why = "a short record does not count where something on site generates or shaves peaks"
        return Ruling(Outcome.NO, why, (short.source,))
    return Ruling(Outcome.YES, f"{days:g} days, nothing on site generates", (short.source,))


def managed_service(profile: CodeProfile, rating_a: float, setpoint_a: float) -> Ruling:
    """Whether load management that holds the whole service to a setpoint keeps its rating.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    rating_a : float
        Rating of the service. [A]
    setpoint_a : float
        The most that the system lets flow. [A]

    Returns
    -------
    Ruling
        Yes or no. [-]

    References
    ----------
    NEC 2023 220.70, 750.30, 625.42(A); CE Code 2021 8-106 10), 8-500.

    Examples
    --------
    >>> from checks.codes import profile
    >>> str(managed_service(profile("nec_2023"), 100.0, 80.0).outcome)
    'yes'
    """
    rule = profile.load.managed_ratio
    factored = setpoint_a * rule.value
    fits = factored <= rating_a
    why = (
        f"setpoint {setpoint_a:g} A × {rule.value:g} = {factored:g} A, "
        f"{'fits' if fits else 'exceeds'} {rating_a:g} A"
    )
    return Ruling(Outcome.YES if fits else Outcome.NO, why, (rule.source,), rule.force)
