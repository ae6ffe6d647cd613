"""Somebody, or a failing memory chip, changes what is stored."""

import json
import random
from pathlib import Path
from typing import Any

import pytest

from fieldapp.store.errors import DamagedError, SealedError
from fieldapp.store.listing import MadeBy
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit

CONTENT = {"by": "an invented person", "assessment": {"verdict": "outside", "margin_v": -1.5}}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Give the file of a signed visit."""
    with Store(tmp_path) as store:
        store.save(plain_visit())
        store.seal("visit-1", CONTENT, report=b"%PDF-signed")
    return tmp_path / "visits" / "visit-1.json"


def change(file: Path, edit: Any) -> None:
    tables = json.loads(file.read_bytes())
    edit(tables["visit"]["1"], tables["seal"]["1"])
    file.write_text(json.dumps(tables), encoding="utf-8")


EDITS = {
    "a reading is improved": lambda v, s: v["entries"][0].update(volts="240.0"),
    "a reading is removed": lambda v, s: v["entries"].pop(),
    "a field is added": lambda v, s: v.update(note="all good"),
    "the verdict is improved": lambda v, s: s["content"]["assessment"].update(verdict="within"),
    "the margin is improved": lambda v, s: s["content"]["assessment"].update(margin_v=1.5),
    "another report is named": lambda v, s: s.update(report_sha256="0" * 64),
    "the report is no longer named": lambda v, s: s.update(report_sha256=None),
    "the hash is exchanged": lambda v, s: s.update(sha256="0" * 64),
    "the hash is removed": lambda v, s: s.pop("sha256"),
    "a field is added to the seal": lambda v, s: s.update(note="all good"),
    "the seal is emptied": lambda v, s: s.clear(),
    "a number becomes a float": lambda v, s: v.update(revision=0.0),
    "the content is no object": lambda v, s: s.update(content=[]),
}


@pytest.mark.parametrize("kind", EDITS)
def test_a_signed_visit_that_was_edited_is_damaged_and_kept(kind: str, file: Path) -> None:
    change(file, EDITS[kind])
    edited = file.read_bytes()
    with Store(file.parents[1]) as store:
        with pytest.raises(DamagedError):
            store.load("visit-1")
        with pytest.raises(SealedError):
            store.save(plain_visit(revision=9))
        assert list(store.listing(lambda s: {}, MadeBy("1", "1")).needs_attention) == ["visit-1"]
    assert file.read_bytes() == edited


def test_any_flipped_bit_in_a_signed_visit_is_found_or_changes_nothing(file: Path) -> None:
    whole = file.read_bytes()
    with Store(file.parents[1]) as store:
        good = store.load("visit-1")
        dice, found = random.Random(20260314), 0
        for _ in range(600):
            flipped = bytearray(whole)
            flipped[dice.randrange(len(whole))] ^= 1 << dice.randrange(8)
            file.write_bytes(flipped)
            try:
                assert (store.load("visit-1").visit, store.load("visit-1").seal) == (
                    good.visit,
                    good.seal,
                )
            except DamagedError:
                found += 1
    assert found > 590


def test_any_flipped_bit_in_an_open_visit_never_crashes_the_list(tmp_path: Path) -> None:
    dice = random.Random(20260315)
    with Store(tmp_path) as store:
        store.save(plain_visit(), draft={"typed": "2"})
        file = tmp_path / "visits" / "visit-1.json"
        whole = file.read_bytes()
        for _ in range(300):
            flipped = bytearray(whole)
            flipped[dice.randrange(len(whole))] ^= 1 << dice.randrange(8)
            file.write_bytes(flipped)
            listing = store.listing(lambda s: {}, MadeBy("1", "1"))
            assert len(listing.summaries) + len(listing.needs_attention) == 1
            assert file.read_bytes() == bytes(flipped)
