"""An invented visit and a hand-made assessment of it: rich enough to fill every part of a report.

Nothing here is computed by the software under test, and no number is a claim about any code book.
"""

from datetime import UTC, datetime
from hashlib import sha256
from io import BytesIO

from PIL import Image, ImageDraw

from checks.assess import Assessment, Finding, Gate, PointSummary, Row, StationSummary
from checks.check import CircuitState
from checks.errors import ChecksError
from checks.path import BESIDE, Station, path, subject, title
from checks.quantity import Accuracy, Amount, Dimension
from checks.record import (
    Attachment,
    Category,
    ChargerForm,
    ChargingPoint,
    Chosen,
    Coupler,
    Decision,
    Entry,
    Instrument,
    InstrumentKind,
    Mark,
    MarkShape,
    NotDone,
    NotDoneReason,
    Panel,
    Person,
    Photo,
    Reading,
    Readings,
    Role,
    SignOff,
    Site,
    StateEntry,
    SupplySystem,
    Visit,
    VisitKind,
    Worded,
    YesNoAnswer,
)
from checks.source import Basis, Source, judgement, trade
from checks.verdict import (
    Force,
    Judgement,
    Limit,
    Severity,
    Side,
    Verdict,
    VoltageStep,
    worst,
)

AT = "2026-03-04T16:40:00-08:00"
MADE = datetime(2026, 3, 1, tzinfo=UTC)
EXPIRES = datetime(2036, 3, 1, tzinfo=UTC)
TECHNICIAN = Person(
    name="Ada Example", license_number="INV-000-17", company="Invented Electric Works"
)

NEC = Source(document="NEC (NFPA 70)", edition="2023", clause="210.19", basis=Basis.LOOKED_UP)
RECALLED = Source(
    document="NEC (NFPA 70)", edition="2023", clause="625.41", basis=Basis.FROM_MEMORY
)


def photo_bytes() -> bytes:
    """Draw a picture that says it is invented."""
    image = Image.new("RGB", (1200, 900), "#8a9aa5")
    draw = ImageDraw.Draw(image)
    draw.rectangle((300, 200, 900, 700), fill="#efe9da", outline="#222222", width=12)
    draw.text((480, 430), "INVENTED", fill="#222222", font_size=60)
    out = BytesIO()
    image.save(out, "JPEG", quality=85)
    return out.getvalue()


PHOTO = photo_bytes()
PHOTO_NAME = f"{sha256(PHOTO).hexdigest()}.jpg"
LOST_NAME = f"{'ab' * 32}.png"
MARK = Mark(shape=MarkShape.CIRCLE, x=5000, y=4000, from_x=7000, from_y=4000)


def photo(name: str) -> bytes:
    """Give the one photo that is there."""
    if name != PHOTO_NAME:
        raise ChecksError("the photo is not stored here", where="Photo", remedy="Take it again")
    return PHOTO


def _at(minute: int) -> str:
    return f"2026-03-04T{10 + minute // 60:02d}:{minute % 60:02d}:00-08:00"


def _volts(name: str, value: str, minute: int, place: str, instrument: str | None) -> Reading:
    return Reading(
        input=name,
        value=value,
        unit="V",
        at=_at(minute),
        access_point=place,
        instrument=instrument,
    )


LONG_NOTE = (
    "The cover plate was held by one screw of two. Behind it the insulation of the lower "
    "conductor is brown over 15 mm, with a smell of burnt plastic; the screw turned a quarter "
    "before it held. 端子 was written on the old label. Owner was told at once. " * 4
).strip()


