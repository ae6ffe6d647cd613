"""The record: strict, frozen, and free of contradictions."""

import json
from typing import Any

import pytest
from pydantic import ValidationError

from checks.record import (
    Attachment,
    Category,
    ChargerForm,
    Correction,
    Coupler,
    Entry,
    Instrument,
    InstrumentKind,
    Panel,
    Reading,
    Role,
    StateEntry,
    SupplySystem,
    Visit,
    own_words,
)
from tests.builders import (
    NOON,
    PANEL,
    POINT,
    entry,
    hard_wired,
    level_1,
    point,
    visit,
    with_entries,
)


def test_a_record_survives_its_own_json_with_every_digit():
    made = with_entries(visit(), {"run.length": {"length": "30.50 m", "basis": "measured"}})
    text = made.model_dump_json()
    assert Visit.model_validate_json(text) == made
    assert '"30.50"' in text


def test_nothing_recorded_can_be_changed_in_place():
    with pytest.raises(ValidationError, match="frozen"):
        visit().revision = 7


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({"level": 1, "nominal_v": 240}, "Level 1 does not go with 240 V"),
        ({"level": 2, "nominal_v": 120}, "Level 2 does not go with 120 V"),
        (
            {"level": 1, "nominal_v": 120, "attachment": Attachment.HARD_WIRED},
            "Level 1 goes by a receptacle",
        ),
        (
            {"charger_form": ChargerForm.CORD_SET, "attachment": Attachment.HARD_WIRED},
            "a cord set goes by a receptacle",
        ),
    ],
)
def test_a_charging_point_fits_together(fields: dict[str, Any], problem: str):
    with pytest.raises(ValidationError, match=problem):
        point(**fields)


def corrected(number: int = 9, **before: Any) -> tuple[Correction, ...]:
    return (Correction(number=number, at=NOON, **before),)


TWO_OF_A_NUMBER = (entry("breaker.condition", POINT, 1), entry("breaker.rating", POINT, 1))
ONE = TWO_OF_A_NUMBER[:1]
TAPE = Instrument(id="tape", kind=InstrumentKind.TAPE, name="Tape")


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({"points": (point(), point())}, "share one id"),
        ({"points": (point(id="site"),)}, "ids of their own"),
        ({"points": (point(id=PANEL),)}, "ids of their own"),
        ({"points": (point(panel="panel-z"),)}, "panel-z, which is not there"),
        ({"points": (point(nominal_v=208),)}, "208 V does not come from a 120/240 V"),
        ({"system": SupplySystem.WYE_208}, "240 V does not come from a 208Y/120 V"),
        ({"entries": TWO_OF_A_NUMBER}, "share one number"),
        ({"instruments": (TAPE, TAPE)}, "instruments share one id"),
        (
            {"states": (StateEntry(number=1, point="bay-9", state="energised", at=NOON),)},
            "charging point that is not there",
        ),
        ({"corrections": corrected(points=(point(id="bay-9"),))}, "a point that is not there"),
        ({"corrections": corrected(points=(point(panel="p9"),))}, "p9, which is not there"),
        ({"corrections": corrected(points=(point(nominal_v=208),))}, "208 V does not come"),
        ({"corrections": corrected(panels=(Panel(id="p9", name="P"),))}, "that is not there"),
        ({"corrections": corrected(1, code="cec_2021"), "entries": ONE}, "share one number"),
        ({"panels": ()}, "panels"),
        ({"points": ()}, "points"),
    ],
)
def test_a_visit_hangs_together(fields: dict[str, Any], problem: str):
    with pytest.raises(ValidationError, match=problem):
        visit(**fields)


def test_a_correction_says_what_stood_before():
    with pytest.raises(ValidationError, match="what stood before"):
        corrected()


def test_a_vehicle_is_recorded_only_where_somebody_was_asked():
    with pytest.raises(ValidationError, match="nobody was asked"):
        point(inlet=Coupler.TYPE_1, is_vehicle_asked=False)


