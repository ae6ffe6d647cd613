"""Small builders of invented visits: plain Python in, records out."""

from collections.abc import Mapping
from typing import Any, Final

from checks.check import AnyInput, Choice, Measurement, Series, Situation
from checks.codes import profile
from checks.path import Scope
from checks.record import (
    SITE,
    Answer,
    Attachment,
    Category,
    ChargerForm,
    ChargingPoint,
    Chosen,
    Coupler,
    Entry,
    Instrument,
    InstrumentKind,
    Panel,
    Person,
    Reading,
    Readings,
    Role,
    Site,
    SupplySystem,
    Visit,
    VisitKind,
    Worded,
    YesNoAnswer,
)
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Verdict

NOON: Final = "2025-06-02T12:00:00Z"
PANEL: Final = "panel-a"
POINT: Final = "bay-1"


def point(**over: Any) -> ChargingPoint:
    """A 240 V Level 2 charger on a receptacle; anything may be overridden."""
    plain: dict[str, Any] = {
        "id": POINT,
        "name": "Bay 1",
        "panel": PANEL,
        "level": 2,
        "nominal_v": 240,
        "attachment": Attachment.RECEPTACLE,
        "charger_form": ChargerForm.FIXED,
        "connector": Coupler.TYPE_1,
        "inlet": Coupler.TYPE_1,
    }
    return ChargingPoint(**{**plain, **over})


def level_1(**over: Any) -> ChargingPoint:
    """A 120 V cord set."""
    cord_set = {"level": 1, "nominal_v": 120, "charger_form": ChargerForm.CORD_SET}
    return point(**{**cord_set, **over})


def hard_wired(**over: Any) -> ChargingPoint:
    """A 240 V Level 2 charger that is wired in."""
    return point(**{"attachment": Attachment.HARD_WIRED, **over})


def instruments() -> tuple[Instrument, ...]:
    """One instrument of each kind, with the category its work asks for and a stated class."""
    live = {
        InstrumentKind.MULTIMETER: Category.CAT_IV,
        InstrumentKind.CLAMP: Category.CAT_IV,
        InstrumentKind.INSULATION: Category.CAT_IV,
        InstrumentKind.LOGGER: Category.CAT_IV,
        InstrumentKind.LOW_OHM: Category.CAT_III,
        InstrumentKind.LOOP: Category.CAT_III,
        InstrumentKind.GROUND_FAULT: Category.CAT_III,
    }
    return tuple(
        Instrument(
            id=_instrument_id(kind),
            kind=kind,
            name=kind.value,
            category=live.get(kind, Category.NONE),
            rated_v=600 if kind in live else 0,
        )
        for kind in InstrumentKind
    )


def _instrument_id(kind: InstrumentKind) -> str:
    return kind.value.replace(" ", "-")


def visit(**over: Any) -> Visit:
    """An invented commissioning visit to a dwelling with one panel and one charging point."""
    plain: dict[str, Any] = {
        "id": "visit-1",
        "kind": VisitKind.COMMISSIONING,
        "role": Role.INSTALLS,
        "is_invented": True,
        "started": NOON,
        "technician": Person(name="Invented Person", license_number="0000"),
        "site": Site(name="Invented site"),
        "system": SupplySystem.SPLIT_PHASE,
        "panels": (Panel(id=PANEL, name="Panel A"),),
        "points": (point(),),
        "instruments": instruments(),
    }
    return Visit(**{**plain, **over})


def entry(check: str, subject: str, number: int, **answers: Any) -> Entry:
    """An entry whose answers are written plainly, and read as the check declares its inputs.

    ``True`` answers a yes/no question, ``"50 A"`` a number, ``["21.5 °C", "24.0 °C"]`` a series
    (one reading every two minutes; one text is read six times the same), a number a count, and
    other text a choice or words.
    """
    declared = BY_ID[check]
    made = []
    for name, plain in answers.items():
        wanted = declared.input(name)
        assert wanted is not None, f"{check} has no input {name}"
        made.append(_answer(wanted, plain))
    return Entry(number=number, check=check, subject=subject, at=NOON, answers=tuple(made))


def _answer(wanted: AnyInput, plain: Any) -> Answer:
    if isinstance(plain, bool):
        return YesNoAnswer(input=wanted.name, yes=plain)
    if isinstance(wanted, Series):
        texts = [plain] * 6 if isinstance(plain, str) else plain
        readings = tuple(
            _reading(wanted, text, f"2025-06-02T{12 + i // 30:02d}:{2 * i % 60:02d}:00Z")
            for i, text in enumerate(texts)
        )
        return Readings(input=wanted.name, readings=readings)
    if isinstance(wanted, Choice):
        assert plain in [o.value for o in wanted.options], f"{wanted.name} has no option {plain!r}"
        return Chosen(input=wanted.name, option=plain)
    if isinstance(plain, int):
        plain = f"{plain} pcs"
    if hasattr(wanted, "units"):
        return _reading(wanted, plain, NOON)
    return Worded(input=wanted.name, text=plain)


def _reading(wanted: AnyInput, plain: str, at: str) -> Reading:
    value, unit = plain.split(" ", 1)
    kinds = wanted.instruments if isinstance(wanted, Measurement) else ()
    used = _instrument_id(kinds[0]) if kinds else None
    return Reading(input=wanted.name, value=value, unit=unit, at=at, instrument=used)


def with_entries(made: Visit, entries: Mapping[str, Mapping[str, Any]]) -> Visit:
    """Add entries to a visit, each at the first subject of its scope, numbered in order."""
    start = max((e.number for e in made.entries), default=0) + 1
    new = tuple(
        entry(check, _subject(made, check), start + i, **answers)
        for i, (check, answers) in enumerate(entries.items())
    )
    return made.model_copy(update={"entries": (*made.entries, *new)})


def _subject(made: Visit, check: str) -> str:
    first = {Scope.SITE: SITE, Scope.PANEL: made.panels[0].id, Scope.POINT: made.points[0].id}
    return first[BY_ID[check].station.scope]


def conductor(size: str) -> dict[str, Any]:
    """The plain answers of a run of copper in a dry raceway."""
    return {
        "size": size,
        "material": "copper",
        "insulation": "THWN-2",
        "method": "EMT",
        "is_wet": False,
        "terminals": "75",
        "ambient": "30 °C",
        "carrying": 2,
    }


def judge(made: Visit, check: str, subject: str | None = None, code: str = "nec_2023") -> Judgement:
    """Judge one check, as an assessment would."""
    declared = BY_ID[check]
    at = _subject(made, check) if subject is None else subject
    situation = Situation(made, profile(code), at)
    why_not = declared.not_here_because(situation)
    if why_not:
        return Judgement(verdict=Verdict.NOT_APPLICABLE, explanation=why_not)
    return declared.judge(situation)
