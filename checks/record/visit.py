"""The visit: the record that everything else is derived from."""

from collections.abc import Iterable, Mapping
from enum import StrEnum
from typing import Annotated, Any, Final, Self

from pydantic import Field, model_validator

from checks.record.correction import Correction
from checks.record.entry import Entry, StateEntry
from checks.record.installation import ChargingPoint, Panel, SupplySystem
from checks.record.instrument import Instrument
from checks.record.model import Code, Record, Text, Timestamp
from checks.record.site import Site

SCHEMA_VERSION: Final = 4
SITE: Final = "site"  # the subject of entries that belong to no panel and no charging point


class VisitKind(StrEnum):
    """Why the technician is there."""

    COMMISSIONING = "commissioning"
    SITE_RECORD = "site record"
    SERVICE_CALL = "service call"


class Role(StrEnum):
    """What the person may do there."""

    INSTALLS = "installs"
    INSPECTS = "inspects"
    SERVES = "serves"

    @property
    def opens(self) -> bool:
        """Whether this person opens enclosures; who inspects opens nothing."""
        return self is not Role.INSPECTS


class Decision(StrEnum):
    """What a person decides at the end; the app only records it."""

    RETURN = "return to service"
    KEEP_OUT = "keep out of service"
    OWNER = "left to the owner or the authority"


class Person(Record):
    """Who does the work."""

    name: Text
    license_number: Text = ""
    company: Text = ""


PadUnit = Annotated[int, Field(ge=0, le=10_000)]
Stroke = Annotated[tuple[tuple[PadUnit, PadUnit], ...], Field(max_length=2000)]
Strokes = Annotated[tuple[Stroke, ...], Field(max_length=200)]


class WitnessRole(StrEnum):
    """For whom the witness stands there."""

    OWNER = "owner"
    REPRESENTATIVE = "owner's representative"


class Unsigned(StrEnum):
    """Why nobody signed for the owner."""

    ABSENT = "nobody was there for the owner"
    REFUSED = "would not sign"
    NOT_ASKED = "was not asked to sign"


class Witness(Record):
    """Who stood by for the owner and signed, or why nobody did. It approves no finding.

    Parameters
    ----------
    name : str
        The name, and the position where it is a representative.
    role : WitnessRole, optional
        Owner or representative, where somebody signed.
    strokes : tuple
        The drawn signature, as the technician's.
    unsigned : Unsigned, optional
        Why there is none.
    why : str
        The reason in the technician's words.
    """

    name: Text = ""
    role: WitnessRole | None = None
    strokes: Strokes = ()
    unsigned: Unsigned | None = None
    why: Text = ""

    @model_validator(mode="after")
    def _signs_or_not(self) -> Self:
        if bool(self.strokes) == (self.unsigned is not None):
            raise ValueError("a witness has a drawn signature, or the reason why there is none")
        if self.strokes and not (self.name.strip() and self.role):
            raise ValueError("a witness who signs has a name and a role")
        return self

    def __str__(self) -> str:
        """Say who signed, or why nobody did."""
        if self.unsigned is None:
            return f"{self.name}, {self.role}, signed"
        return ": ".join(filter(None, (self.name, self.unsigned.value, self.why)))


class SignOff(Record):
    """The technician's sign-off.

    Parameters
    ----------
    at : str
        When.
    decision : Decision
        On return to service.
    strokes : tuple
        The drawn signature: points in 1/10 000 of the pad's width, both axes.
    witness : Witness, optional
        Owner or representative; none where a record of an earlier schema names nobody.
    """

    at: Timestamp
    decision: Decision
    strokes: Annotated[Strokes, Field(min_length=1)]
    witness: Witness | None = None


class Amendment(Record):
    """What a visit amends: a signed one, which stays closed and stands as it was signed.

    Parameters
    ----------
    visit : str
        The signed visit.
    sha256 : str
        Of its record, as RFC 8785 writes it. [hexadecimal]
    what : str
        What is amended, and why.
    """

    visit: Code
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    what: Annotated[Text, Field(min_length=1)]


