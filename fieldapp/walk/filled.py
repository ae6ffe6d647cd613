"""What the forms make once they are filled in: a visit, a charging point, a witness."""

from typing import Final

from checks.record import (
    Amendment,
    ChargingPoint,
    Coupler,
    Entry,
    Occupancy,
    Panel,
    Person,
    Role,
    Site,
    Strokes,
    SupplySystem,
    Unsigned,
    Visit,
    VisitKind,
    Witness,
    WitnessRole,
)
from fieldapp.walk import forms

LEVEL_1_V: Final = 120


def witness(form: Entry, strokes: Strokes) -> Witness:
    """Return the witness that the sign-off form names, with what was drawn."""
    who = forms.said(form, "witness")
    name = forms.said(form, "name") or forms.said(form, "refused_by")
    if who in (*WitnessRole,):
        return Witness(name=name, role=WitnessRole(who), strokes=strokes)
    return Witness(name=name, unsigned=Unsigned(who), why=forms.said(form, "why"))


def charging_point(
    form: Entry, *, point_id: str, panel: str, system: SupplySystem
) -> ChargingPoint:
    """Make a charging point from its form."""
    return ChargingPoint.model_validate(
        {
            "id": point_id,
            "name": forms.said(form, "name"),
            "panel": panel,
            "connector": Coupler(forms.said(form, "connector")),
            "inlet": inlet(forms.said(form, "inlet")),
            **connection(forms.said(form, "connection"), system),
        }
    )


def connection(words: str, system: SupplySystem) -> dict[str, object]:
    """Return the fields of a charging point that one way to connect it decides."""
    level, attachment, charger_form = forms.CONNECTIONS[words]
    return {
        "level": level,
        "nominal_v": LEVEL_1_V if level == 1 else system.level_2_v,
        "attachment": attachment,
        "charger_form": charger_form,
    }


def inlet(words: str) -> Coupler | None:
    """Return the inlet of the vehicle that is there; None where none is."""
    return None if words == forms.NO_VEHICLE else Coupler(words)


def with_no_vehicle_asked(point: ChargingPoint) -> ChargingPoint:
    """Return a charging point that is taken over: what is installed, and not who stood there."""
    return point.model_copy(update={"inlet": None, "is_vehicle_asked": False})


def begun_again(
    form: Entry,
    earlier: Visit,
    *,
    visit_id: str,
    started: str,
    technician: Person,
    amends: str = "",
) -> Visit:
    """Make another visit to a site: what is installed is taken over, what was found is not.

    Nor is the vehicle: it is asked which one is there today.

    Parameters
    ----------
    form : Entry
        Of `forms.AGAIN`, or of `forms.AMEND` where a signed visit is amended.
    earlier : Visit
        Where the site and the installation come from.
    visit_id, started, technician : str, str, Person
        Of the new visit.
    amends : str
        SHA-256 of the record of a signed visit that is amended; empty otherwise.
    """
    return Visit(
        id=visit_id,
        kind=earlier.kind if amends else VisitKind(forms.said(form, "kind")),
        role=Role(forms.said(form, "role")),
        code=earlier.code,
        started=started,
        amends=Amendment(visit=earlier.id, sha256=amends, what=forms.said(form, "what"))
        if amends
        else None,
        technician=technician,
        site=earlier.site,
        system=earlier.system,
        panels=earlier.panels,
        points=tuple(map(with_no_vehicle_asked, earlier.points)),
    )


def begun(
    form: Entry, point_form: Entry, *, visit_id: str, started: str, technician: Person
) -> Visit:
    """Make a visit from the two forms; its instruments are added by the caller."""
    system = SupplySystem(forms.said(form, "system"))
    panel = Panel(
        id="p1",
        name=forms.said(form, "panel"),
        is_service_equipment=forms.said(form, "is_service") == "yes",
    )
    return Visit(
        id=visit_id,
        kind=VisitKind(forms.said(form, "kind")),
        role=Role(forms.said(form, "role")),
        code=forms.said(form, "code"),
        started=started,
        technician=technician,
        site=Site(
            name=forms.said(form, "site"),
            address=forms.said(form, "address"),
            occupancy=Occupancy(forms.said(form, "occupancy")),
            owner=forms.said(form, "owner"),
            authority=forms.said(form, "authority"),
            permit_number=forms.said(form, "permit"),
        ),
        system=system,
        panels=(panel,),
        points=(charging_point(point_form, point_id="c1", panel="p1", system=system),),
    )