def test_a_record_gives_back_its_installation_as_it_stood_at_each_number():
    first, second = point(name="Bay"), point(name="Bay A")
    made = visit(corrections=(*corrected(5, points=(second,)), *corrected(2, points=(first,))))
    assert [made.as_it_stood(n).points[0].name for n in (1, 2, 4, 5, 9)] == [
        "Bay",
        "Bay A",
        "Bay A",
        "Bay 1",
        "Bay 1",
    ]
    assert made.as_it_stood(5) is made
    assert {"Bay", "Bay A", "Bay 1"} <= own_words(made)


def test_level_1_and_hard_wired_go_with_both_supplies():
    made = visit(
        system=SupplySystem.WYE_208,
        points=(level_1(), hard_wired(id="bay-2", nominal_v=208)),
    )
    assert made.point("bay-2").nominal_v == 208
    assert made.name_of("bay-2") == made.name_of(POINT) == "Bay 1"
    assert made.name_of(PANEL) == "Panel A"
    assert made.name_of("site") == "Invented site"
    with pytest.raises(KeyError, match="bay-3"):
        made.point("bay-3")


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("at", "2025-06-02 12:00:00Z"),
        ("at", "2025-06-02T12:00:00"),  # no offset: a time of which place
        ("at", "2025-13-02T12:00:00Z"),
        ("at", "2025-06-02T12:00:00Z\n"),
        ("at", "٢٠٢٥-06-02T12:00:00Z"),
        ("check", "Outlet.Damage"),
        ("check", "../outlet"),
        ("note", "a bell \x07"),
        ("note", "x" * 2001),
        ("photos", ["not-a-hash.jpg"]),
        ("number", 0),
        ("number", 1.0),
        ("number", "1"),
    ],
)
def test_a_malformed_field_is_refused_by_name(field: str, text: object):
    document = json.loads(entry("breaker.condition", POINT, 1).model_dump_json())
    with pytest.raises(ValidationError, match=field):
        Entry.model_validate_json(json.dumps({**document, field: text}))


def test_a_category_covers_the_ones_below_it():
    # IEC 61010-2-030: the categories rise from plug-in loads to the service entrance
    assert Category.CAT_IV.covers(Category.CAT_III)
    assert Category.CAT_III.covers(Category.CAT_III)
    assert not Category.CAT_II.covers(Category.CAT_III)
    assert not Category.NONE.covers(Category.CAT_II)


def test_who_inspects_opens_nothing():
    assert [r for r in Role if not r.opens] == [Role.INSPECTS]


def test_a_bare_number_is_no_reading():
    with pytest.raises(ValidationError, match="value"):
        Reading.model_validate_json(
            json.dumps({"input": "length", "value": 30.5, "unit": "m", "at": NOON})
        )


def test_the_panel_takes_no_unknown_field():
    with pytest.raises(ValidationError, match="rating"):
        Panel(id="p", name="P", rating=200)  # type: ignore[call-arg]


def test_a_persons_own_words_are_all_that_people_wrote_and_nothing_that_the_code_did() -> None:
    made = json.loads(
        visit(
            entries=(
                entry("outlet.damage", POINT, 1),
                entry("outlet.damage", POINT, 2),
            )
        ).model_dump_json()
    )
    made["site"] |= {"owner": "Sam", "permit_number": "P-7"}
    made["entries"][0] |= {"note": "loose at L1", "notes_before": ["looks fine"]}
    made["entries"][0]["answers"] = [{"kind": "text", "input": "what", "text": "a kettle"}]
    made["entries"][0]["cautions"] = ["Off is not dead."]
    made["entries"][1] |= {"answers": [], "not_done": {"reason": "no access", "text": "wall"}}
    found = own_words(Visit.model_validate_json(json.dumps(made)))
    assert {"Sam", "P-7", "loose at L1", "looks fine", "a kettle", "wall"} <= found
    assert made["site"]["name"] in found
    assert not found & {"Off is not dead.", ""}
