"""Room in the panel: measured demand, and the optional calculation for a dwelling."""

from dataclasses import dataclass

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.profile import CodeProfile, Rule
from checks.errors import OutOfRangeError


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
    rule = profile.load.measured_ratio
    kind = "measured"
    if not is_measured:
        rule, kind = Rule(1.0, profile.load.general_bands.source), "calculated"
    factored = demand_a * rule.value
    value = rating_a - factored
    lines = (
        f"{kind} demand {demand_a:g} A × {rule.value:g} = {factored:g} A ({rule.source})",
        f"rating {rating_a:g} A − {factored:g} A = {value:g} A of room",
    )
    return Worked(value, (rule.source,), lines, rule.force)


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
    ratios = profile.load.new_load_ratios
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
    ratios = profile.load.new_load_ratios
    return tuple(
        Worked(
            max(room.value, 0.0) / ratio,
            room.sources,
            (*room.working, f"{max(room.value, 0.0):g} A of room / {ratio:g}"),
            room.force,
        )
        for ratio in ratios.value
    )


@dataclass(frozen=True)
class DwellingLoad:
    """What a dwelling has, for the optional calculation.

    Parameters
    ----------
    floor_area_m2 : float
        Outside dimensions, without open porches and garages. [m²]
    appliance_circuits, laundry_circuits : int
        Circuits that count a fixed load each.
    nameplates_va : mapping of str to float
        Every fixed appliance, range, dryer, water heater and motor, by name. [VA]
    heating_va, heating_units : float, int
        Electric space heating, and its separately controlled units. [VA]
    cooling_va : float
        Air conditioning. [VA]
    charger_va : float
        EV supply equipment; 0 without. [VA]
    """

    floor_area_m2: float
    appliance_circuits: int
    laundry_circuits: int
    nameplates_va: tuple[tuple[str, float], ...]
    heating_va: float = 0.0
    heating_units: int = 0
    cooling_va: float = 0.0
    charger_va: float = 0.0


def optional_dwelling_va(profile: CodeProfile, dwelling: DwellingLoad) -> Worked:
    """Load of a dwelling by the optional method.

    A charger counts at least the floor that another clause sets; whether that floor reaches into
    this method is read two ways, and the cautious reading is taken.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    dwelling : DwellingLoad
        What it has.

    Returns
    -------
    Worked
        Load. [VA]

    References
    ----------
    NEC 2023 220.82, 220.57; worked example in Informative Annex D, D2(a).
    """
    rules = profile.load
    lighting = dwelling.floor_area_m2 * rules.dwelling_va_per_m2.value
    circuits = (
        dwelling.appliance_circuits + dwelling.laundry_circuits
    ) * rules.dwelling_circuit_va.value
    charger = max(dwelling.charger_va, rules.charger_least_va.value) if dwelling.charger_va else 0.0
    parts = (
        ("lighting and receptacles", lighting),
        ("small-appliance and laundry circuits", circuits),
        *dwelling.nameplates_va,
        *((("EV supply equipment", charger),) if charger else ()),
    )
    general = sum(va for _, va in parts)
    counted = _by_bands(profile, general)
    climate, climate_line = _climate_va(profile, dwelling)
    total = counted + climate
    sources = [rules.general_bands.source]
    if charger > dwelling.charger_va:
        sources.append(rules.charger_least_va.source)
    lines = (
        *(f"{name}: {va:.0f} VA" for name, va in parts),
        f"general load {general:.0f} VA counts {counted:.0f} VA ({rules.general_bands.source})",
        climate_line,
        f"total {total:.0f} VA",
    )
    return Worked(total, tuple(sources), lines, rules.general_bands.force)


def _by_bands(profile: CodeProfile, va: float) -> float:
    counted, below = 0.0, 0.0
    for each in profile.load.general_bands.value:
        counted += max(0.0, min(va, each.upto) - below) * each.value
        below = each.upto
    return counted


def _climate_va(profile: CodeProfile, dwelling: DwellingLoad) -> tuple[float, str]:
    """Return the larger of heating, by its share, and cooling, and the line that says so."""
    rules = profile.load
    many = dwelling.heating_units >= rules.many_units
    share = rules.heating_many_ratio if many else rules.heating_few_ratio
    heating = dwelling.heating_va * share.value
    value = max(heating, dwelling.cooling_va)
    return value, (
        f"larger of heating {dwelling.heating_va:.0f} VA × {share.value:g} = {heating:.0f} VA "
        f"and cooling {dwelling.cooling_va:.0f} VA: {value:.0f} VA ({share.source})"
    )