def _entries() -> tuple[Entry, ...]:
    series = tuple(
        Reading(
            input="rise",
            value=f"{24 + k * 1.7:.1f}",
            unit="°C",
            at=_at(70 + k),
            access_point="face of the plug",
            instrument="ir-1",
        )
        for k in range(16)
    )
    return (
        Entry(
            number=1,
            check="outlet.fit",
            subject="bay-1",
            at=_at(3),
            answers=(
                Chosen(input="configuration", option="NEMA 14-30"),
                Worded(input="marking", text="30 A 125/250 V"),
                YesNoAnswer(input="cover_in_place", yes=False),
            ),
            cautions=("WARNING: keep hands off the face of the receptacle.",),
            note=LONG_NOTE,
            photos=(
                Photo(name=PHOTO_NAME, at=_at(31), mark=MARK),
                Photo(name=LOST_NAME, at=_at(32)),
            ),
        ),
        Entry(
            number=2,
            check="outlet.loaded_volts",
            subject="bay-1",
            at=_at(20),
            answers=(
                _volts("no_load", "241.3", 18, "receptacle, L1 to L2", "dmm-1"),
                _volts("loaded", "230.1", 19, "receptacle, L1 to L2", "dmm-1"),
            ),
        ),
        Entry(
            number=3,
            check="outlet.loaded_volts",
            subject="bay-1",
            at=_at(52),
            answers=(
                _volts("no_load", "241.3", 50, "receptacle, L1 to L2", "dmm-1"),
                _volts("loaded", "232.4", 51, "receptacle, L1 to L2", "dmm-1"),
            ),
            after_mending=True,
        ),
        Entry(
            number=4,
            check="connector.rise",
            subject="bay-1",
            at=_at(90),
            answers=(Readings(input="rise", readings=series),),
            cautions=(
                "CAUTION: the connector may be hot. Look, do not touch.",
                "WARNING: stop at a smell or discoloration.",
            ),
        ),
        Entry(
            number=5,
            check="breaker.torque",
            subject="bay-1",
            at=_at(95),
            not_done=NotDone(
                reason=NotDoneReason.NO_INSTRUMENT, text="the torque tool is at calibration"
            ),
        ),
        Entry(
            number=6,
            check="panel.rating",
            subject="panel-1",
            at=_at(8),
            answers=(
                Reading(input="rating", value="200", unit="A", at=_at(8), access_point="plate"),
            ),
        ),
    )


def a_visit(**changes: object) -> Visit:
    """Return the invented visit, signed off."""
    bay = {
        "panel": "panel-1",
        "level": 2,
        "nominal_v": 240,
    }
    fields: dict[str, object] = {
        "id": "invented-0042",
        "revision": 17,
        "kind": VisitKind.SERVICE_CALL,
        "role": Role.SERVES,
        "is_invented": True,
        "started": _at(0),
        "technician": TECHNICIAN,
        "site": Site(
            name="Larkspur Court Garage (invented)",
            address="100 Nowhere Street, Sampleton",
            owner="B. Invented",
            authority="Sampleton Building Department (invented)",
            permit_number="P-0000-INV",
        ),
        "system": SupplySystem.SPLIT_PHASE,
        "panels": (Panel(id="panel-1", name="Main panel"),),
        "points": (
            ChargingPoint(
                id="bay-1",
                name="Bay 1",
                attachment=Attachment.RECEPTACLE,
                charger_form=ChargerForm.FIXED,
                connector=Coupler.TYPE_1,
                inlet=Coupler.J3400,
                **bay,  # type: ignore[arg-type]
            ),
            ChargingPoint(
                id="bay-2",
                name="Bay 2, behind the ramp",
                attachment=Attachment.HARD_WIRED,
                charger_form=ChargerForm.FIXED,
                connector=Coupler.J3400,
                **bay,  # type: ignore[arg-type]
            ),
        ),
        "instruments": (
            Instrument(
                id="dmm-1",
                kind=InstrumentKind.MULTIMETER,
                name="Meter in the blue case",
                serial="00417",
                category=Category.CAT_III,
                rated_v=600,
                calibration_due="2026-09-30",
                accuracy=(
                    Accuracy(dimension=Dimension.VOLTAGE, percent="0.7", counts=2),
                    Accuracy(dimension=Dimension.RESISTANCE, percent="0.9", counts=1),
                ),
                is_generic=False,
            ),
            Instrument(
                id="ir-1",
                kind=InstrumentKind.INFRARED,
                name="Infrared thermometer",
                calibration_due="2025-12-31",
            ),
        ),
        "states": (
            StateEntry(
                number=20,
                point="bay-1",
                state="dead and proved",
                at=_at(2),
                cautions=("DANGER: prove the meter before and after.",),
            ),
            StateEntry(number=21, point="bay-1", state="energised", at=_at(15)),
            StateEntry(number=22, point="bay-1", state="under load", at=_at(17)),
        ),
        "entries": _entries(),
        "signoff": SignOff(
            at=AT,
            decision=Decision.KEEP_OUT,
            strokes=(
                tuple((600 + 85 * k, 2600 + (900 if k % 4 < 2 else -700)) for k in range(40)),
                ((5000, 3400), (7600, 3350), (9200, 3500)),
            ),
            witness="C. Invented, caretaker",
        ),
    }
    return Visit(**{**fields, **changes})  # type: ignore[arg-type]


