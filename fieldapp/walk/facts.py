"""The facts that a visit was begun with, each as one question, to be corrected while it is open.

A fact is named by ``name@subject``: the site, a panel or a charging point.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeVar

from checks.check import AnyInput, Check, Choice, Option, YesNo
from checks.errors import ChecksError
from checks.path import Scope, Station
from checks.record import SITE, ChargingPoint, Coupler, Occupancy, Panel, SupplySystem, Visit
from fieldapp.walk import filled, forms

_NOUNS: Final = {  # of what is asked in a sentence
    "connection": "Connection",
    "feeder": "Panel that feeds it",
    "is_service": "Service equipment",
    "occupancy": "Kind of place",
    "code": "Adopted code",
}
FEEDER: Final = "feeder"
INLET: Final = "inlet"

T = TypeVar("T", Panel, ChargingPoint)


@dataclass(frozen=True)
class Fact:
    """One fact, as it is asked and as it is kept.

    Parameters
    ----------
    name : str
        What it is called in a key.
    scope : Scope
        What it belongs to.
    asked : AnyInput
        The question, as its form asks it.
    said : callable
        Reads it from the visit at a subject, as the question's answer; empty where nobody said it.
    changed : callable
        Returns the fields of the visit that an answer at a subject changes.
    stations : tuple of Station
        Where somebody would look for it.
    """

    name: str
    scope: Scope
    asked: AnyInput
    said: Callable[[Visit, str], str]
    changed: Callable[[Visit, str, str], dict[str, Any]]
    stations: tuple[Station, ...] = ()

    @property
    def label(self) -> str:
        """What it is called beside what stands: a noun, where its question is a sentence."""
        return _NOUNS.get(self.name, self.asked.label)


def _asked(form: Check, name: str) -> AnyInput:
    found = form.input(name)
    assert found is not None, name
    return found


def _with(all_of: tuple[T, ...], one_id: str, **changed: object) -> tuple[T, ...]:
    return tuple(p.model_copy(update=changed) if p.id == one_id else p for p in all_of)


def _of_site(
    name: str, field: str = "", kind: Callable[[str], object] = str, *stations: Station
) -> Fact:
    field = field or name

    def changed(visit: Visit, _: str, value: str) -> dict[str, Any]:
        return {"site": visit.site.model_copy(update={field: kind(value)})}

    def said(visit: Visit, _: str) -> str:
        return str(getattr(visit.site, field))

    return Fact(name, Scope.SITE, _asked(forms.BEGIN, name), said, changed, stations)


def _supplied(visit: Visit, _: str, value: str) -> dict[str, Any]:
    system = SupplySystem(value)
    points = tuple(
        p if p.level == 1 else p.model_copy(update={"nominal_v": system.level_2_v})
        for p in visit.points
    )
    return {"system": system, "points": points}


def _of_point(
    name: str,
    said: Callable[[ChargingPoint], str],
    fields: Callable[[Visit, str], dict[str, object]],
    *stations: Station,
) -> Fact:
    def changed(visit: Visit, at: str, value: str) -> dict[str, Any]:
        return {"points": _with(visit.points, at, **fields(visit, value))}

    def read(visit: Visit, at: str) -> str:
        return said(visit.point(at))

    return Fact(name, Scope.POINT, _asked(forms.POINT, name), read, changed, stations)


def _connection(point: ChargingPoint) -> str:
    here = point.level, point.attachment, point.charger_form
    return next(words for words, kind in forms.CONNECTIONS.items() if kind == here)


def _inlet(point: ChargingPoint) -> str:
    unsaid = forms.NO_VEHICLE if point.is_vehicle_asked else ""
    return unsaid if point.inlet is None else point.inlet.value


FACTS: Final[Mapping[str, Fact]] = {
    fact.name: fact
    for fact in (
        _of_point(
            INLET,
            _inlet,
            lambda _, value: {"inlet": filled.inlet(value), "is_vehicle_asked": True},
            *(Station.CONNECTOR, Station.ADAPTER, Station.VEHICLE),
        ),
        _of_point(
            "connector",
            lambda p: p.connector.value,
            lambda _, value: {"connector": Coupler(value)},
            *(Station.CHARGER, Station.CONNECTOR, Station.ADAPTER),
        ),
        _of_point(
            "connection",
            _connection,
            lambda visit, value: filled.connection(value, visit.system),
            *(Station.BREAKER, Station.RUN, Station.OUTLET, Station.CHARGER),
        ),
        Fact(
            FEEDER,
            Scope.POINT,
            Choice(FEEDER, "Which panel feeds it?", options=(Option("p1", "Panel"),)),
            lambda visit, at: visit.point(at).panel,
            lambda visit, at, value: {"points": _with(visit.points, at, panel=value)},
            (Station.PANEL, Station.BREAKER, Station.RUN),
        ),
        _of_point("name", lambda p: p.name, lambda _, value: {"name": value}),
        Fact(
            "panel",
            Scope.PANEL,
            _asked(forms.PANEL, "name"),
            lambda visit, at: visit.panel(at).name,
            lambda visit, at, value: {"panels": _with(visit.panels, at, name=value)},
            (Station.PANEL,),
        ),
        Fact(
            "is_service",
            Scope.PANEL,
            _asked(forms.PANEL, "is_service"),
            lambda visit, at: "yes" if visit.panel(at).is_service_equipment else "no",
            lambda visit, at, value: {
                "panels": _with(visit.panels, at, is_service_equipment=value == "yes")
            },
            (Station.PANEL,),
        ),
        _of_site("permit", "permit_number", str, Station.SERVICE, Station.HANDOVER),
        _of_site("authority", "", str, Station.SERVICE, Station.HANDOVER),
        _of_site("site", "name"),
        _of_site("address"),
        _of_site("owner", "", str, Station.HANDOVER),
        _of_site("occupancy", "", Occupancy, Station.SURROUNDINGS),
        Fact(
            "system",
            Scope.SITE,
            _asked(forms.BEGIN, "system"),
            lambda visit, _: visit.system.value,
            _supplied,
            (Station.SERVICE,),
        ),
        Fact(
            "code",
            Scope.SITE,
            _asked(forms.BEGIN, "code"),
            lambda visit, _: visit.code,
            lambda _visit, _at, value: {"code": value},
        ),
    )
}


def found(key: str, visit: Visit) -> tuple[Fact, str]:
    """Return a fact and its subject by its key, its question as this visit asks it.

    Raises
    ------
    ChecksError
        There is no such fact here.
    """
    name, _, subject = key.partition("@")
    fact = FACTS.get(name)
    if fact is None or subject not in subjects(fact, visit):
        raise ChecksError("is not there", where="fact", remedy="Choose one that is there")
    if name == FEEDER:
        options = tuple(Option(p.id, p.name) for p in visit.panels)
        asked = Choice(FEEDER, fact.asked.label, options=options)
        fact = Fact(name, fact.scope, asked, fact.said, fact.changed, fact.stations)
    return fact, subject


def subjects(fact: Fact, visit: Visit) -> tuple[str, ...]:
    """Return what a fact is there of: the site, each panel, each charging point."""
    if fact.scope is Scope.SITE:
        return (SITE,)
    of = visit.panels if fact.scope is Scope.PANEL else visit.points
    return tuple(p.id for p in of)


def told(key: str, visit: Visit) -> str:
    """Say what stands, in the words of its question; empty where nobody said it."""
    fact, subject = found(key, visit)
    value = fact.said(visit, subject)
    if isinstance(fact.asked, Choice):
        return next((o.words for o in fact.asked.options if o.value == value), "")
    return fact.asked.words(yes=value == "yes") if isinstance(fact.asked, YesNo) else value


def before(key: str, visit: Visit) -> tuple[str, ...]:
    """Return what stood of a fact before each correction of it, the latest first."""
    now, said = told(key, visit), []
    stood = visit.as_it_stood_at(c.number - 1 for c in visit.corrections)
    for number in sorted(stood, reverse=True):
        then = told(key, stood[number]) if _knew(key, stood[number]) else now
        if then != now:
            said.append(then)
        now = then
    return tuple(said)


def _knew(key: str, visit: Visit) -> bool:
    """Whether the vehicle was asked for by then; anything else always was."""
    name, _, subject = key.partition("@")
    return name != INLET or visit.point(subject).is_vehicle_asked
