"""What a charging point gives: its power, and the range and time that follow; no verdict."""

from collections.abc import Iterable
from typing import Final

from checks import codes
from checks.assess.anew import owed_words
from checks.assess.model import Assessment
from checks.check import Situation
from checks.electrical.energy import (
    COMMON_CONSUMPTION,
    CONSUMPTION_SOURCE,
    EFFICIENCY_SOURCE,
    FULL_PCT,
    Interval,
    charging_time_h,
    efficiency,
    plausible_range_per_hour_km,
    power_kw,
    range_per_hour_km,
)
from checks.quantity import Amount, amount, expanded, nominal
from checks.record import SITE, Decision, Visit
from checks.source import Source
from checks.stations.charger.signals import offered_a
from checks.stations.circuit_facts import charger_load_a, is_setting_read, nominal_v
from checks.stations.group import PANEL, SERVICE
from checks.units import Number, from_si, to_si
from checks.verdict import Shown

ENERGIES_KWH: Final = (10.0, 30.0, 60.0)  # own judgement: a day's driving, much, a whole battery
NO_PROMISE: Final = (
    "Worked out from what is recorded, and no promise. Whether anybody may charge here is said by "
    "the verdict and its findings, never by these numbers."
)
RESTS_ON: Final = (
    "A vehicle takes less than it is offered where its own charger is smaller, a limit is set in "
    "it, its battery is cold or hot, or nearly full: above about 90 % every vehicle tapers.",
    "Range by the labels of the years 2023 and 2024, energy from the wall: 17.0 kWh/100 km "
    "(27.4 kWh/100 mi) for a common compact crossover, 15.0 to 39.5 kWh/100 km (24.1 to "
    "63.6 kWh/100 mi) from the thriftiest to the thirstiest. Cold, speed and load make it less.",
)
SOURCES: Final[tuple[Source, ...]] = (EFFICIENCY_SOURCE, CONSUMPTION_SOURCE)


class Refused(Shown):
    """What is not worked out here, and why; the name is of a place or of charging points."""

    name: str
    why: str


class Expected(Shown):
    """What one charging point gives a vehicle that takes all it is offered.

    Parameters
    ----------
    name : str
        The charging point, or several that are alike.
    power : Amount
        From the wall; with its uncertainty where volts or current were measured.
    battery_kwh : Interval
        What enters the battery in an hour, at least and at most. [kWh]
    range_km, range_mi : float
        What an hour adds for a common vehicle. [km, mi]
    hours : tuple of Interval
        Time for each of `ENERGIES_KWH` into the battery, shortest and longest. [h]
    lines : tuple of (str, str)
        Label and words: the numbers, and what each rests on.
    """

    name: str
    power: Amount
    battery_kwh: Interval
    range_km: float
    range_mi: float
    hours: tuple[Interval, ...]
    lines: tuple[tuple[str, str], ...]


def expected(visit: Visit, assessment: Assessment) -> tuple[Expected | Refused, ...]:
    """Return for each charging point what it gives, or why that is not said; alike ones together.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means: where something grave was found nothing is promised.
    """
    site = Situation(visit, codes.profile(visit.code), SITE)
    return _gathered(_expected(_alone(here), assessment) for here in site.points)


def _gathered(each: Iterable[Expected | Refused]) -> tuple[Expected | Refused, ...]:
    """Say once what is the same at several points, in the order of the record."""
    found: dict[Expected | Refused, list[str]] = {}
    for one in each:
        found.setdefault(one.model_copy(update={"name": ""}), []).append(one.name)
    return tuple(one.model_copy(update={"name": ", ".join(names)}) for one, names in found.items())


def _alone(here: Situation) -> Situation:
    """Return the point with readings of its own, so that what is unfit is told of it alone."""
    return Situation(here.visit, here.code, here.subject)


def barred_because(visit: Visit, assessment: Assessment, points: Iterable[str]) -> str:
    """Return why nobody may count on charging at these points; empty where nothing is known."""
    if visit.signoff is not None and visit.signoff.decision is Decision.KEEP_OUT:
        return "It was decided to keep it out of service"
    held = [visit.point(p) for p in points]
    subjects = {SITE, *(p.id for p in held), *(p.panel for p in held)}
    grave = [
        f.row.title
        for f in assessment.findings
        if f.severity.is_grave and f.row.subject in subjects
    ]
    if grave:
        return f"Do not charge here until this is mended: {', '.join(grave)}"
    there = {p.id for p in held}
    return next((why for r in assessment.causes if r.point in there for why in r.barred), "")


