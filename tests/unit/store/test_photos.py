"""Photos: small, upright, without the camera's data, named by their bytes; hostile ones refused."""

import hashlib
import io
import os
import zlib
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageOps

from fieldapp.store.errors import DamagedError, HostileFileError, MissingError
from fieldapp.store.listing import MadeBy
from fieldapp.store.originals import written_place
from fieldapp.store.photos import PhotoFolder, check_photo, names_in, prepared
from fieldapp.store.visits import Store
from tests.fakes.plain_visit import plain_visit

ORIENTATION, GPS = 0x0112, 0x8825
LATITUDE_REF, LATITUDE, LONGITUDE_REF, LONGITUDE = 1, 2, 3, 4  # Exif 2.32, tables 4 and 15
TURNED_RIGHT = 6  # Exif 2.32, 4.6.4: row 0 is the right side (from memory)
NOW = datetime(2026, 3, 14, 9, 0, tzinfo=UTC)


def picture(
    size: tuple[int, int] = (400, 200), kind: str = "JPEG", mode: str = "RGB", **save: object
) -> bytes:
    image = Image.new(mode, size, (200, 30, 30) if mode == "RGB" else 0)
    out = io.BytesIO()
    image.save(out, kind, **save)
    return out.getvalue()


def with_camera_data() -> bytes:
    exif = Image.Exif()
    exif[ORIENTATION] = TURNED_RIGHT
    exif.get_ifd(GPS)[LATITUDE_REF] = "N"
    exif.get_ifd(GPS)[LATITUDE] = (47.0, 3.0, 0.0)
    return picture(exif=exif, comment=b"invented comment")


def png_chunk(kind: bytes, data: bytes) -> bytes:
    crc = zlib.crc32(kind + data)
    return len(data).to_bytes(4, "big") + kind + data + crc.to_bytes(4, "big")


def png_that_claims(width: int, height: int) -> bytes:
    header = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes([8, 2, 0, 0, 0])
    return b"\x89PNG\r\n\x1a\n" + png_chunk(b"IHDR", header) + png_chunk(b"IDAT", b"")


@pytest.fixture
def photos(tmp_path: Path) -> PhotoFolder:
    return PhotoFolder(tmp_path)


def test_a_photo_is_named_by_the_hash_of_what_is_stored(photos: PhotoFolder) -> None:
    name = photos.add(picture())
    assert name == f"{hashlib.sha256(photos.load(name)).hexdigest()}.jpg"
    assert photos.path(name).name == name


def test_the_same_picture_is_stored_once(photos: PhotoFolder, tmp_path: Path) -> None:
    assert photos.add(picture()) == photos.add(picture())
    assert len(list(tmp_path.iterdir())) == 1


def test_location_and_all_other_camera_data_are_stripped_and_the_picture_stands_upright() -> None:
    raw = with_camera_data()
    with Image.open(io.BytesIO(raw)) as before:
        assert before.size == (400, 200)
        assert before.getexif().get_ifd(GPS)
    with Image.open(io.BytesIO(prepared(raw, "photo"))) as after:
        assert after.size == (200, 400)
        assert not after.getexif()
        assert not {"exif", "comment", "xmp", "icc_profile"} & after.info.keys()


@pytest.mark.parametrize("orientation", range(9))
def test_every_orientation_of_the_camera_is_set_upright_as_pillow_does(orientation: int) -> None:
    image = Image.new("RGB", (64, 32), "white")
    image.paste((200, 0, 0), (0, 0, 32, 16))
    image.paste((0, 0, 200), (32, 0, 64, 16))
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    out = io.BytesIO()
    image.save(out, "PNG", exif=exif)
    with (
        Image.open(io.BytesIO(out.getvalue())) as raw,
        Image.open(io.BytesIO(prepared(out.getvalue(), "photo"))) as made,
    ):
        expected = ImageOps.exif_transpose(raw)
        assert made.size == expected.size
        difference = ImageChops.difference(made.convert("L"), expected.convert("L"))
        assert difference.getextrema()[1] < 40  # what JPEG loses at the edges of the fields


