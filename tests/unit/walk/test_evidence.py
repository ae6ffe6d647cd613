"""Photos as evidence: added, ordered, marked, deleted and put back, each step across a kill."""

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image

from checks.record import PHOTOS_MOST, TEXT_MOST, Mark, MarkShape, Photo, Place
from checks.stations.all import BY_ID
from fieldapp.report.embedded import digest, document
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.observed import proposed_note, to_photograph
from tests.builders import POINT, visit
from tests.unit.store.test_photos import HOSTILE, picture, with_place
from tests.unit.walk.reopened import Reopened

CHECK = "breaker.rating"
OPEN = f"{CHECK}@{POINT}"
MARK = Mark(shape=MarkShape.ARROW, x=4000, y=3000, from_x=1000, from_y=1000)
ROUND = Mark(shape=MarkShape.CIRCLE, x=7000, y=2000, from_x=8000, from_y=2000)


@pytest.fixture
def walked(tmp_path: Path) -> Iterator[Reopened]:
    """A visit with the breaker's rating being read, one answer given."""
    made = Reopened(tmp_path, visit())
    made.answers(CHECK, "40 A")
    yield made
    made.close()


def taken(w: Reopened, data: bytes) -> Path:
    file = w.folder / "photo-pending.jpg"
    file.write_bytes(data)
    return file


def add(w: Reopened, key: str, data: bytes) -> str:
    name = w.do(lambda walk: walk.store_photo(taken(w, data)))
    w.do(lambda walk: walk.attach_photo(name, key))
    return name


def names(w: Reopened, key: str) -> list[str]:
    return [p.name for p in w.walk.photos(key)]


def three(w: Reopened, key: str = OPEN) -> list[str]:
    return [add(w, key, picture((40 + n, 30))) for n in range(3)]


def commit(w: Reopened) -> str:
    w.do(lambda walk: walk.answer("2"))
    row = w.do(lambda walk: walk.commit())
    return f"{row.check}@{row.subject}@{row.entry}"


def test_photos_of_the_open_check_become_photos_of_its_entry(walked: Reopened) -> None:
    made = three(walked)
    key = commit(walked)
    assert names(walked, key) == made
    assert photos_key(walked.walk.visit.entries[-1], is_made=True) == key
    assert all(p.at.startswith("2025-06-02T09:00") for p in walked.walk.photos(key))
    walked.refused(lambda walk: walk.photos(OPEN), "is not open")


def test_a_photo_is_added_to_a_check_that_is_made_and_its_answers_stay(walked: Reopened) -> None:
    key = commit(walked)
    before = walked.walk.visit.entries[-1]
    name = add(walked, key, picture())
    after = walked.walk.visit.entries[-1]
    assert [p.name for p in after.photos] == [name]
    assert after.model_copy(update={"photos": ()}) == before
    assert walked.do(lambda walk: walk.undo())
    assert names(walked, OPEN) == [name]


@pytest.mark.parametrize("is_made", [False, True])
def test_photos_are_moved_marked_deleted_and_put_back(walked: Reopened, is_made: bool) -> None:
    key = commit(walked) if is_made else OPEN
    a, b, c = three(walked, key)
    walked.do(lambda walk: walk.move_photo(c, -1, key))
    assert names(walked, key) == [a, c, b]
    walked.do(lambda walk: walk.move_photo(a, 9, key))
    assert names(walked, key) == [c, b, a]
    walked.do(lambda walk: walk.mark_photo(b, (MARK, ROUND), key))
    photo, place = walked.do(lambda walk: walk.delete_photo(b, key))
    assert (photo.marks, place, names(walked, key)) == ((MARK, ROUND), 1, [c, a])
    walked.refused(lambda walk: walk.mark_photo(b, (), key), "it was deleted")
    walked.do(lambda walk: walk.put_back_photo(photo, place, key))
    assert names(walked, key) == [c, b, a]
    assert walked.walk.photos(key)[1].marks == (MARK, ROUND)


def test_a_mark_leaves_the_picture_untouched_and_is_part_of_what_is_signed(
    walked: Reopened,
) -> None:
    key = commit(walked)
    name = add(walked, key, picture())
    stored = walked.store.photos.load(name)
    signed = digest(document(walked.walk.visit))
    walked.do(lambda walk: walk.mark_photo(name, (MARK,), key))
    assert walked.store.photos.load(name) == stored
    assert digest(document(walked.walk.visit)) != signed
    assert name in str(document(walked.walk.visit))


