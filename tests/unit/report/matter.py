"""An invented visit, rich enough to fill every part of a report; `judged` assesses it by hand.

No number here is a claim about any code book.
"""

from datetime import UTC, datetime
from hashlib import sha256
from io import BytesIO

from PIL import Image, ImageDraw

from checks.errors import ChecksError
from checks.quantity import Accuracy
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
    Witness,
    WitnessRole,
    Worded,
    YesNoAnswer,
)
from checks.units import Dimension

AT = "2026-03-04T16:40:00-08:00"
MADE = datetime(2026, 3, 1, tzinfo=UTC)
EXPIRES = datetime(2036, 3, 1, tzinfo=UTC)
TECHNICIAN = Person(
    name="Ada Example", license_number="INV-000-17", company="Invented Electric Works"
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
                Photo(name=PHOTO_NAME, at=_at(31), marks=(MARK,)),
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
            witness=Witness(
                name="C. Invented, caretaker",
                role=WitnessRole.REPRESENTATIVE,
                strokes=(tuple((1200 + 60 * k, 1500 + 40 * (k % 7) ** 2) for k in range(60)),),
            ),
        ),
    }
    return Visit(**{**fields, **changes})  # type: ignore[arg-type]
