"""Photos by touch: taken, chosen, marked, ordered, deleted and put back; a kill loses none."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.ui.driver import (
    App,
    TextInput,
    Ui,
    Widget,
)  # before Kivy: it chooses the window

from checks.record import MARKS_MOST, MarkShape, NotDoneReason, Photo  # isort: skip
from fieldapp.screens.camera import PENDING_PHOTO
from fieldapp.widgets import Flanked, KeyButton, KeyRow, PrimaryButton, SecondaryButton
from fieldapp.widgets.photos import PhotoKey, PhotoTile, PhotoView
from tests.gallery.states import stage
from tests.gallery.walking import desk_in
from tests.ui.hand import Hand
from tests.unit.store.test_photos import picture, with_place

Open = Callable[[str], Ui]
KEY = "outlet.configuration@c1"


def photos(ui: Ui, key: str = KEY) -> tuple[Photo, ...]:
    return ui.app.guide.walk.photos(key)


def kept(ui: Ui, count: int, key: str = KEY) -> None:
    """Let the thread that makes a picture small come to its end; it knows no fake clock."""
    until = time.monotonic() + 20
    while len(photos(ui, key)) < count or ui.app.guide.camera.is_busy:
        assert time.monotonic() < until, ui.texts()
        ui.frames()
    ui.settle()


def take(ui: Ui, data: bytes, count: int) -> None:
    ui.app._device.photos.append(data)
    ui.tap_text("Take a photo")
    kept(ui, count)


def test_what_no_visit_names_is_swept_once_the_first_screen_is_there(
    come_up: Open, tmp_path: Path
) -> None:
    folder = tmp_path / "photos"
    folder.mkdir()
    orphan = folder / f"{'0' * 64}.jpg"
    orphan.write_bytes(b"of no visit")
    os.utime(orphan, (0, 0))
    ui = come_up("")
    assert ui.sees("New visit")
    assert orphan.exists()
    ui.wait(lambda: not orphan.exists(), "the orphan swept")


def test_photos_are_taken_and_chosen_from_the_question_and_lead_back_to_it(
    come_up: Open, tmp_path: Path
) -> None:
    ui = come_up("choice")
    ui.tap_text("Photos")
    assert ui.sees("No photo yet. What to show")
    take(ui, picture((64, 48)), 1)
    chosen = tmp_path / "chosen.png"
    chosen.write_bytes(picture((48, 64), "PNG"))
    ui.app._device.files.append(chosen)
    ui.tap_text("Choose a file")
    kept(ui, 2)
    assert ui.sees("2 of 2")
    assert chosen.exists()  # the person's own file is left alone
    ui.back()
    assert ui.app.guide.ledger.position.screen == "check"
    assert ui.find_text("Photos (2)")


def test_a_photo_is_marked_by_a_touch_and_by_a_stroke_and_the_mark_is_kept(come_up: Open) -> None:
    ui = come_up("photos")
    first = photos(ui)[0].name
    before = ui.app.guide.ledger.store.photos.load(first)
    ui.tap_text("Mark")
    view = ui.one(PhotoView)
    left, top, w, h = view.frame
    ui.tap((left + w / 4, top - h / 4))
    (mark,) = photos(ui)[0].marks
    # a quarter of the width from each side: the picture is 4 wide and 3 high
    assert (mark.shape, mark.x) == (MarkShape.CIRCLE, pytest.approx(2500, abs=80))
    assert mark.y == pytest.approx(10_000 * 3 / 4 / 4, abs=80)
    ui.tap_text("Arrow")
    ui.drag([(left + w / 2, top - h / 2), (left + w * 0.9, top - h * 0.9)])
    first_mark, pointed = photos(ui)[0].marks
    assert (first_mark, pointed.shape) == (mark, MarkShape.ARROW)
    assert (pointed.x, pointed.from_x) == (pytest.approx(5000, abs=80), pytest.approx(9000, abs=80))
    ui.tap_text("Take the last away")
    assert photos(ui)[0].marks == (mark,)
    ui.tap((left + w / 4 + 5, top - h / 4))  # on the circle: it is drawn anew, as an arrow
    (anew,) = photos(ui)[0].marks
    assert (anew.shape, anew.y) == (MarkShape.ARROW, mark.y)
    ui.tap_text("Done")
    assert ui.app.guide.ledger.position.screen == "photos"
    assert ui.app.guide.ledger.store.photos.load(first) == before


def test_marks_are_put_and_moved_without_a_finger_up_to_as_many_as_a_photo_holds(
    come_up: Open,
) -> None:
    ui = come_up("photos")
    ui.tap_text("Mark")
    ui.tap_text("Add a mark")  # without a place it comes in the middle
    (mark,) = photos(ui)[0].marks
    assert mark.x == 5000
    ui.key("right")
    ui.key("up")
    (moved,) = photos(ui)[0].marks
    assert (moved.x - mark.x, moved.y - mark.y) == (250, -250)
    assert (moved.from_x - mark.from_x, moved.from_y - mark.from_y) == (250, -250)
    for _ in range(MARKS_MOST - 1):
        ui.tap_text("Add a mark")
    marks = photos(ui)[0].marks
    assert (len(set(marks)), marks[0]) == (MARKS_MOST, moved)
    left, top, w, h = ui.one(PhotoView).frame
    ui.tap((left + w * 0.1, top - h * 0.9))
    assert photos(ui)[0].marks == marks
    assert ui.sees("A photo holds 6 marks")
    assert ui.find_text("Add a mark").disabled


def test_photos_are_put_in_order_deleted_and_put_back(come_up: Open) -> None:
    ui = come_up("photos_marked")
    a, b, c = (p.name for p in photos(ui))
    ui.tap_text("Move right")
    assert [p.name for p in photos(ui)] == [b, a, c]
    assert ui.sees("2 of 3")
    ui.tap(ui.all(PhotoTile)[0])
    marked = photos(ui)[0]
    ui.tap_text("Delete")
    assert [p.name for p in photos(ui)] == [a, c]
    ui.tap_text("Undo")
    assert photos(ui)[0] == marked
    assert len(marked.marks) == 1


def test_a_photo_is_added_at_the_result_too(come_up: Open) -> None:
    ui = come_up("result_outside")
    ui.tap(ui.one(PhotoKey))
    key = ui.app.guide.ledger.position.of
    ui.app._device.photos.append(picture((64, 48)))
    ui.tap_text("Take a photo")
    kept(ui, 1, key)
    ui.back()
    assert ui.app.guide.ledger.position.screen == "result"
    assert len(ui.all(PhotoTile)) == 1
    assert ui.one(PhotoKey).count == 1


def test_where_a_photo_was_taken_is_recorded_only_on_request(come_up: Open) -> None:
    ui = come_up("photos_empty")
    take(ui, with_place(), 1)
    assert photos(ui)[0].place is None
    ui.tap_text("Record where it was taken")
    assert photos(ui)[0].place.latitude_deg == "-47.05000"
    ui.tap_text("Forget where it was taken")
    assert photos(ui)[0].place is None
    ui.tap_text("Share the original")
    assert ui.app._device.shared[0].read_bytes() == with_place()


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (b"no picture at all", "Not a whole JPEG or PNG picture."),
        (b"\xff\xd8" + bytes(25_000_000), "Larger than 25 MB."),
    ],
)
def test_a_hostile_picture_is_refused_in_words_and_the_camera_works_on(
    come_up: Open, given: bytes, said: str
) -> None:
    ui = come_up("photos_empty")
    ui.app._device.photos.append(given)
    ui.tap_text("Take a photo")
    until = time.monotonic() + 20
    while not ui.sees(said):
        assert time.monotonic() < until, ui.texts()
        ui.frames()
    ui.settle()
    ui.tap_text("Close")
    assert ui.app.guide.walk.awaits_photo == ""
    take(ui, picture((64, 48)), 1)


def test_a_camera_that_fails_is_said_and_one_that_was_left_says_nothing(come_up: Open) -> None:
    ui = come_up("photos_empty")
    ui.tap_text("Take a photo")
    assert ui.sees("No camera.")
    ui.tap_text("Close")
    ui.app._device.photos.append(None)
    ui.tap_text("Take a photo")
    assert ui.sees("No photo yet. What to show")
    assert ui.app.guide.walk.awaits_photo == ""


def test_a_photo_whose_file_is_spoilt_is_said_and_the_others_are_shown(
    come_up: Open, tmp_path: Path
) -> None:
    stage("photos", tmp_path)
    files = sorted((tmp_path / "photos").iterdir())
    for file in files:
        file.write_bytes(b"rotten")
    for file in (tmp_path / "thumbnails").iterdir():
        file.unlink()
    ui = come_up()
    assert ui.sees("This photo is not what was stored.")
    assert len(ui.all(PhotoTile)) == 3


def test_photos_of_a_signed_visit_are_looked_at_and_never_changed(
    come_up: Open, tmp_path: Path
) -> None:
    stage("result_photos", tmp_path)
    with desk_in(tmp_path) as desk:
        desk.store.seal(desk.ledger.position.visit, {"by": "an invented technician"})
    ui = come_up()
    assert not ui.all(PhotoKey)
    ui.tap(ui.all(PhotoTile)[1])
    assert ui.one(PhotoView).marks[0].shape is MarkShape.ARROW
    words = ui.texts()
    assert not {"Mark", "Delete", "Move left", "Move right", "Take a photo"} & set(words)
    ui.tap_text("Back to the result")
    assert ui.app.guide.ledger.position.screen == "result"


def test_photos_of_what_was_found_are_still_shown_where_the_check_was_left_out_later(
    come_up: Open, tmp_path: Path
) -> None:
    stage("result_photos", tmp_path)
    with desk_in(tmp_path) as desk:
        walk = desk.open(desk.ledger.position.visit)
        walk.begin("outlet.configuration")
        walk.note("Somebody parked before it")
        walk.leave_out(NotDoneReason.NO_ACCESS)
    ui = come_up()
    assert len(ui.all(PhotoTile)) == 3
    assert ui.find_text("Somebody parked before it")
    ui.tap(ui.all(PhotoTile)[1])
    assert ui.sees("2 of 3")


def test_a_note_is_composed_from_what_was_seen_and_edited(come_up: Open) -> None:
    ui = come_up("note")
    ui.tap_text("Add what was seen")
    entry = ui.one(TextInput)
    assert entry.text
    proposed = entry.text
    ui.tap_text("Add what was seen")
    assert entry.text == proposed
    ui.tap(entry)
    ui.type("Seen twice.")
    ui.tap_text("Keep the note")
    note = ui.app.guide.walk.questions.entry.note
    assert "Seen twice." in note
    assert len(note) == len(proposed) + len("Seen twice.")


def test_a_photo_outlives_the_app_that_was_ended_while_the_camera_was_in_front(
    come_up: Open, tmp_path: Path
) -> None:
    stage("photos_empty", tmp_path)
    root = Path(__file__).parents[2]
    command = [sys.executable, "-m", "tests.ui.killed_camera", str(tmp_path)]
    ended = subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=120)
    assert ended.returncode == -signal.SIGKILL, ended.stderr[-2000:]
    assert (tmp_path / PENDING_PHOTO).exists()
    ui = come_up()
    kept(ui, 1)
    hand = Hand(ui)
    assert hand.at == "photos"
    assert ui.sees("1 of 1")
    assert not (tmp_path / PENDING_PHOTO).exists()
    assert hand.walk.awaits_photo == ""
    ui.back()
    hand.make_check()
    entry = next(e for e in hand.walk.visit.entries if e.check == "outlet.configuration")
    assert len(entry.photos) == 1


@pytest.mark.parametrize(
    ("words", "widths"),
    [
        (("Path", "Go on"), "alike"),
        (("Previous", "Take 233.6 V"), "by need"),
        (("Previous", "Pass over", "Take 233.6 V"), "stacked"),
    ],
)
def test_keys_beside_a_small_one_share_the_row_by_what_their_words_need(
    ui: Callable[[App], Ui], words: tuple[str, ...], widths: str
) -> None:
    class Row(App):
        def build(self) -> Widget:
            row = KeyRow(width=336, size_hint_x=None)
            for text in words[:-1]:
                row.add_widget(SecondaryButton(text=text))
            row.add_widget(Flanked(PhotoKey(count=2), PrimaryButton(text=words[-1])))
            return row

    shown = ui(Row())
    shown.settle()
    row = shown.one(KeyRow)
    keys = shown.all(KeyButton)
    small = shown.one(PhotoKey)
    assert (row.orientation == "vertical") == (widths == "stacked")
    assert small.width == 56
    assert small.height >= 56
    if widths == "alike":
        assert keys[0].width == pytest.approx(keys[1].width, abs=1)
    if widths == "by need":
        assert keys[0].width < keys[1].width
        assert all(key.height == 64 for key in keys)  # no word was broken onto a second line