class Visit(Record):
    """One visit to one site.

    Parameters
    ----------
    schema_version : int
        Version of this schema; `checks.record.upgrades` brings an earlier record to it.
    id : str
        Identity of the visit.
    revision : int
        Rises with every change.
    kind, role : VisitKind, Role
        Why the technician is there, and what they may do.
    code : str
        The code profile it is judged by, such as ``nec_2023``.
    is_invented : bool
        A demonstration: people, place and readings are made up.
    amends : Amendment, optional
        The signed visit that this one amends.
    corrections : tuple of Correction
        What stood before a fact of the site or the installation was corrected.
    """

    schema_version: Annotated[int, Field(ge=SCHEMA_VERSION, le=SCHEMA_VERSION)] = SCHEMA_VERSION
    id: Code
    revision: Annotated[int, Field(ge=0, le=10**9)] = 0
    kind: VisitKind
    role: Role
    code: Code = "nec_2023"
    is_invented: bool = False
    started: Timestamp
    amends: Amendment | None = None
    technician: Person
    site: Site
    system: SupplySystem
    panels: Annotated[tuple[Panel, ...], Field(min_length=1, max_length=50)]
    points: Annotated[tuple[ChargingPoint, ...], Field(min_length=1, max_length=200)]
    instruments: Annotated[tuple[Instrument, ...], Field(max_length=50)] = ()
    states: Annotated[tuple[StateEntry, ...], Field(max_length=2000)] = ()
    entries: Annotated[tuple[Entry, ...], Field(max_length=10_000)] = ()
    corrections: Annotated[tuple[Correction, ...], Field(max_length=1000)] = ()
    signoff: SignOff | None = None

    @model_validator(mode="after")
    def _each_has_its_own(self) -> Self:
        numbers = [e.number for e in self.entries] + [s.number for s in self.states]
        numbers += [c.number for c in self.corrections]
        for what, ids in (
            ("panels share one id", [p.id for p in self.panels]),
            ("charging points share one id", [p.id for p in self.points]),
            ("instruments share one id", [i.id for i in self.instruments]),
            ("entries share one number", numbers),
        ):
            if len(set(ids)) < len(ids):
                raise ValueError(f"two {what}")
        return self

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        if self.amends is not None and self.amends.visit == self.id:
            raise ValueError("a visit cannot amend itself")
        panels, points = {p.id for p in self.panels}, {p.id for p in self.points}
        if SITE in panels | points or panels & points:
            raise ValueError(f"panels and charging points need ids of their own, not {SITE!r}")
        for c in self.corrections:
            if not ({p.id for p in c.panels} <= panels and {p.id for p in c.points} <= points):
                raise ValueError("a correction names a panel or a point that is not there")
        self._is_fed()
        for stood in self.as_it_stood_at(c.number - 1 for c in self.corrections).values():
            stood._is_fed()
        if not {s.point for s in self.states} <= points:
            raise ValueError("a circuit state names a charging point that is not there")
        return self

    def _is_fed(self) -> None:
        panels = {p.id for p in self.panels}
        for p in self.points:
            if p.panel not in panels:
                raise ValueError(f"charging point {p.id} names panel {p.panel}, which is not there")
            if p.level != 1 and p.nominal_v != self.system.level_2_v:
                raise ValueError(
                    f"charging point {p.id}: {p.nominal_v} V does not come "
                    f"from a {self.system} supply"
                )

    def as_it_stood(self, number: int) -> "Visit":
        """Return the record with the site and the installation as they stood at a number.

        Parameters
        ----------
        number : int
            Of an entry, a state or a correction; that correction itself counts.
        """
        return self.as_it_stood_at((number,))[number]

    def as_it_stood_at(self, numbers: Iterable[int]) -> Mapping[int, "Visit"]:
        """Return the record as it stood at each of several numbers, by one sweep back.

        Parameters
        ----------
        numbers : iterable of int
            As of `as_it_stood`.
        """
        later = sorted(self.corrections, key=lambda c: c.number)
        panels, points = {p.id: p for p in self.panels}, {p.id: p for p in self.points}
        stood: dict[str, Any] = {}
        now, found = self, {}
        for number in sorted(set(numbers), reverse=True):
            is_other = False
            while later and later[-1].number > number:
                c, is_other = later.pop(), True
                before = {"site": c.site, "system": c.system, "code": c.code}
                stood |= {name: value for name, value in before.items() if value is not None}
                panels |= {p.id: p for p in c.panels}
                points |= {p.id: p for p in c.points}
            if is_other:
                here = {"panels": tuple(panels.values()), "points": tuple(points.values())}
                now = self.model_copy(update={**stood, **here})
            found[number] = now
        return found

    def as_recorded(self, number: int) -> "Visit":
        """Return the record as it was before anything with a later number was in it.

        Parameters
        ----------
        number : int
            Of an entry, a state or a correction; what has that number counts.
        """
        made = {
            name: tuple(each for each in getattr(self, name) if each.number <= number)
            for name in ("entries", "states", "corrections")
        }
        return self.as_it_stood(number).model_copy(update={**made, "revision": 0, "signoff": None})

    def point(self, point_id: str) -> ChargingPoint:
        """Return a charging point by its id; KeyError when it is not there."""
        return {p.id: p for p in self.points}[point_id]

    def panel(self, panel_id: str) -> Panel:
        """Return a panel by its id; KeyError when it is not there."""
        return {p.id: p for p in self.panels}[panel_id]

    def name_of(self, subject: str) -> str:
        """Return what a panel, a charging point or the site is called on site."""
        named = {p.id: p.name for p in self.panels} | {p.id: p.name for p in self.points}
        return named.get(subject, self.site.name)
