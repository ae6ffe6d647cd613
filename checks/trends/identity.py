"""Which site and which charging point an earlier visit was made to."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from checks.assess import Assessment
from checks.check import gone_entries, latest_entries
from checks.errors import ChecksError
from checks.path import Station
from checks.record import ChargingPoint, Visit, Worded

PLATE: Final = "charger.nameplate"
# What stands in the charger's own housing and goes with it when it is replaced.
OF_THE_UNIT: Final = (Station.CHARGER, Station.CONNECTOR)


class SiteError(ChecksError):
    """Records that are not of one site say nothing about a change."""


class Seen(NamedTuple):
    """One visit, and what it means."""

    visit: Visit
    assessment: Assessment


def require_one_site(latest: Seen, earlier: Sequence[Seen]) -> None:
    """Refuse a visit to another site.

    Raises
    ------
    SiteError
        An earlier visit was made to another site.
    """
    for each in earlier:
        if not is_same_site(latest.visit, each.visit):
            raise SiteError(
                f"it is of {each.visit.site.name}, not of {latest.visit.site.name}",
                where=f"visit {each.visit.id}",
                remedy="Compare visits to one site; name and address must agree",
            )


def is_same_site(one: Visit, other: Visit) -> bool:
    """Whether two visits were made to one site: by name and address, never real with invented."""

    def identity(visit: Visit) -> tuple[bool, str, str]:
        return visit.is_invented, plain(visit.site.name), plain(visit.site.address)

    return identity(one) == identity(other)


def same_point(earlier: Visit, latest: Visit, point: ChargingPoint) -> ChargingPoint | None:
    """Return the earlier record's charging point: by its name, else by its charger's number."""
    named = [p for p in earlier.points if _named(earlier, p) == _named(latest, point)]
    if not named:
        named = [p for p in earlier.points if plain(p.name) == plain(point.name)]
    if len(named) == 1:
        return named[0]
    serial = _serial(latest, point)
    numbered = [p for p in earlier.points if serial and _serial(earlier, p) == serial]
    return numbered[0] if not named and len(numbered) == 1 else None


def _named(visit: Visit, point: ChargingPoint) -> tuple[str, str]:
    return plain(visit.panel(point.panel).name), plain(point.name)


def is_other_unit(
    earlier: Visit, latest: Visit, there: ChargingPoint, point: ChargingPoint
) -> bool:
    """Whether the charger was replaced since: both numbers are known, and differ."""
    before, now = _serial(earlier, there), _serial(latest, point)
    return bool(before and now and before != now)


def _serial(visit: Visit, point: ChargingPoint) -> str:
    """Return the serial number of the charger that is there; empty where it was not read."""
    latest = latest_entries(visit)
    plate = PLATE, point.id
    last = None if plate in gone_entries(visit, latest) else latest.get(plate)
    said = last.answer("serial") if last is not None else None
    return plain(said.text) if isinstance(said, Worded) else ""


def plain(text: str) -> str:
    """Return a name as it is compared: however it is spaced and capitalized."""
    return " ".join(text.split()).casefold()