def _expected(here: Situation, assessment: Assessment) -> Expected | Refused:
    volts, of_volts = volts_here(here)
    amps, of_amps = _amps(here)
    kw = 0.0 if amps is None else power_kw(volts, amps)
    low_kw, high_kw = nominal(kw) - expanded(kw), nominal(kw) + expanded(kw)
    why = barred_because(here.visit, assessment, [here.subject])
    if not why and amps is None:
        why = owed_words(here) or "Record the charger's setting or its nameplate first"
    elif not why and nominal(kw) <= 0:
        why = "It offered no current when its signal was read"
    elif not why and low_kw <= 0:
        why = "The readings are too uncertain: read volts and current with more digits"
    if why or amps is None:
        return Refused(name=here.point.name, why=why)
    shares = efficiency(here.point.level)
    range_m = to_si(range_per_hour_km(nominal(kw), COMMON_CONSUMPTION), "km")
    made = Expected(
        name=here.point.name,
        power=amount(1000 * kw, "kW"),
        battery_kwh=Interval(low_kw * shares.low, high_kw * shares.high),
        range_km=from_si(range_m, "km"),
        range_mi=from_si(range_m, "mi"),
        hours=tuple(_time_h(each, low_kw, high_kw, here.point.level) for each in ENERGIES_KWH),
        lines=(),
    )
    basis = (
        ("Volts", f"{amount(volts, 'V')}, {of_volts}"),
        ("Current", f"{amount(amps, 'A')}, {of_amps}"),
    )
    return made.model_copy(update={"lines": (*_numbers(made, nominal(kw)), *basis, *_less(here))})


def volts_here(here: Situation) -> tuple[Number, str]:
    """Return the volts to reckon with, and what they are: the best that was read, else nominal."""
    loaded_v = here.measured("outlet.loaded_voltage.outlet_loaded")
    if loaded_v is not None and nominal(loaded_v) > 0:
        amps = here.measured("outlet.loaded_voltage.current")
        at = "" if amps is None else f"measured under load at {nominal(amps):.1f} A"
        return loaded_v, at or "measured under load"
    pair = "line_neutral" if here.point.level == 1 else "line_line"
    for reference in ("outlet.loaded_voltage.outlet_no_load", f"outlet.no_load_voltage.{pair}"):
        volts = here.measured(reference)
        if volts is not None and nominal(volts) > 0:
            return volts, "measured without load: less is left under load"
    return nominal_v(here), "nominal, not measured"


def _amps(here: Situation) -> tuple[Number | None, str]:
    """Return the current to reckon with, and what it is: as offered, else as set, else as rated."""
    offer_a = offered_a(here)
    if offer_a is not None:
        return offer_a, "offered by the pilot signal"
    if is_setting_read(here):
        return charger_load_a(here), "as it is set; what it offers was not measured"
    return charger_load_a(here), "on the nameplate; how it is set was not read"


def _time_h(energy_kwh: float, low_kw: float, high_kw: float, level: int) -> Interval:
    whole = (energy_kwh, 0.0, FULL_PCT)
    return Interval(
        charging_time_h(*whole, high_kw, level).low, charging_time_h(*whole, low_kw, level).high
    )


def _numbers(made: Expected, kw: float) -> tuple[tuple[str, str], ...]:
    """Word the numbers, each with its unit."""
    low_km, high_km = plausible_range_per_hour_km(kw)
    low_mi, high_mi = (from_si(to_si(km, "km"), "mi") for km in (low_km, high_km))
    times = [
        f"{energy:g} kWh: {span.low:.1f} to {span.high:.1f} h"
        for energy, span in zip(ENERGIES_KWH, made.hours, strict=True)
    ]
    low, high = made.battery_kwh
    return (
        ("Power", str(made.power) if made.power.expanded else f"about {made.power}"),
        ("In an hour", f"{low:.1f} to {high:.1f} kWh into the battery"),
        (
            "Range",
            f"{made.range_km:.0f} km ({made.range_mi:.0f} mi) in an hour for a common vehicle, "
            f"{low_km:.0f} to {high_km:.0f} km ({low_mi:.0f} to {high_mi:.0f} mi) over all",
        ),
        ("Time", "; ".join(times)),
    )


def _less(here: Situation) -> tuple[tuple[str, str], ...]:
    """Say what makes it less here, and what was read with a meter that proves nothing."""
    lines = []
    is_held = here.yes("charger.together.is_held") is not False
    if is_held and any(not group.why_not(here) for group in (SERVICE, PANEL)):
        lines.append(("Shared", "Load management may give it less while others draw current"))
    if here.point.level == 1:
        lines.append(("Level 1", "What the vehicle itself uses weighs more here: it may be less"))
    lines += [("Not proved", why) for why in sorted(here.unfit)]
    return tuple(lines)
