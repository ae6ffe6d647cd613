"""The one door for a record from outside: each mistake is named with its field and its remedy."""

import copy
import json
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, Final

import pytest

from checks.check import Rating
from checks.errors import RecordError, RecordTooNewError
from checks.intake import read_visit
from checks.path import subjects
from checks.record import (
    SCHEMA_VERSION,
    Correction,
    Coupler,
    MarkShape,
    Panel,
    Site,
    SupplySystem,
    Unsigned,
    Visit,
)
from checks.stations.all import CHECKS
from checks.units import Dimension
from tests.builders import NOON, PANEL, POINT, entry, point, visit, with_entries

Document = dict[str, Any]
SCENARIOS: Final = Path(__file__).parents[1] / "scenarios"


def document() -> Document:
    """A sound record with an entry of every kind of answer."""
    made = visit(panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")))
    filled = with_entries(
        made,
        {
            "run.length": {"length": "30.5 m", "basis": "measured"},
            "breaker.rating": {"rated_a": "40 A", "poles": "2"},
            "breaker.condition": {"has_heat_marks": False},
        },
    )
    return copy.deepcopy(filled.model_dump(mode="json"))


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


def assert_found(pattern: str, text: str) -> None:
    __tracebackhide__ = True
    with pytest.raises(RecordError, match=pattern):
        raise RecordError(text, where="", remedy="")


def test_a_later_schema_is_refused_before_its_fields_are_read():
    record = {"schema_version": 5, "whatever": [1, 2, 3]}
    with pytest.raises(RecordTooNewError, match="schema version 5 is later than 4"):
        read_visit(record)


@pytest.mark.parametrize("named", ["Invented Owner", ""])
def test_a_record_of_the_first_schema_is_read_with_its_witness(named: str):
    """The file is frozen: it stays as the first schema wrote it."""
    frozen = json.loads((SCENARIOS / "schema_1.json").read_text(encoding="utf-8"))
    frozen["signoff"]["witness"] = named
    read = read_visit(frozen)
    assert read.schema_version == SCHEMA_VERSION
    assert read.signoff is not None
    witness = read.signoff.witness
    assert (witness and (witness.name, witness.unsigned)) == (
        (named, Unsigned.NOT_ASKED) if named else None
    )
    assert read_visit(read.model_dump(mode="json")) == read


@pytest.mark.parametrize("signoff", [5, {"witness": 5}, {"witness": {"name": 5}}, []])
def test_what_was_no_record_of_the_first_schema_is_none_of_this_one(signoff: object):
    frozen = json.loads((SCENARIOS / "schema_1.json").read_text(encoding="utf-8"))
    with pytest.raises(RecordError, match="signoff"):
        read_visit({**frozen, "signoff": signoff})


def test_a_record_of_the_second_schema_is_read_with_its_marks():
    """The file is frozen: one photo has the one mark of that schema, the other has none."""
    frozen = json.loads((SCENARIOS / "schema_2.json").read_text(encoding="utf-8"))
    read = read_visit(frozen)
    assert read.schema_version == SCHEMA_VERSION
    marked, plain = read.entries[0].photos
    (mark,) = marked.marks
    assert (mark.shape, mark.x, mark.from_y) == (MarkShape.ARROW, 4000, 1000)
    assert plain.marks == ()
    assert read_visit(read.model_dump(mode="json")) == read


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (lambda entry: entry.update(photos=5), r"entries\[0\].photos"),
        (lambda entry: entry.update(photos=[5]), r"photos\[0\]"),
        (lambda entry: entry["photos"][0].update(mark=5), r"photos\[0\].marks"),
        (lambda entry: entry["photos"][0]["mark"].update(shape="o"), r"marks\[0\].shape"),
        (lambda entry: entry["photos"][0].update(mark=[]), r"photos\[0\].marks"),
    ],
)
def test_what_was_no_photo_of_the_second_schema_is_none_of_this_one(
    change: Callable[[Document], None], where: str
):
    frozen = json.loads((SCENARIOS / "schema_2.json").read_text(encoding="utf-8"))
    change(frozen["entries"][0])
    with pytest.raises(RecordError, match=where):
        read_visit(frozen)


def test_a_record_of_the_third_schema_is_read_with_nothing_corrected():
    """The file is frozen: in it every vehicle was asked for, and nothing could be corrected."""
    frozen = json.loads((SCENARIOS / "schema_3.json").read_text(encoding="utf-8"))
    assert "corrections" not in frozen
    read = read_visit(frozen)
    assert (read.schema_version, read.corrections) == (SCHEMA_VERSION, ())
    assert [p.is_vehicle_asked for p in read.points] == [True]
    assert [e.check for e in read.entries] == [e["check"] for e in frozen["entries"]]
    assert read_visit(read.model_dump(mode="json")) == read


