"""How the limit of a managed group is shared through a night; a plan under assumptions."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from checks import codes
from checks.assess import energy
from checks.assess.energy import ENERGIES_KWH, Expected, Refused, barred_because, volts_here
from checks.assess.model import Assessment
from checks.check import Situation
from checks.electrical.energy import EFFICIENCY_SOURCE, efficiency
from checks.electrical.pilot import LEAST_A
from checks.electrical.sharing import RULE, TURN, Need, Night, through_a_night
from checks.quantity import nominal
from checks.record import SITE, Visit
from checks.source import Source
from checks.stations.circuit_facts import charger_load_a
from checks.stations.group import PANEL, SERVICE, Group
from checks.verdict import Shown

NIGHT_H: Final = 10.0  # own judgement: from early evening to early morning
DRAWN_KWH: Final = 30.0  # of ENERGIES_KWH, the one that is drawn
RESTS_ON: Final = (
    "A plan under assumptions, and no promise: every vehicle is plugged in for the whole night of "
    "10 h, each needs the same energy in its battery, takes all that its charger is set to, and "
    "of the energy the smallest usual part reaches the battery.",
    "Shared in equal parts, none above what its charger is set to and none below 6 A; whoever has "
    "what it needs leaves its part to the others. The system's own rule may differ.",
)
TURNS: Final = (
    "There is too little for all at once: they take turns, each hour those first that have least."
)
ON_ONE_LINE: Final = (
    "Reckoned as if all were on one line: chargers that are spread over the lines may get more."
)
SOURCES: Final[tuple[Source, ...]] = (RULE, TURN, EFFICIENCY_SOURCE)


class Stretch(Shown):
    """A time through which a current stays as it is. [h, A]."""

    from_h: float
    to_h: float
    current_a: float


class Share(Shown):
    """What one charger gets through the night, or each of several that get the same.

    Parameters
    ----------
    names : tuple of str
        The charging points.
    stretches : tuple of Stretch
        The current of each, without a gap.
    says : str
        What it comes to.
    """

    names: tuple[str, ...]
    stretches: tuple[Stretch, ...]
    says: str


class NightPlan(Shown):
    """How one group's limit is shared through a night in which all are plugged in.

    Parameters
    ----------
    where : str
        What holds the limit: the service or a panel.
    limit_a : float
        The limit as it is set. [A]
    need_kwh, night_h : float
        What each needs in its battery, and how long the night is. [kWh, h]
    shares : tuple of Share
        Of each charger, in the order of the record.
    together : tuple of Stretch
        The sum over the chargers.
    outcomes : tuple of str
        What comes of it for each of `ENERGIES_KWH`.
    rests_on : tuple of str
        The assumptions.
    """

    where: str
    limit_a: float
    need_kwh: float
    night_h: float
    shares: tuple[Share, ...]
    together: tuple[Stretch, ...]
    outcomes: tuple[str, ...]
    rests_on: tuple[str, ...]


def nights(visit: Visit, assessment: Assessment) -> tuple[NightPlan | Refused, ...]:
    """Return the plan of each managed group of two chargers or more, or why there is none.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means: where something grave was found nothing is planned.
    """
    code = codes.profile(visit.code)
    places = [(SERVICE, Situation(visit, code, SITE))]
    places += [(PANEL, Situation(visit, code, panel.id)) for panel in visit.panels]
    held = [(g, s) for g, s in places if not g.why_not(s) and g.members(s)]
    is_nested = len({group.place for group, _ in held}) > 1
    return tuple(
        _plan(group, here, assessment, is_nested=is_nested)
        for group, here in held
        if len(group.members(here)) > 1
    )


def notes(
    found: Sequence[Expected | Refused], plans: Sequence[NightPlan | Refused]
) -> tuple[str, ...]:
    """Return what the numbers rest on, and the sources; nothing where there are no numbers."""
    sources = list(energy.SOURCES if any(isinstance(f, Expected) for f in found) else ())
    said = energy.RESTS_ON if sources else ()
    sources += SOURCES if any(isinstance(p, NightPlan) for p in plans) else ()
    return (*said, *dict.fromkeys(map(str, sources)))


def _plan(
    group: Group, here: Situation, assessment: Assessment, *, is_nested: bool
) -> NightPlan | Refused:
    where = "Service" if group is SERVICE else here.panel.name
    members, limit_a = group.members(here), group.set_a(here)
    why = barred_because(here.visit, assessment, [m.subject for m in members])
    why = why or _why_not(group, here, is_nested=is_nested)
    if why or limit_a is None:
        return Refused(name=where, why=why)
    each = {kwh: _night(members, limit_a, kwh) for kwh in ENERGIES_KWH}
    drawn = each[DRAWN_KWH]
    rests_on = list(RESTS_ON)
    if limit_a < LEAST_A * len(members):
        rests_on.append(TURNS)
    if group.is_upper_bound(here):
        rests_on.append(ON_ONE_LINE)
    sums = [(s.from_h, s.to_h, sum(s.shares_a)) for s in drawn.steps]
    return NightPlan(
        where=where,
        limit_a=limit_a,
        need_kwh=DRAWN_KWH,
        night_h=NIGHT_H,
        shares=tuple(_shares(members, drawn)),
        together=_stretches(sums),
        outcomes=tuple(_outcome(kwh, members, night) for kwh, night in each.items()),
        rests_on=tuple(rests_on),
    )


def _why_not(group: Group, here: Situation, *, is_nested: bool) -> str:
    """Return what is not known, so that no plan can be made; empty where all is there."""
    if is_nested:
        return "One limit lies inside another: which of them gives way first is not recorded"
    if group.is_whole(here) is None:
        return "Record first what the load management holds"
    if group.is_whole(here):
        return "The limit is shared with the house, whose load through the night is not recorded"
    limit_a = group.set_a(here)
    if limit_a is None or group.permitted(here) is None:
        return "Record first the limit as set, and the device ahead of the group"
    if limit_a < LEAST_A:
        return f"The limit as set lies below {LEAST_A:g} A, the least that can be offered"
    loads = {m.point.name: charger_load_a(m) for m in group.members(here)}
    missing = [name for name, load_a in loads.items() if load_a is None]
    if missing:
        return f"Record the charger's current first: {', '.join(missing)}"
    small = [name for name, load_a in loads.items() if load_a is not None and load_a < LEAST_A]
    return (
        f"Set below {LEAST_A:g} A, the least that can be offered: {', '.join(small)}"
        if small
        else ""
    )


def _part(member: Situation) -> float:
    """Return the smallest usual part of the wall's energy that reaches the battery. [-]."""
    return efficiency(member.point.level).low