def test_a_large_picture_is_reduced_and_a_small_one_is_not_enlarged() -> None:
    with Image.open(io.BytesIO(prepared(picture((4000, 3000)), "photo"))) as large:
        assert large.size == (1600, 1200)
    with Image.open(io.BytesIO(prepared(picture((40, 30)), "photo"))) as small:
        assert small.size == (40, 30)


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "L", "LA", "P", "1"])
def test_a_png_becomes_a_jpeg_on_white(mode: str) -> None:
    out = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).convert(mode).save(out, "PNG")
    with Image.open(io.BytesIO(prepared(out.getvalue(), "photo"))) as made:
        assert (made.format, made.mode) == ("JPEG", "RGB")
        is_transparent = mode in ("RGBA", "LA", "P")  # this palette has a clear entry
        assert made.getpixel((4, 4)) == ((255, 255, 255) if is_transparent else (0, 0, 0))


HOSTILE = {
    "no picture": b"plain text",
    "empty": b"",
    "a GIF": picture(kind="GIF"),
    "a TIFF": picture(kind="TIFF"),
    "a PostScript program": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\nshowpage\n",
    "a truncated JPEG": picture()[:400],
    "a PNG of 144 million pixels": png_that_claims(12_000, 12_000),
    "a PNG of 4 thousand million pixels": png_that_claims(65_000, 65_000),
    "a PNG without rows": png_that_claims(100, 100),
    "more than 25 MB": b"\xff\xd8" + bytes(25_000_000),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_what_is_not_a_whole_decent_picture_is_refused(
    kind: str, photos: PhotoFolder, tmp_path: Path
) -> None:
    with pytest.raises(HostileFileError, match=r"^outlet, photo: .*JPEG or PNG picture\.$"):
        photos.add(HOSTILE[kind], "outlet, photo")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow's, about broken camera data
def test_a_picture_with_any_bytes_changed_is_taken_or_refused_but_never_crashes() -> None:
    raw, png = with_camera_data(), picture(kind="PNG")
    for seed in range(300):
        whole = bytearray(png if seed % 3 == 0 else raw)
        for step in range(1 + seed % 5):
            whole[(seed * 7919 + step * 104_729) % len(whole)] = (seed * 31 + step) % 256
        try:
            made = prepared(bytes(whole), "photo")
        except HostileFileError:
            continue
        with Image.open(io.BytesIO(made)) as image:
            assert image.format == "JPEG"


def test_a_photo_from_elsewhere_is_kept_byte_for_byte(photos: PhotoFolder) -> None:
    data = prepared(picture(), "photo")
    name = f"{hashlib.sha256(data).hexdigest()}.jpg"
    photos.keep(name, data)
    assert photos.load(name) == data


@pytest.mark.parametrize(
    ("data", "suffix", "said"),
    [
        (with_camera_data(), "jpg", "carries camera data, such as where it was taken"),
        (picture(kind="PNG"), "jpg", "has a wrong suffix"),
        (b"<script>", "jpg", "not a whole JPEG or PNG picture"),
        (picture(), "exe", "its content is not what its name says"),
    ],
)
def test_a_photo_from_elsewhere_that_is_not_ours_is_refused(
    data: bytes, suffix: str, said: str
) -> None:
    with pytest.raises(HostileFileError, match=said):
        check_photo(f"{hashlib.sha256(data).hexdigest()}.{suffix}", data)


def test_a_photo_under_a_name_that_is_not_its_hash_is_refused(photos: PhotoFolder) -> None:
    for name in ("0" * 64 + ".jpg", "../../etc/passwd", "a.jpg"):
        with pytest.raises(HostileFileError, match="its content is not what its name says"):
            photos.keep(name, picture())


def test_a_photo_that_changed_on_disk_is_damaged(photos: PhotoFolder) -> None:
    name = photos.add(picture())
    photos.path(name).write_bytes(b"rotten")
    with pytest.raises(DamagedError, match="is not what was stored"):
        photos.load(name)


def test_a_photo_that_is_not_there_is_missing(photos: PhotoFolder, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_bytes(b"")
    for name in ("0" * 64 + ".jpg", "notes.txt", "../notes.txt"):
        with pytest.raises(MissingError, match="is not stored on this device"):
            photos.path(name)


def test_only_photos_that_nothing_names_and_older_than_a_day_are_swept(
    photos: PhotoFolder, tmp_path: Path
) -> None:
    ages = {"named": 10, "young": 0.9, "orphan": 1.1, "from the future": -400}
    names = {}
    for n, (what, days) in enumerate(ages.items()):
        names[what] = photos.add(picture((10 + n, 10)))
        at = (NOW - timedelta(days=days)).timestamp()
        os.utime(photos.path(names[what]), (at, at))
    stranger = tmp_path / "stranger.jpg"
    stranger.write_bytes(b"")
    os.utime(stranger, (0, 0))
    assert photos.sweep(frozenset([names["named"]]), NOW) == 1
    left = {path.name for path in tmp_path.iterdir()}
    assert left == {names["named"], names["young"], names["from the future"], "stranger.jpg"}


def test_a_name_is_found_wherever_it_stands_in_a_visit() -> None:
    a, b = "a" * 64 + ".jpg", "b" * 64 + ".png"
    assert names_in(f'{{"photos":["{a}"],"note":"see {b}!"}}'.encode()) == {a, b}


# -- small copies and originals --------------------------------------------------------------------
def with_place(latitude: object = (47.0, 3.0, 0.0), side: str = "S") -> bytes:
    exif = Image.Exif()
    told = exif.get_ifd(GPS)
    told[LATITUDE_REF], told[LATITUDE] = side, latitude
    told[LONGITUDE_REF], told[LONGITUDE] = "W", (8.0, 0.0, 36.0)
    return picture(exif=exif)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "data") as made:
        made.save(plain_visit("v1"))
        yield made


def test_a_small_copy_is_small_made_once_and_never_of_a_damaged_photo(store: Store) -> None:
    name = store.photos.add(picture((1600, 1200)))
    path = store.photos.thumbnail(name)
    with Image.open(path) as small:
        assert small.size == (320, 240)
    made = path.stat().st_mtime_ns
    assert store.photos.thumbnail(name).stat().st_mtime_ns == made
    path.unlink()
    store.photos.path(name).write_bytes(b"rotten")
    with pytest.raises(DamagedError, match="is not what was stored"):
        store.photos.thumbnail(name)


def test_the_original_is_kept_byte_for_byte_until_the_visit_is_signed(store: Store) -> None:
    raw = with_place()
    name = store.add_photo("v1", raw)
    assert store.originals.path("v1", name).read_bytes() == raw
    store.seal("v1", {"by": "an invented technician"})
    with pytest.raises(MissingError, match="its original is not kept any more"):
        store.originals.path("v1", name)
    assert store.photos.load(name)


def test_an_original_that_a_kill_left_behind_goes_at_the_next_start(store: Store) -> None:
    store.save(plain_visit("v2"))
    store.seal("v2", {"by": "an invented technician"})
    for visit_id in ("v1", "v2", "gone"):
        store.originals.keep(visit_id, "a" * 64 + ".jpg", b"x")
    store.sweep_photos(store.listing(lambda _: {}, MadeBy("1", "1")), NOW)
    assert store.originals.path("v1", "a" * 64 + ".jpg")
    for visit_id in ("v2", "gone"):
        with pytest.raises(MissingError, match="not kept any more"):
            store.originals.path(visit_id, "a" * 64 + ".jpg")


def test_a_refused_picture_leaves_nothing(store: Store, tmp_path: Path) -> None:
    with pytest.raises(HostileFileError, match="not a whole JPEG or PNG"):
        store.add_photo("v1", b"plain text")
    for folder in ("photos", "originals", "thumbnails"):
        assert not list((tmp_path / "data" / folder).iterdir())


def test_the_place_that_a_camera_wrote_is_told_in_decimal_degrees_with_its_sides() -> None:
    # by hand: 47° 3' 0" south, 8° 0' 36" west (Exif 2.32, table 15, from memory)
    assert written_place(with_place()) == ("-47.05000", "-8.01000")
    assert written_place(with_place(side="N")) == ("47.05000", "-8.01000")


@pytest.mark.parametrize(
    "raw",
    [picture(), b"", b"text", with_place(side="X"), with_place(latitude=(91.0, 0.0, 0.0))],
)
def test_where_no_place_can_be_read_there_is_none(raw: bytes) -> None:
    assert written_place(raw) is None