def test_what_a_photo_is_for_is_on_disk_before_the_camera_opens(walked: Reopened) -> None:
    walked.do(lambda walk: walk.expect_photo(OPEN))
    assert walked.walk.awaits_photo == OPEN
    add(walked, OPEN, picture())
    assert walked.walk.awaits_photo == ""
    walked.do(lambda walk: walk.expect_photo(OPEN))
    walked.do(lambda walk: walk.expect_none())
    assert walked.walk.awaits_photo == ""
    walked.refused(lambda walk: walk.expect_photo(f"run.length@{POINT}"), "is not open")


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_picture_is_refused_and_the_check_stays_as_it_was(
    walked: Reopened, kind: str
) -> None:
    file = taken(walked, HOSTILE[kind])
    walked.refused(lambda walk: walk.store_photo(file), "JPEG or PNG picture")


def test_a_file_that_is_gone_or_far_too_large_is_refused_unread(walked: Reopened) -> None:
    gone = walked.folder / "gone.jpg"
    walked.refused(lambda walk: walk.store_photo(gone), "cannot be read")
    with gone.open("wb") as huge:
        huge.truncate(4_000_000_000)  # a film instead of a photo; it takes no room on the disk
    walked.refused(lambda walk: walk.store_photo(gone), "larger than 25 MB")


def test_the_same_picture_twice_and_too_many_are_refused(walked: Reopened) -> None:
    name = add(walked, OPEN, picture())
    walked.refused(lambda walk: walk.attach_photo(name, OPEN), "is here already")
    key = commit(walked)
    full = tuple(Photo(name=f"{n:064x}.jpg", at="2025-06-02T09:00:00Z") for n in range(PHOTOS_MOST))
    entry = walked.walk.visit.entries[-1].model_copy(update={"photos": full})
    walked.do(lambda walk: walk._change(entries=(entry,)))
    walked.refused(lambda walk: walk.attach_photo(name, key), "50 are the most")


def test_a_place_is_recorded_only_when_it_is_asked_for(walked: Reopened) -> None:
    name = add(walked, OPEN, with_place())
    with Image.open(io.BytesIO(walked.store.photos.load(name))) as stored:
        assert not stored.getexif()
    assert walked.walk.photos(OPEN)[0].place is None
    offered = walked.walk.place_offered(name)
    # by hand from the degrees, minutes and seconds in the picture
    assert offered == Place(latitude_deg="-47.05000", longitude_deg="-8.01000")
    walked.do(lambda walk: walk.keep_place(name, offered, OPEN))
    assert walked.walk.photos(OPEN)[0].place == offered
    walked.do(lambda walk: walk.keep_place(name, None, OPEN))
    assert walked.walk.photos(OPEN)[0].place is None


# -- words ---------------------------------------------------------------------------------------
def test_a_note_is_proposed_from_what_the_check_saw_and_from_nothing_else(
    walked: Reopened,
) -> None:
    note = proposed_note(BY_ID[CHECK], walked.walk.questions.entry, walked.walk.preview())
    assert "40 A" in note
    three(walked)
    walked.do(lambda walk: walk.mark_photo(names(walked, OPEN)[0], (MARK,), OPEN))
    entry = walked.walk.questions.entry
    assert proposed_note(BY_ID[CHECK], entry, walked.walk.preview()).endswith("3, 1 marked.")
    assert walked.walk.questions.entry.note == ""
    empty = entry.model_copy(update={"answers": ()})
    assert proposed_note(BY_ID[CHECK], empty, walked.walk.preview()) == ""


def test_every_check_says_what_to_photograph_and_a_note_fits_the_record(walked: Reopened) -> None:
    entry = walked.walk.questions.entry
    for check in BY_ID.values():
        lines = to_photograph(check, entry)
        assert lines[0].startswith("From a step away: ")
        assert len(lines) >= 2 or not check.inputs
        assert len(proposed_note(check, entry, walked.walk.preview())) <= TEXT_MOST


def test_a_note_is_written_anew_until_the_sign_off_and_what_it_said_stays(walked: Reopened) -> None:
    w = walked
    w.do(lambda walk: walk.answer("2"))
    w.do(lambda walk: walk.commit())
    (made,) = w.walk.visit.entries
    key = photos_key(made, is_made=True)
    w.do(lambda walk: walk.note_anew(" Handle worn ", key, begun=made))
    first = w.walk.entry_of(key)
    assert (first.note, first.notes_before) == ("Handle worn", ())
    for typed in ("Handle ", "Handle replaced"):  # kept at each pause; the writing began once
        w.do(lambda walk, typed=typed: walk.note_anew(typed, key, begun=first))
    now = w.walk.entry_of(key)
    assert (now.note, now.notes_before) == ("Handle replaced", ("Handle worn",))
    assert now.answers == made.answers
    w.do(lambda walk: walk.note_anew("Handle worn", key, begun=first))
    assert w.walk.entry_of(key).notes_before == ()