def _limit(side: Side, value: str, unit: str, force: Force, source: Source, *working: str) -> Limit:
    return Limit(
        side=side,
        amount=Amount(value=value, unit=unit),
        exact=value,
        force=force,
        source=source,
        working=working,
    )


def _measured(
    verdict: Verdict,
    words: str,
    value: str,
    spread: str,
    unit: str,
    limit: Limit,
    margin: str,
    severity: Severity | None = None,
    *,
    telling: str = "",
    steps: tuple[VoltageStep, ...] = (),
    settles: str = "",
) -> Judgement:
    return Judgement(
        verdict=verdict,
        explanation=words,
        measured=Amount(value=value, unit=unit, expanded=spread),
        limits=(limit,),
        margin=Amount(value=margin, unit=unit, of="margin"),
        why="" if severity is None else "a joint that takes volts makes heat where it sits",
        remedy="" if severity is None else "make the circuit dead and remake the joint",
        settles=settles,
        severity=severity,
        telling=telling or f"{value} {unit}",
        steps=steps,
        working=("241.3 V - 232.4 V = 8.9 V", "8.9 V / 240 V = 3.7 %"),
    )


def _seen(verdict: Verdict, words: str, severity: Severity | None = None) -> Judgement:
    return Judgement(
        verdict=verdict,
        explanation=words,
        severity=severity,
        why="" if severity is None else "heat marks tell of a contact that has been hot",
        remedy="" if severity is None else "replace the receptacle with one rated for the circuit",
        sources=(trade("what electricians see"),),
        telling="marks" if severity else "",
    )


_DROP = _limit(
    Side.AT_MOST,
    "3.0",
    "%",
    Force.RECOMMENDATION,
    NEC,
    "branch circuit: 3 %",
    "scaled from 24 A to 32 A by 32 / 24",
)
_FIT = _limit(
    Side.AT_LEAST, "40", "A", Force.CODE_RULE, RECALLED, "continuous load: 32 A x 1.25 = 40 A"
)
_HOT = _limit(Side.AT_MOST, "30", "K", Force.TRADE_JUDGEMENT, judgement("experience with contacts"))

