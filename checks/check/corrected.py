"""What a correction of the installation means for what was recorded under what stood before.

A limit or a rule follows the corrected fact by itself: it is judged anew. Where that which was
looked at depends on the fact, nothing stands of it until somebody looks again.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeVar

from checks.check.replaced import Gone, Key
from checks.path import Station
from checks.record import ChargingPoint, Entry, Panel, StateEntry, Visit

_Part = TypeVar("_Part", Panel, ChargingPoint)


@dataclass(frozen=True)
class _Fact:
    """A fact of a charging point, and where it decides what is looked at.

    Parameters
    ----------
    of : callable
        Reads it.
    said : str
        What is told of an entry that was made under another.
    stations : tuple of Station
        Every check there.
    checks : tuple of str
        And these elsewhere.
    """

    of: Callable[[ChargingPoint], object]
    said: str
    stations: tuple[Station, ...]
    checks: tuple[str, ...] = ()


VEHICLE: Final = _Fact(
    lambda p: p.inlet,
    "Made before the vehicle's inlet was corrected: make it again",
    (Station.ADAPTER, Station.VEHICLE),
    ("connector.seating", "connector.temperature", "connector.button", "surroundings.reach"),
)
_FACTS: Final = (
    _Fact(
        lambda p: p.panel,
        "Made before the panel that feeds it was corrected: make it again",
        (Station.BREAKER, Station.RUN),
        (
            "outlet.loaded_voltage",
            "outlet.loop_resistance",
            "outlet.ground_fault",
            "outlet.ground_fault_trip",
            "outlet.series_devices",
        ),
    ),
    _Fact(
        lambda p: p.level,
        "Made before the level of charging was corrected: make it again",
        (Station.BREAKER, Station.OUTLET),
        ("run.polarity", "run.protective_conductor", "run.insulation"),
    ),
    _Fact(
        lambda p: p.attachment,
        "Made before the way the charger is connected was corrected: make it again",
        (Station.OUTLET,),
        ("run.polarity", "run.protective_conductor", "charger.supply_cord", "charger.fitting"),
    ),
    _Fact(
        lambda p: p.charger_form,
        "Made before the kind of charger was corrected: make it again",
        (Station.CHARGER,),
    ),
    _Fact(
        lambda p: p.connector,
        "Made before the connector was corrected: make it again",
        (Station.CONNECTOR, Station.ADAPTER),
    ),
    VEHICLE,
)
# Of a panel: they look at the breakers of its chargers.
_OF_PANEL: Final = (
    "panel.breaker_listed",
    "panel.directory",
    "panel.load",  # says whether its chargers are in the demand
    "panel.management",
)
# They look at every line of the supply there is.
_OF_SUPPLY: Final = (
    "service.supply_voltage",
    "service.management_sensors",
    "panel.absence_of_voltage",
    "panel.management_sensors",
    "breaker.absence_of_voltage",
    "outlet.no_load_voltage",
)
# What stays live in a panel, and where its neutral is bonded.
_OF_PLACE: Final = (
    "panel.rating",
    "panel.absence_of_voltage",
    "panel.neutral_bond",
    "panel.terminals",
)
_JOINED: Final = "Made before a charging point of this panel was corrected: make it again"


def waits_for_vehicle(station: Station, check: str, point: ChargingPoint) -> bool:
    """Return whether a check is about the vehicle, and nobody was asked yet which one is here."""
    is_about = station is Station.CONNECTOR or _decides(VEHICLE, check)
    return not point.is_vehicle_asked and is_about


def parted(check: str, before: ChargingPoint, now: ChargingPoint) -> str:
    """Say that what a check looks at is not what it was; empty where it is.

    Parameters
    ----------
    check : str
        A check of the charging point.
    before, now : ChargingPoint
        As the point stood, and as it stands.
    """
    changed = (f for f in _FACTS if f.of(before) != f.of(now) and _decides(f, check))
    return next((f.said for f in changed), "")


def overtaken(visit: Visit, made: Entry, stood: Visit) -> str:
    """Say that an entry was made under what was corrected since; empty where it stands.

    What was corrected and then corrected back stands again: nothing else was looked at.

    Parameters
    ----------
    visit : Visit
        The record.
    made : Entry
        One of its entries.
    stood : Visit
        The record as it stood when the entry was made.
    """
    if stood is visit:
        return ""
    if stood.system is not visit.system and made.check in _OF_SUPPLY:
        return "Made before the supply was corrected: make it again"
    points = {p.id: p for p in visit.points}
    if made.subject in points:
        return parted(made.check, stood.point(made.subject), points[made.subject])
    if made.check in _OF_PLACE and _is_service(visit, made) != _is_service(stood, made):
        return "Made before it was corrected what the panel is: make it again"
    if made.check in _OF_PANEL:
        now, then = _fed(visit, made.subject), _fed(stood, made.subject)
        return _JOINED if now - then else ""
    return ""


def of_corrected_facts(visit: Visit, latest: Mapping[Key, Entry]) -> dict[Key, Gone]:
    """Return the entries that were made under what was corrected since.

    Parameters
    ----------
    visit : Visit
        The record.
    latest : Mapping
        The entries that count, by check and subject.
    """
    if not visit.corrections:
        return {}
    corrected = sorted(c.number for c in visit.corrections)
    stood = visit.as_it_stood_at((*corrected, *(made.number for made in latest.values())))
    found: dict[Key, Gone] = {}
    for key, made in latest.items():
        said = overtaken(visit, made, stood[made.number])
        if said:
            later = (n for n in corrected if n > made.number)
            since = next(n for n in later if not overtaken(visit, made, stood[n]))
            found[key] = Gone("", since, said=said)
    return found


def states_that_stand(visit: Visit) -> tuple[StateEntry, ...]:
    """Return the circuit states, without those of another circuit than it was corrected to be.

    What is dead is the circuit that was switched off, and not the one that is fed from elsewhere.
    One that was said to be live stays so until somebody makes it dead.
    """
    if not visit.corrections:
        return visit.states
    return tuple(s for s in visit.states if s.state != "dead and proved" or not _is_moved(visit, s))


def without_added(stood: Visit, number: int, subject: str) -> Visit:
    """Return a record without the last panels and points of which nothing was recorded yet.

    What is added comes last, and nothing tells when; what had been recorded of was there.

    Parameters
    ----------
    stood : Visit
        The record, with the installation as it stood.
    number : int
        Nothing of what is left out has an entry, a state or a correction up to this number.
    subject : str
        What stays in any case.
    """
    known = {subject} | {e.subject for e in stood.entries if e.number <= number}
    known |= {s.point for s in stood.states if s.number <= number}
    known |= {p.id for c in stood.corrections if c.number <= number for p in c.points}
    points = _up_to_last(stood.points, known) or stood.points[:1]
    known |= {p.id for c in stood.corrections if c.number <= number for p in c.panels}
    known |= {p.panel for p in points}
    update = {"points": points, "panels": _up_to_last(stood.panels, known)}
    return stood.model_copy(update=update)


def _up_to_last(parts: tuple[_Part, ...], known: Collection[str]) -> tuple[_Part, ...]:
    """Return the parts up to the last one that is known."""
    places = [place for place, part in enumerate(parts, 1) if part.id in known]
    return parts[: max(places, default=0)]


def is_moved(before: ChargingPoint, now: ChargingPoint) -> bool:
    """Return whether it is another circuit: from another panel, or of other poles."""
    return (before.panel, before.level) != (now.panel, now.level)


def _decides(fact: _Fact, check: str) -> bool:
    return Station(check.split(".", 1)[0]) in fact.stations or check in fact.checks


def _is_service(visit: Visit, made: Entry) -> bool:
    return visit.panel(made.subject).is_service_equipment


def _fed(visit: Visit, panel: str) -> set[str]:
    return {p.id for p in visit.points if p.panel == panel}


def _is_moved(visit: Visit, state: StateEntry) -> bool:
    numbers = sorted(c.number for c in visit.corrections if c.number > state.number)
    stood = [visit.as_it_stood(n).point(state.point) for n in (state.number, *numbers)]
    return any(is_moved(a, b) for a, b in pairwise(stood))
