"""Visits from one device to another: nothing is lost on either side."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.store.bundle import Bundle, BundledVisit, read_bundle, write_bundle
from fieldapp.store.errors import DamagedError, SealedError, StaleRevisionError
from fieldapp.store.transfer import gather, take_in
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit
from tests.unit.store.test_photos import picture


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "here") as store:
        yield store


@pytest.fixture
def there(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "there") as store:
        yield store


def bundle_of(*visits: dict[str, object]) -> Bundle:
    return Bundle(tuple(BundledVisit(v) for v in visits), {})


def test_signed_and_open_visits_arrive_with_photos_and_reports(
    here: Store, there: Store, tmp_path: Path
) -> None:
    photo = here.photos.add(picture())
    here.save(plain_visit("open", photos=[photo]), draft={"typed": "2"})
    here.save(plain_visit("signed", photos=[photo]))
    here.seal("signed", {"by": "an invented person"}, report=b"%PDF-signed")
    bundle = gather(here, ["open", "signed"])
    write_bundle(tmp_path / "b.zip", bundle.visits, bundle.photos)
    taken = take_in(there, read_bundle(tmp_path / "b.zip"))
    assert (taken.stored, taken.same, taken.refused) == (("open", "signed"), (), {})
    assert there.load("signed") == here.load("signed")
    assert there.load("open").visit == here.load("open").visit
    assert there.load("open").draft == {}
    assert there.photos.load(photo) == here.photos.load(photo)
    assert there.report_path("signed").read_bytes() == b"%PDF-signed"


def test_a_second_import_changes_nothing(here: Store, there: Store) -> None:
    here.save(plain_visit())
    here.seal("visit-1", {"by": "an invented person"})
    bundle = gather(here, ["visit-1"])
    take_in(there, bundle)
    taken = take_in(there, bundle)
    assert (taken.stored, taken.same, taken.refused) == ((), ("visit-1",), {})


def test_an_older_or_different_visit_is_refused_and_the_others_arrive(here: Store) -> None:
    here.save(plain_visit("mine", revision=5))
    older, other = plain_visit("mine", revision=4), plain_visit("mine", revision=5, note="x")
    for visit in (older, other):
        taken = take_in(here, bundle_of(visit, plain_visit(f"new-{visit['revision']}")))
        assert isinstance(taken.refused["mine"], StaleRevisionError)
    assert here.load("mine").visit == plain_visit("mine", revision=5)
    assert here.load("new-4").visit["revision"] == 0


def test_a_newer_visit_replaces_an_open_one(here: Store) -> None:
    here.save(plain_visit(revision=1))
    assert take_in(here, bundle_of(plain_visit(revision=2))).stored == ("visit-1",)
    assert here.load("visit-1").visit["revision"] == 2


def test_a_signature_arrives_for_a_visit_that_was_open_here(here: Store, there: Store) -> None:
    for store in (here, there):
        store.save(plain_visit())
    here.seal("visit-1", {"by": "an invented person"})
    assert take_in(there, gather(here, ["visit-1"])).stored == ("visit-1",)
    assert there.load("visit-1").seal == here.load("visit-1").seal


def test_nothing_from_outside_replaces_a_signed_visit(here: Store, there: Store) -> None:
    here.save(plain_visit())
    here.seal("visit-1", {"by": "an invented person"}, report=b"%PDF-mine")
    there.save(plain_visit())
    there.seal("visit-1", {"by": "somebody else"}, report=b"%PDF-theirs")
    before = here.load("visit-1")
    for bundle in (gather(there, ["visit-1"]), bundle_of(plain_visit(revision=9))):
        taken = take_in(here, bundle)
        assert isinstance(taken.refused["visit-1"], SealedError)
    assert here.load("visit-1") == before
    assert here.report_path("visit-1").read_bytes() == b"%PDF-mine"


def test_a_damaged_visit_is_not_replaced_by_an_import(here: Store, tmp_path: Path) -> None:
    here.save(plain_visit())
    file = tmp_path / "here" / "visits" / "visit-1.json"
    file.write_bytes(b"torn")
    taken = take_in(here, bundle_of(plain_visit(revision=9)))
    assert isinstance(taken.refused["visit-1"], DamagedError)
    assert file.read_bytes() == b"torn"


def test_a_visit_whose_photo_is_gone_is_not_exported_without_it(here: Store) -> None:
    photo = here.photos.add(picture())
    here.save(plain_visit(photos=[photo]))
    here.photos.path(photo).write_bytes(b"rotten")
    with pytest.raises(DamagedError, match=f"photo {photo}"):
        gather(here, ["visit-1"])