JUDGED: dict[tuple[str, str], Judgement] = {
    ("outlet.fit", "bay-1"): _measured(
        Verdict.OUTSIDE,
        "the receptacle is rated 30 A and its circuit needs 40 A",
        "30",
        "",
        "A",
        _FIT,
        "-10",
        Severity.DANGER,
    ),
    ("outlet.loaded_volts", "bay-1"): _measured(
        Verdict.OUTSIDE,
        "the drop at full current is above what is recommended",
        "3.71",
        "0.13",
        "%",
        _DROP,
        "-0.71",
        Severity.CAUTION,
        telling="232.4 V",
        steps=(
            VoltageStep(label="Panel", no_load_v="242.0", loaded_v="240.9"),
            VoltageStep(label="Receptacle", no_load_v="241.3", loaded_v="232.4"),
            VoltageStep(label="Vehicle's display", no_load_v="", loaded_v="231"),
        ),
    ),
    ("connector.rise", "bay-1"): _measured(
        Verdict.BORDERLINE,
        "the rise lies too near its limit to be told from it",
        "28.5",
        "2.4",
        "K",
        _HOT,
        "1.5",
        Severity.NOTICE,
        settles="repeat after 30 min under load with a contact thermometer",
    ),
    ("outlet.marks", "bay-1"): _seen(Verdict.OUTSIDE, "brown marks at one slot", Severity.WARNING),
    ("panel.rating", "panel-1"): _seen(Verdict.WITHIN, "the bus is rated for its main"),
    ("breaker.torque", "bay-1"): Judgement(
        verdict=Verdict.NOT_MEASURED,
        explanation="Left out, no fit instrument here: the torque tool is at calibration",
        limits=(_limit(Side.AT_LEAST, "4.0", "N·m", Force.LISTING, RECALLED),),
    ),
    ("breaker.size", "bay-2"): Judgement(
        verdict=Verdict.NOT_MEASURED, explanation="nothing was entered"
    ),
    ("service.other_source", "site"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="no other source feeds the bus"
    ),
    ("outlet.retention", "bay-2"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="the charger is hard-wired"
    ),
    ("outlet.fit", "bay-2"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="the charger is hard-wired"
    ),
    **{
        (f"charger.item_{n}", bay): _seen(Verdict.WITHIN, f"the plate says what item {n} asks for")
        for n in range(1, 6)
        for bay in ("bay-1", "bay-2")
    },
}
TITLES = {
    "outlet.fit": "Receptacle against its circuit",
    "outlet.loaded_volts": "Voltage at the receptacle under load",
    "connector.rise": "Rise at the connector",
    "outlet.marks": "Heat marks at the receptacle",
    "panel.rating": "Rating of the panel",
    "breaker.torque": "Torque of the breaker's terminals",
    "breaker.size": "Size of the breaker",
    "service.other_source": "Other sources on the bus",
    "outlet.retention": "Retention of the receptacle",
}


def an_assessment(visit: Visit) -> Assessment:
    """Return the hand-made assessment of the invented visit."""
    rows = []
    for (check, at), judged in JUDGED.items():
        mine = sorted(e.number for e in visit.entries if (e.check, e.subject) == (check, at))
        rows.append(
            Row(
                check=check,
                title=TITLES.get(check, f"Item {check[-1]} of the charger's plate"),
                station=Station(check.split(".")[0]),
                subject=at,
                state=CircuitState.ANY,
                judgement=judged,
                entry=mine[-1] if mine else None,
                superseded=tuple(mine[:-1]),
            )
        )
    found = [
        Finding(severity=r.judgement.severity, row=r)
        for r in rows
        if r.judgement.severity is not None
    ]
    found.sort(key=lambda f: list(Severity).index(f.severity))
    return Assessment(
        software="0.1.0",
        code=visit.code,
        visit=visit.id,
        revision=visit.revision,
        verdict=worst(r.judgement.verdict for r in rows),
        rows=tuple(rows),
        findings=tuple(found),
        points=tuple(_point(visit, p, rows) for p in visit.points),
    )


def _point(visit: Visit, point: ChargingPoint, rows: list[Row]) -> PointSummary:
    def station(s: Station) -> StationSummary:
        here = [r for r in rows if r.station is s and r.subject == subject(s, point)]
        return StationSummary(
            station=s,
            title=title(s, point),
            subject=subject(s, point),
            verdict=worst(r.judgement.verdict for r in here),
            telling=next((r.judgement.telling for r in here if r.judgement.telling), ""),
        )

    along = tuple(station(s) for s in path(point))
    beside = tuple(station(s) for s in BESIDE)
    return PointSummary(
        point=point.id,
        name=point.name,
        verdict=worst(s.verdict for s in (*along, *beside)),
        path=along,
        beside=beside,
        gates=(
            Gate(state=CircuitState.DEAD, is_open=True),
            Gate(state=CircuitState.ENERGISED, is_open=True),
            Gate(state=CircuitState.UNDER_LOAD, is_open=False, waiting=("outlet.marks",)),
        ),
        staircase=tuple(s for r in rows if r.subject == point.id for s in r.judgement.steps),
    )
