"""Which site an earlier visit was made to, and which charger it found there."""

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from checks.assess import Assessment
from checks.check import gone_entries, latest_entries
from checks.errors import ChecksError
from checks.path import Station
from checks.record import ChargingPoint, Site, Visit, Worded

PLATE: Final = "charger.nameplate"
# What stands in the charger's own housing and goes with it when it is replaced.
OF_THE_UNIT: Final = (Station.CHARGER, Station.CONNECTOR)


class SiteError(ChecksError):
    """Records that are not of one site say nothing about a change."""


class Seen(NamedTuple):
    """One visit, and what it means."""

    visit: Visit
    assessment: Assessment


Called = frozenset[tuple[bool, str, str]]


def called(visit: Visit) -> Called:
    """Return what the site of a visit is and was called: a correction keeps its identity.

    By name and address, and whether it is invented: what is real is never one with what is not.
    An earlier name counts while its name or its address is as the visit ended. Where both were
    corrected, the visit was begun under another site, and says nothing of that one.
    """
    now = _named(visit.site)
    before = {_named(c.site) for c in visit.corrections if c.site is not None}
    kept = (b for b in before if now[0] == b[0] or now[1] == b[1])
    return frozenset((visit.is_invented, *each) for each in (now, *kept))


def _named(site: Site) -> tuple[str, str]:
    return plain(site.name), plain(site.address)


def of_one_site(latest: Called, others: Mapping[str, Called]) -> frozenset[str]:
    """Return which other visits were made to the site of a visit.

    Parameters
    ----------
    latest : Called
        What the site is and was called at the visit.
    others : Mapping
        The same of other visits, by their ids. What one of them was called by two names joins them.
    """
    known, found = latest, frozenset[str]()
    while more := {each for each, names in others.items() if names & known} - found:
        found |= more
        known = known.union(*(others[each] for each in more))
    return found


def require_one_site(latest: Seen, earlier: Sequence[Seen]) -> None:
    """Refuse a visit to another site.

    Raises
    ------
    SiteError
        An earlier visit was made to another site.
    """
    others = {each.visit.id: called(each.visit) for each in earlier}
    known = of_one_site(called(latest.visit), others)
    for each in earlier:
        if each.visit.id not in known:
            raise SiteError(
                f"it is of {each.visit.site.name}, not of {latest.visit.site.name}",
                where=f"visit {each.visit.id}",
                remedy="Compare visits to one site: name and address agree, or one corrected them",
            )


def is_other_unit(
    earlier: Visit, latest: Visit, there: ChargingPoint, point: ChargingPoint
) -> bool:
    """Whether the charger was replaced since: both numbers are known, and differ."""
    before, now = serial(earlier, there), serial(latest, point)
    return bool(before and now and before != now)


def serial(visit: Visit, point: ChargingPoint) -> str:
    """Return the serial number of the charger that is there; empty where it was not read."""
    latest = latest_entries(visit)
    plate = PLATE, point.id
    last = None if plate in gone_entries(visit, latest) else latest.get(plate)
    said = last.answer("serial") if last is not None else None
    return plain(said.text) if isinstance(said, Worded) else ""


def plain(text: str) -> str:
    """Return a name as it is compared: however it is spaced and capitalized."""
    return " ".join(text.split()).casefold()