def test_an_entry_belongs_to_what_was_installed_when_it_was_made():
    """The adapter was there until the inlet was corrected; later none can be recorded."""
    made = visit(entries=(entry("adapter.pins", POINT, 2, is_pitted=False),))
    before = point(inlet=Coupler.J3400)
    corrected = made.model_copy(
        update={"corrections": (Correction(number=3, at=NOON, points=(before,)),)}
    )
    assert read_visit(corrected.model_dump(mode="json")) == corrected
    late = {"corrections": (Correction(number=1, at=NOON, points=(before,)),)}
    with pytest.raises(RecordError, match="cannot be recorded"):
        read_visit(made.model_copy(update=late).model_dump(mode="json"))


BAY, RENAMED = point(name="Bay"), point(name="Bay 1")  # before, and as it stands


@pytest.mark.parametrize(
    ("before", "where", "problem", "remedy"),
    [
        ({"code": "nec_1066"}, "number 3, code", "no code profile 'nec_1066'", "Use nec_2023 or"),
        ({"code": "nec_2023"}, "number 3, code", "what stood after it", "only what was corrected"),
        ({"points": (RENAMED,)}, "number 3, points", "what stood after it", "only what was"),
        ({"site": Site(name="Invented site")}, "number 3, site", "stood after it", "only what was"),
        ({"system": SupplySystem.SPLIT_PHASE}, "number 3, system", "stood after it", "only what"),
        ({"panels": (Panel(id=PANEL, name="Panel A"),)}, "3, panels", "stood after it", "only"),
        ({"points": (BAY, point(name="B"))}, "number 3, points", "corrected twice", "once each"),
        (
            {"panels": (Panel(id=PANEL, name="B"), Panel(id=PANEL, name="C"))},
            "number 3, panels",
            "corrected twice",
            "once each",
        ),
    ],
)
def test_a_correction_that_says_what_was_not_so_is_refused(
    before: dict[str, Any], where: str, problem: str, remedy: str
):
    made = visit().model_copy(update={"corrections": (Correction(number=3, at=NOON, **before),)})
    with pytest.raises(RecordError, match=problem) as caught:
        read_visit(made.model_dump(mode="json"))
    assert_found(where, caught.value.where)
    assert_found(remedy, caught.value.remedy)


def test_a_correction_is_held_against_what_stood_after_it_and_not_against_what_stands_now():
    """Corrected, and corrected back: each says what stood before it."""
    there = Correction(number=3, at=NOON, points=(RENAMED,))
    back = Correction(number=4, at=NOON, points=(BAY,))
    made = visit().model_copy(update={"corrections": (there, back)})
    assert read_visit(made.model_dump(mode="json")) == made


@pytest.mark.parametrize("version", [1, 2, 3])
@pytest.mark.parametrize(
    ("name", "where"), [("corrections", "corrections"), ("is_vehicle_asked", "is_vehicle_asked")]
)
def test_a_record_of_an_earlier_schema_holds_no_field_of_this_one(
    version: int, name: str, where: str
):
    frozen = json.loads((SCENARIOS / f"schema_{version}.json").read_text(encoding="utf-8"))
    if name == "corrections":
        frozen["corrections"] = []
    else:
        frozen["points"][0]["is_vehicle_asked"] = True
    with pytest.raises(RecordError, match="not of the schema version") as caught:
        read_visit(frozen)
    assert caught.value.where == where


def test_the_longest_row_of_corrections_is_read_in_one_sweep_back(monkeypatch: pytest.MonkeyPatch):
    """No step of the reading goes over the corrections once for each entry or correction."""
    swept: list[int] = []
    real = Visit.as_it_stood_at

    def counted(self: Visit, numbers: Iterable[int]) -> Mapping[int, Visit]:
        swept.append(len(self.corrections))
        return real(self, numbers)

    monkeypatch.setattr(Visit, "as_it_stood_at", counted)
    entries = tuple(entry("adapter.pins", POINT, 2 * n, is_pitted=False) for n in (1, 2, 3))
    corrections = tuple(
        Correction(number=2 * n + 1, at=NOON, points=(point(name=f"B{n}", inlet=Coupler.J3400),))
        for n in (1, 2, 3)
    )
    made = visit().model_copy(update={"entries": entries, "corrections": corrections})
    swept.clear()
    assert read_visit(made.model_dump(mode="json")) == made
    assert swept == [3, 3], "once for how it hangs together, once for its entries"


@pytest.mark.parametrize("entries", [5, {}, [5], [{"photos": {}}]])
def test_entries_that_never_were_are_refused(entries: object):
    frozen = json.loads((SCENARIOS / "schema_2.json").read_text(encoding="utf-8"))
    with pytest.raises(RecordError, match="entries"):
        read_visit({**frozen, "entries": entries})


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


@pytest.mark.parametrize("version", [0, -1, "1", 1.5, None, True])
def test_a_version_that_never_was_is_refused(version: object):
    with pytest.raises(RecordError, match="schema_version"):
        read_visit({**document(), "schema_version": version})


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
