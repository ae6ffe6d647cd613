"""The one door for a record from outside: each mistake is named with its field and its remedy."""

from collections.abc import Callable
from typing import Any

import pytest

from checks.check import Rating
from checks.errors import RecordError
from checks.intake import read_visit
from checks.path import subjects
from checks.record import Coupler
from checks.stations.all import CHECKS
from checks.units import Dimension
from tests.builders import NOON, PANEL, POINT, point, visit
from tests.unit.intake_records import Document, assert_found, document


def test_a_sound_record_is_let_in():
    assert len(read_visit(document()).entries) == 3


def put(path: str, value: object) -> Callable[[Document], None]:
    """Write one value at a path such as ``entries.0.answers.1.value``."""

    def change(record: Document) -> None:
        *way, last = [int(part) if part.isdigit() else part for part in path.split(".")]
        at: Any = record
        for part in way:
            at = at[part]
        at[last] = value

    return change


def drop(path: str) -> Callable[[Document], None]:
    def change(record: Document) -> None:
        *way, last = [int(part) if part.isdigit() else part for part in path.split(".")]
        at: Any = record
        for part in way:
            at = at[part]
        del at[last]

    return change


LENGTH = "entries.0.answers.0"
NOT_DONE = {"reason": "no access", "text": ""}
PLAIN = r"no exponent, no NaN, no bare number"
NUMBER = r"plain decimal number in quotes"

# What is done to the record, where the message says it is, what is wrong, what to do about it.
MISTAKES = [
    ("unknown field", put("weather", "rain"), "weather", "Extra", "Remove the field"),
    (
        "unknown field of an entry",
        put("entries.0.verdict", "within"),
        r"entries\[0\]\.verdict",
        "Extra",
        "Remove the field",
    ),
    ("missing field", drop("technician"), "technician", "required", "Add the field"),
    (
        "bare number",
        put(f"{LENGTH}.value", 30.5),
        r"entries\[0\]\.answers\[0\]\.value",
        NUMBER,
        PLAIN,
    ),
    ("bare integer", put(f"{LENGTH}.value", 30), r"value", NUMBER, PLAIN),
    ("words for a decimal", put(f"{LENGTH}.value", "thirty"), r"value", NUMBER, PLAIN),
    ("not a number", put(f"{LENGTH}.value", "NaN"), r"value", NUMBER, PLAIN),
    ("infinity", put(f"{LENGTH}.value", "Infinity"), r"value", NUMBER, PLAIN),
    ("exponent", put(f"{LENGTH}.value", "3e1"), r"value", NUMBER, PLAIN),
    ("comma", put(f"{LENGTH}.value", "30,5"), r"value", NUMBER, PLAIN),
    ("empty", put(f"{LENGTH}.value", ""), r"value", NUMBER, PLAIN),
    ("float that is none", put("revision", float("nan")), "record", "not a JSON document", "Check"),
    (
        "wrong sign",
        put(f"{LENGTH}.value", "-30.5"),
        r"number 1, run\.length\.length, value",
        "below zero, and -30.5 m is",
        "without the sign, or measure again",
    ),
    (
        "unknown check",
        put("entries.0.check", "run.color"),
        "entries, number 1",
        r"no check 'run\.color'",
        "id of a known check",
    ),
    (
        "unknown input",
        put(f"{LENGTH}.input", "width"),
        r"number 1, run\.length\.width",
        "no input 'width'",
        "Use one of: .*length",
    ),
    (
        "unknown option",
        put("entries.1.answers.1.option", "3"),
        r"number 2, breaker\.rating\.poles",
        "'3' is not an option",
        "Use 1, 2",
    ),
    (
        "unknown subject",
        put("entries.0.subject", "bay-9"),
        "number 1, subject",
        r"run\.length cannot be recorded at 'bay-9'",
        f"Use one of: {POINT}",
    ),
    (
        "a point's check at a panel",
        put("entries.0.subject", PANEL),
        "number 1, subject",
        f"cannot be recorded at '{PANEL}'",
        f"Use one of: {POINT}",
    ),
    (
        "unknown unit",
        put(f"{LENGTH}.unit", "yd"),
        r"run\.length\.length, unit",
        "no unit 'yd'",
        "Use one of",
    ),
    (
        "unit of something else",
        put(f"{LENGTH}.unit", "V"),
        r"run\.length\.length, unit",
        "V does not fit here",
        "Use m, mm, cm, ft, in",
    ),
    (
        "unknown instrument",
        put(f"{LENGTH}.instrument", "ruler"),
        r"run\.length\.length, instrument",
        "'ruler' is not in the visit's list",
        "Use one of: .*measuring-tape",
    ),
    (
        "answer of another kind",
        put("entries.2.answers.0", {"kind": "text", "input": "has_heat_marks", "text": "no"}),
        r"number 3, breaker\.condition\.has_heat_marks",
        "cannot be answered with a text",
        "Answer it with a yes_no",
    ),
    (
        "one input twice",
        lambda d: d["entries"][0]["answers"].append(d["entries"][0]["answers"][0]),
        "number 1",
        "answered twice",
        "one answer an input",
    ),
    (
        "one number twice",
        put("entries.1.number", 1),
        "record",
        "two entries share one number",
        "Correct",
    ),
    (
        "done and not done",
        put("entries.0.not_done", NOT_DONE),
        "number 1",
        "answers, or the reason",
        "exactly one of the two",
    ),
    (
        "neither done nor not",
        put("entries.0.answers", []),
        "number 1",
        "answers, or the reason",
        "exactly one of the two",
    ),
    ("wrong date", put("started", "2025-02-30T12:00:00Z"), "started", "day is out", "Correct"),
    ("number for text", put("site.name", 7), r"site\.name", "valid string", "text in quotes"),
    (
        "kind of visit",
        put("kind", "inspection"),
        "kind",
        "'commissioning', 'site record' or 'service call'",
        "Correct the field",
    ),
    (
        "contradiction",
        put("points.0.nominal_v", 208),
        "record",
        "208 V does not come from a 120/240 V",
        "Correct",
    ),
    (
        "accuracy below zero",
        put(
            "instruments.0.accuracy",
            [{"dimension": "V", "percent": "-1.0", "counts": 3}],
        ),
        r"instruments\[0\]\.accuracy\[0\]\.percent",
        "pattern",
        "the form that the schema asks for",
    ),
]


