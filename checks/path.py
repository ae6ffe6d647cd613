"""The path of the current: stations, derived from what is installed and never typed in."""

from enum import StrEnum

from checks.record import SITE, Attachment, ChargerForm, ChargingPoint, Visit


class Scope(StrEnum):
    """What a station belongs to: the whole site, a panel, or one charging point."""

    SITE = "site"
    PANEL = "panel"
    POINT = "charging point"


class Station(StrEnum):
    """The places on the path, in the direction of the current, and two beside it."""

    SERVICE = "service"
    PANEL = "panel"
    BREAKER = "breaker"
    RUN = "run"
    OUTLET = "outlet"
    CHARGER = "charger"
    CONNECTOR = "connector"
    ADAPTER = "adapter"
    VEHICLE = "vehicle"
    SURROUNDINGS = "surroundings"
    HANDOVER = "handover"

    @property
    def scope(self) -> Scope:
        """What its entries belong to."""
        if self in (Station.SERVICE, Station.HANDOVER):
            return Scope.SITE
        return Scope.PANEL if self is Station.PANEL else Scope.POINT


BESIDE = (Station.SURROUNDINGS, Station.HANDOVER)


def path(point: ChargingPoint) -> tuple[Station, ...]:
    """Return the stations the current passes on its way to one vehicle.

    Parameters
    ----------
    point : ChargingPoint
        What is installed there.

    Returns
    -------
    tuple of Station
        From the service to the vehicle; an adapter only where connector and inlet differ, a
        vehicle only where one is there or nobody was asked yet.
    """
    stations = [
        Station.SERVICE,
        Station.PANEL,
        Station.BREAKER,
        Station.RUN,
        Station.OUTLET,
        Station.CHARGER,
        Station.CONNECTOR,
    ]
    if point.has_adapter:
        stations.append(Station.ADAPTER)
    if point.may_have_vehicle:
        stations.append(Station.VEHICLE)
    return tuple(stations)


def title(station: Station, point: ChargingPoint | None = None) -> str:
    """Return what a station is called where this is installed."""
    if point is not None:
        if station is Station.OUTLET:
            by_plug = point.attachment is Attachment.RECEPTACLE
            return "Receptacle" if by_plug else "Outlet, hard-wired"
        if station is Station.CHARGER and point.charger_form is ChargerForm.CORD_SET:
            return "Charger in the cord"
    return station.value.capitalize()


def subjects_at(point: ChargingPoint) -> dict[Scope, str]:
    """Return the subjects under which a point's path is recorded, by the scope of the station."""
    return {Scope.SITE: SITE, Scope.PANEL: point.panel, Scope.POINT: point.id}


def subject(station: Station, point: ChargingPoint) -> str:
    """Return the subject under which a station of this point's path is recorded."""
    return subjects_at(point)[station.scope]


def subjects(station: Station, visit: Visit) -> tuple[str, ...]:
    """Return every subject that has this station somewhere in a visit."""
    if station.scope is Scope.SITE:
        return (SITE,)
    if station.scope is Scope.PANEL:
        return tuple(p.id for p in visit.panels)
    return tuple(p.id for p in visit.points if station in path(p) or station in BESIDE)
