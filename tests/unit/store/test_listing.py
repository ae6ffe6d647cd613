"""The list of visits: derived, quick the second time, and never trusted over the files."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from checks.errors import RecordTooNewError
from fieldapp.store.canonical import Doc
from fieldapp.store.listing import Listing, MadeBy
from fieldapp.store.visits import Store, Stored
from tests.fakes.plain_visit import plain_visit
from tests.unit.store.test_photos import picture

MADE_BY = MadeBy(form="1", software="1")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path) as store:
        yield store


class Summaries:
    """Counts how many visits had to be read."""

    def __init__(self, store: Store) -> None:
        self.store, self.read = store, 0

    def summarise(self, stored: Stored) -> Doc:
        self.read += 1
        return {"revision": stored.visit["revision"], "is_signed": stored.seal is not None}

    def listing(self, software: str = "1", form: str = "1") -> tuple[Listing, int]:
        self.read = 0
        return self.store.listing(self.summarise, MadeBy(form, software)), self.read


def age(folder: Path, seconds: float) -> None:
    """Let the files be older than the clock's tick, as if time had passed."""
    for path in folder.iterdir():
        at = path.stat().st_mtime - seconds
        os.utime(path, (at, at))


def test_an_empty_store_lists_nothing(store: Store) -> None:
    listing, _ = Summaries(store).listing()
    assert listing == Listing({}, {}, frozenset())


def test_only_visits_that_changed_are_read_again(store: Store, tmp_path: Path) -> None:
    summaries = Summaries(store)
    for n in range(5):
        store.save(plain_visit(f"visit-{n}"))
    age(tmp_path / "visits", 10)
    first, read = summaries.listing()
    assert (list(first.summaries), read) == ([f"visit-{n}" for n in range(5)], 5)
    assert summaries.listing() == (first, 0)
    store.save(plain_visit("visit-3", revision=7))
    store.seal("visit-3", {"by": "nobody"})
    second, read = summaries.listing()
    assert second.summaries["visit-3"] == {"revision": 7, "is_signed": True}
    assert read == 1


def test_a_file_as_young_as_the_clocks_tick_is_read_again(store: Store) -> None:
    summaries = Summaries(store)
    store.save(plain_visit())
    summaries.listing()
    assert summaries.listing()[1] == 1


def test_summaries_of_another_version_are_made_anew(store: Store, tmp_path: Path) -> None:
    summaries = Summaries(store)
    store.save(plain_visit())
    age(tmp_path / "visits", 10)
    summaries.listing("1")
    assert summaries.listing("2")[1] == 1
    assert summaries.listing("2")[1] == 0
    assert summaries.listing("2", form="2")[1] == 1


def test_the_summary_of_a_signed_visit_stands_under_other_software(
    store: Store, tmp_path: Path
) -> None:
    summaries = Summaries(store)
    for visit_id in ("open", "signed"):
        store.save(plain_visit(visit_id))
    store.seal("signed", {"by": "nobody"})
    age(tmp_path / "visits", 10)
    first, read = summaries.listing("1")
    assert read == 2
    assert summaries.listing("2") == (first, 1)
    assert summaries.listing("2", form="2") == (first, 2)


@pytest.mark.parametrize(
    "snapshot",
    [
        b"",
        b"\xff",
        b"[]",
        b"{}",
        b'{"form": "1", "software": "1", "at": 99999999999999999999, "of": {"visit-1": [1, 2]}}',
        b'{"form": "1", "software": "1", "at": "x", "of": {}}',
        b'{"form": "1", "software": "1", "at": 1, "of": []}',
        b'{"form": "1", "software": "1", "at": 1, "of": {"ghost": [1, 2, 3, {}, [], false]}}',
        b'{"form": "1", "software": "2", "at": 1, "of": {"ghost": [1, 2, 3, {}, [], true]}}',
        b"[" * 100_000,
    ],
)
def test_a_snapshot_of_any_content_changes_nothing(
    store: Store, tmp_path: Path, snapshot: bytes
) -> None:
    store.save(plain_visit())
    (tmp_path / "listing.json").write_bytes(snapshot)
    listing, _ = Summaries(store).listing()
    assert listing.summaries == {"visit-1": {"revision": 0, "is_signed": False}}


def test_a_damaged_visit_needs_attention_and_stays_as_it_is(store: Store, tmp_path: Path) -> None:
    store.save(plain_visit("whole"))
    store.save(plain_visit("torn"))
    torn = tmp_path / "visits" / "torn.json"
    torn.write_bytes(b'{"visit": {"1"')
    (tmp_path / "visits" / "Not An Id.json").write_bytes(b"{}")
    for _ in range(2):
        listing, _ = Summaries(store).listing()
        assert list(listing.summaries) == ["whole"]
        assert sorted(listing.needs_attention) == ["Not An Id", "torn"]
        assert "ends too early" in str(listing.needs_attention["torn"])
    assert torn.read_bytes() == b'{"visit": {"1"'


def test_a_record_that_the_summary_cannot_read_needs_attention(store: Store) -> None:
    store.save(plain_visit())

    def refuse(stored: Stored) -> Doc:
        raise RecordTooNewError("too new", where="visit", remedy="Update the app")

    assert isinstance(store.listing(refuse, MADE_BY).needs_attention["visit-1"], RecordTooNewError)


def test_a_full_disk_does_not_hide_the_list(store: Store, tmp_path: Path) -> None:
    store.save(plain_visit())
    (tmp_path / "listing.json").mkdir()  # nothing can be written there
    assert list(Summaries(store).listing()[0].summaries) == ["visit-1"]


def test_photos_that_a_visit_or_draft_or_the_app_names_are_not_swept(
    store: Store, tmp_path: Path
) -> None:
    names = [store.photos.add(picture((n, 8))) for n in range(1, 5)]
    store.save(plain_visit(photos=[names[0]]), draft={"photo": names[1]})
    store.app_state.save({"pending": f"photos/{names[2]}"})
    listing, _ = Summaries(store).listing()
    assert listing.photos == {names[0], names[1]}
    assert store.sweep_photos(listing, datetime.now(UTC)) == 0  # all are young
    assert store.sweep_photos(listing, datetime.now(UTC) + timedelta(days=2)) == 1
    assert {p.name for p in (tmp_path / "photos").iterdir()} == set(names[:3])


def test_nothing_is_swept_while_a_visit_needs_attention(store: Store, tmp_path: Path) -> None:
    store.photos.add(picture())
    (tmp_path / "visits" / "torn.json").write_bytes(b"")
    listing, _ = Summaries(store).listing()
    assert store.sweep_photos(listing, datetime.now(UTC) + timedelta(days=2)) == 0


def test_a_long_listing_that_is_killed_goes_on_from_what_it_read(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.store.listing._REMEMBER_EVERY", 2)
    for n in range(5):
        store.save(plain_visit(f"visit-{n}"))
    age(tmp_path / "visits", 10)
    summaries = Summaries(store)

    def killed(stored: Stored) -> Doc:
        if stored.visit["id"] == "visit-4":
            raise KeyboardInterrupt
        return summaries.summarise(stored)

    with pytest.raises(KeyboardInterrupt):
        store.listing(killed, MADE_BY)
    listing, read = summaries.listing()
    assert (len(listing.summaries), read) == (5, 2)
