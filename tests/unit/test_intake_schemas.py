"""Records of earlier schemas come in as they were written; of later ones, none does."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest

from checks.errors import RecordError, RecordTooNewError
from checks.intake import read_visit
from checks.record import SCHEMA_VERSION, MarkShape, Unsigned
from tests.unit.intake_records import Document, document

SCENARIOS: Final = Path(__file__).parents[1] / "scenarios"


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


@pytest.mark.parametrize("entries", [5, {}, [5], [{"photos": {}}]])
def test_entries_that_never_were_are_refused(entries: object):
    frozen = json.loads((SCENARIOS / "schema_2.json").read_text(encoding="utf-8"))
    with pytest.raises(RecordError, match="entries"):
        read_visit({**frozen, "entries": entries})


@pytest.mark.parametrize("version", [0, -1, "1", 1.5, None, True])
def test_a_version_that_never_was_is_refused(version: object):
    with pytest.raises(RecordError, match="schema_version"):
        read_visit({**document(), "schema_version": version})