@pytest.mark.parametrize(
    ("change", "where", "problem", "remedy"),
    [pytest.param(*row[1:], id=row[0]) for row in MISTAKES],
)
def test_a_mistake_is_named_with_its_field_and_its_remedy(
    change: Callable[[Document], None], where: str, problem: str, remedy: str
):
    record = document()
    change(record)
    with pytest.raises(RecordError, match=problem) as caught:
        read_visit(record)
    error = caught.value
    assert_found(where, error.where)
    assert_found(remedy, error.remedy)
    assert "\n" not in str(error)


SIGNED = {"name": "Invented Owner", "role": "owner", "strokes": [[[1, 2]]]}


@pytest.mark.parametrize(
    ("witness", "problem"),
    [
        ({**SIGNED, "strokes": []}, "a drawn signature, or the reason"),
        ({**SIGNED, "unsigned": "would not sign"}, "a drawn signature, or the reason"),
        ({**SIGNED, "name": " "}, "has a name and a role"),
        ({**SIGNED, "role": None}, "has a name and a role"),
    ],
)
def test_a_witness_signs_with_name_and_role_or_there_is_a_reason(witness: Document, problem: str):
    signoff = {"at": NOON, "decision": "return to service", "strokes": [[[1, 2]]]}
    read_visit({**document(), "signoff": {**signoff, "witness": SIGNED}})
    with pytest.raises(RecordError, match=problem):
        read_visit({**document(), "signoff": {**signoff, "witness": witness}})


@pytest.mark.parametrize("record", [{}, {"entries": "none"}, {"points": {"a": 1}}])
def test_what_is_no_record_is_refused_by_its_first_gap(record: Document):
    with pytest.raises(RecordError, match=r"required|valid"):
        read_visit(record)


def test_a_reading_at_an_adapter_needs_an_adapter():
    """A station that a point does not have takes no entry, whatever its checks are called."""
    with_vehicle = visit(points=(point(inlet=Coupler.J3400),))
    assert read_visit(with_vehicle.model_dump(mode="json")) == with_vehicle
    record = document()
    record["entries"][0]["check"] = "adapter.anything"
    with pytest.raises(RecordError, match=r"adapter\.anything"):
        read_visit(record)


def test_a_count_is_whole():
    record = document()
    counted, name = next(
        (check, asked.name)
        for check in CHECKS
        for asked in check.inputs
        if isinstance(asked, Rating) and asked.dimension is Dimension.COUNT
    )
    reading = {"kind": "reading", "input": name, "unit": "pcs", "at": record["started"]}
    subject = subjects(counted.station, visit())[0]
    entry = {**record["entries"][0], "check": counted.id, "subject": subject}
    whole = {**entry, "answers": [{**reading, "value": "2"}]}
    assert read_visit({**record, "entries": [whole]})
    broken = {**entry, "answers": [{**reading, "value": "2.5"}]}
    with pytest.raises(RecordError, match=r"2\.5 pcs is no whole number"):
        read_visit({**record, "entries": [broken]})
