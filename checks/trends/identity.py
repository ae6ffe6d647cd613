"""Which site and which charging point an earlier visit was made to."""

from checks.record import ChargingPoint, Visit, Worded


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
    """Return the charger's serial number as it was read off last; empty where it was not."""
    plates = [e for e in visit.entries if (e.check, e.subject) == ("charger.nameplate", point.id)]
    last = max(plates, key=lambda e: e.number, default=None)
    said = last.answer("serial") if last is not None else None
    return plain(said.text) if isinstance(said, Worded) else ""


def plain(text: str) -> str:
    """Return a name as it is compared: however it is spaced and capitalized."""
    return " ".join(text.split()).casefold()