def _night(members: Sequence[Situation], limit_a: float, need_kwh: float) -> Night:
    needs = [
        Need(charger_load_a(m) or 0.0, nominal(volts_here(m)[0]), need_kwh / _part(m))
        for m in members
    ]
    return through_a_night(limit_a, needs, NIGHT_H)


def _shares(members: Sequence[Situation], night: Night) -> Iterator[Share]:
    """Gather the chargers whose night is the same, in the order of the record."""
    courses: dict[tuple[tuple[Stretch, ...], str], list[str]] = {}
    for i, member in enumerate(members):
        own = _stretches([(s.from_h, s.to_h, s.shares_a[i]) for s in night.steps])
        got_kwh, done_h = night.wall_kwh[i] * _part(member), night.done_h[i]
        says = (
            f"{got_kwh:.0f} kWh of {DRAWN_KWH:.0f} kWh by the end of the night"
            if done_h is None
            else f"{DRAWN_KWH:.0f} kWh after {done_h:.1f} h"
        )
        courses.setdefault((own, says), []).append(member.point.name)
    for (stretches, says), names in courses.items():
        yield Share(names=tuple(names), stretches=stretches, says=says)


def _stretches(steps: Sequence[tuple[float, float, float]]) -> tuple[Stretch, ...]:
    """Join what follows at the same current, to the hundredth of an ampere."""
    found = []
    for current_a, same in groupby(steps, key=lambda s: round(s[2], 2)):
        parts = list(same)
        found.append(Stretch(from_h=parts[0][0], to_h=parts[-1][1], current_a=current_a))
    return tuple(found)


def _outcome(need_kwh: float, members: Sequence[Situation], night: Night) -> str:
    done = [end for end in night.done_h if end is not None]
    if len(done) == len(members):
        return f"{need_kwh:.0f} kWh each: the last has it after {max(done):.1f} h"
    least = min(kwh * _part(m) for kwh, m in zip(night.wall_kwh, members, strict=True))
    return (
        f"{need_kwh:.0f} kWh each: {len(done)} of {len(members)} have it after {NIGHT_H:.0f} h, "
        f"the least gets {least:.0f} kWh"
    )
