"""Bundles: what goes out comes in the same, and nothing else comes in."""

import contextlib
import hashlib
import io
import stat
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldapp.store.bundle import BundledVisit, read_bundle, write_bundle
from fieldapp.store.canonical import canonical
from fieldapp.store.errors import HostileFileError, InvalidRecordError
from fieldapp.store.photos import prepared
from fieldapp.store.sealing import Seal
from tests.fakes.plain_visit import plain_visit
from tests.unit.store.test_photos import picture, with_camera_data

PHOTO = prepared(picture(), "photo")
NAME = f"{hashlib.sha256(PHOTO).hexdigest()}.jpg"
REPORT = b"%PDF-1.7 signed"
SEAL = Seal({"by": "an invented person", "margin_v": 0.25}, hashlib.sha256(REPORT).hexdigest())
VISITS = [
    BundledVisit(plain_visit("open-one", note="Ω", photos=[NAME])),
    BundledVisit(plain_visit("signed-one", revision=3), SEAL, REPORT),
]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "visits.zip"


def entries() -> dict[str, bytes]:
    """Give the entries of a good bundle of one open visit."""
    return {
        "visits/v.json": canonical({"visit": plain_visit("v", photos=[NAME])}),
        f"photos/{NAME}": PHOTO,
    }


def zipped(path: Path, parts: dict[str, bytes], **kind: int) -> None:
    with zipfile.ZipFile(path, "w", **kind) as bundle:
        for name, data in parts.items():
            bundle.writestr(name, data)


def test_what_was_written_is_read_back_the_same(path: Path) -> None:
    write_bundle(path, VISITS, {NAME: PHOTO})
    bundle = read_bundle(path)
    assert bundle.visits == tuple(VISITS)
    assert bundle.photos == {NAME: PHOTO}


def test_the_same_visits_make_the_same_bytes(path: Path, tmp_path: Path) -> None:
    write_bundle(path, VISITS, {NAME: PHOTO})
    write_bundle(tmp_path / "again.zip", VISITS, {NAME: PHOTO})
    assert path.read_bytes() == (tmp_path / "again.zip").read_bytes()


def test_any_zip_program_sees_the_visits_photos_and_reports(path: Path) -> None:
    write_bundle(path, VISITS, {NAME: PHOTO})
    with zipfile.ZipFile(path) as bundle:
        assert bundle.testzip() is None
        assert bundle.namelist() == [
            "visits/open-one.json",
            "visits/signed-one.json",
            "reports/signed-one.pdf",
            f"photos/{NAME}",
        ]


@pytest.mark.parametrize(
    ("visits", "photos", "said"),
    [
        ([], {}, "bundle: holds no visit"),
        (VISITS, {}, f"photos/{NAME}: is missing"),
        (VISITS[1:], {NAME: PHOTO}, "is named by no visit"),
        ([BundledVisit(plain_visit("../x"))], {}, "is not a name that a bundle holds"),
        ([BundledVisit(plain_visit(), SEAL)], {}, "is not the report that was signed"),
        ([BundledVisit(plain_visit(), None, REPORT)], {}, "is not the report that was signed"),
    ],
)
def test_a_bundle_that_nobody_could_read_is_not_written(
    path: Path, visits: list[BundledVisit], photos: dict[str, bytes], said: str
) -> None:
    with pytest.raises(InvalidRecordError, match=said):
        write_bundle(path, visits, photos)
    assert not path.exists()


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd",
        "/etc/passwd",
        "visits/../v.json",
        "visits\\v.json",
        "C:visits/v.json",
        "visits/V.json",
        "visits/.v.json",
        "visits/v.json/",
        "visits/",
        "visits/v.json\u202e",
        "photos/photo.jpg",
        "reports/v.exe",
        "readme.txt",
        "visits/v.json\0.txt",
    ],
)
def test_an_entry_with_a_name_of_another_kind_is_refused(path: Path, name: str) -> None:
    with zipfile.ZipFile(path, "w") as bundle:
        info = zipfile.ZipInfo("x" * len(name.encode()))
        bundle.writestr(info, b"x")
        for part, data in entries().items():
            bundle.writestr(part, data)
    raw = path.read_bytes().replace(b"x" * len(name.encode()), name.encode())
    path.write_bytes(raw)
    with pytest.raises(HostileFileError, match="is not a name that a bundle holds"):
        read_bundle(path)


@pytest.mark.filterwarnings("ignore:Duplicate name:UserWarning")  # the attacker's zip writer
def test_an_entry_that_is_there_twice_is_refused(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as bundle:
        for _ in range(2):
            bundle.writestr("visits/v.json", entries()["visits/v.json"])
    with pytest.raises(HostileFileError, match=r"visits/v\.json: is there twice"):
        read_bundle(path)


def test_an_entry_that_grows_too_much_is_refused_before_it_is_unpacked(path: Path) -> None:
    bomb = entries() | {"reports/v.pdf": bytes(20_000_000)}
    zipped(path, bomb, compression=zipfile.ZIP_DEFLATED)
    with pytest.raises(HostileFileError, match=r"reports/v\.pdf: grows more than 200 times"):
        read_bundle(path)


def test_an_entry_that_lies_about_its_size_is_refused(path: Path) -> None:
    size = 20_000_000
    zipped(path, {"visits/v.json": bytes(size)}, compression=zipfile.ZIP_DEFLATED)
    raw = path.read_bytes().replace(struct.pack("<L", size), struct.pack("<L", 1000))
    path.write_bytes(raw)
    with pytest.raises(HostileFileError, match=r"visits/v\.json: is damaged"):
        read_bundle(path)


@pytest.mark.parametrize(
    ("name", "size", "said"),
    [("visits/v.json", 8_000_001, "larger than 8 MB"), ("reports/v.pdf", 25_000_001, "25 MB")],
)
def test_an_entry_beyond_its_limit_is_refused(path: Path, name: str, size: int, said: str) -> None:
    zipped(path, {name: bytes(size)})
    with pytest.raises(HostileFileError, match=said):
        read_bundle(path)


def test_a_bundle_beyond_the_limit_is_not_opened(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(200_000_001)  # a hole: takes no room
    with pytest.raises(HostileFileError, match="bundle: larger than 200 MB"):
        read_bundle(path)


def test_a_directory_of_more_entries_than_the_limit_is_refused(path: Path) -> None:
    zipped(path, {f"visits/v{n}.json": b"" for n in range(2001)})
    with pytest.raises(HostileFileError, match="more than 2000 entries"):
        read_bundle(path)


def test_an_encrypted_entry_is_refused(path: Path) -> None:
    zipped(path, entries())
    raw = bytearray(path.read_bytes())
    raw[6] |= 1  # general purpose bit 0 of the local header; APPNOTE 6.3.10, 4.4.4
    raw[raw.index(b"PK\x01\x02") + 8] |= 1  # and of the central directory
    path.write_bytes(raw)
    with pytest.raises(HostileFileError, match=r"visits/v\.json: is encrypted"):
        read_bundle(path)


def test_an_unusual_compression_is_refused(path: Path) -> None:
    zipped(path, entries(), compression=zipfile.ZIP_BZIP2)
    with pytest.raises(HostileFileError, match="compressed in a way that is not used here"):
        read_bundle(path)


def test_a_bundle_of_a_later_zip_version_is_refused(path: Path) -> None:
    zipped(path, entries())
    data = bytearray(path.read_bytes())
    data[data.index(b"PK\x01\x02") + 6] = 99  # version needed; APPNOTE 6.3.10, 4.4.3
    path.write_bytes(data)
    with pytest.raises(HostileFileError, match=r"not a whole zip file \(zip file version 9\.9\)"):
        read_bundle(path)


def test_a_link_is_never_followed(path: Path) -> None:
    link = zipfile.ZipInfo("visits/v.json")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    with zipfile.ZipFile(path, "w") as bundle:
        bundle.writestr(link, "/etc/passwd")
    with pytest.raises(HostileFileError, match=r"visits/v\.json, line 1, column 1: is not JSON"):
        read_bundle(path)


@pytest.mark.parametrize("raw", [b"", b"PK", b"no zip at all", b"PK\x05\x06" + bytes(18)])
def test_what_is_no_zip_or_an_empty_one_is_refused(path: Path, raw: bytes) -> None:
    path.write_bytes(raw)
    with pytest.raises(HostileFileError, match=r"bundle: (is not a whole zip file|holds no visit)"):
        read_bundle(path)


def test_a_bundle_cut_or_changed_anywhere_is_refused_or_read_the_same(path: Path) -> None:
    write_bundle(path, VISITS, {NAME: PHOTO})
    whole, good = path.read_bytes(), read_bundle(path)
    for n in range(0, len(whole), 37):
        path.write_bytes(whole[:n])
        with pytest.raises(HostileFileError):
            read_bundle(path)
        changed = bytearray(whole)
        changed[n] ^= 1 << (n % 8)
        path.write_bytes(changed)
        with contextlib.suppress(HostileFileError):
            assert read_bundle(path) == good  # a date or an attribute that is not used


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    with pytest.raises(HostileFileError, match=r"bundle a\.zip: cannot be read .no such file"):
        read_bundle(tmp_path / "a.zip")


Change = Callable[[dict[str, bytes]], object]
WRONG: dict[str, tuple[Change, str]] = {
    "a visit under another name": (
        lambda e: e.update({"visits/w.json": e.pop("visits/v.json")}),
        r"visits/w\.json: holds another visit than its name says",
    ),
    "no visit in it": (
        lambda e: e.update({"visits/v.json": b'{"seal": {}}'}),
        "is not a visit with or without its seal",
    ),
    "something beside the visit": (
        lambda e: e.update({"visits/v.json": e["visits/v.json"][:-1] + b',"x":1}'}),
        "is not a visit with or without its seal",
    ),
    "a float": (
        lambda e: e.update({"visits/v.json": b'{"visit": {"id": "v", "volts": 1.5}}'}),
        "volts: a float has no place in a record",
    ),
    "a duplicate name": (
        lambda e: e.update({"visits/v.json": b'{"visit": {"id": "v", "id": "v"}}'}),
        r"visits/v\.json: visit: the name 'id' stands there twice",
    ),
    "nesting": (lambda e: e.update({"visits/v.json": b"[" * 100_000}), "nested deeper than 64"),
    "an empty seal": (
        lambda e: e.update({"visits/v.json": e["visits/v.json"][:-1] + b',"seal":{}}'}),
        r"visits/v\.json: was changed after it was signed",
    ),
    "a missing photo": (lambda e: e.pop(f"photos/{NAME}"), f"photos/{NAME}: is missing"),
    "another photo under the name": (
        lambda e: e.update({f"photos/{NAME}": picture()}),
        "its content is not what its name says",
    ),
    "a report of nobody": (
        lambda e: e.update({"reports/w.pdf": REPORT}),
        r"reports/w\.pdf: belongs to no visit",
    ),
    "a report of an unsigned visit": (
        lambda e: e.update({"reports/v.pdf": REPORT}),
        r"reports/v\.pdf: is not the report that was signed",
    ),
}


@pytest.mark.parametrize("kind", WRONG)
def test_parts_that_do_not_fit_together_are_refused(path: Path, kind: str) -> None:
    parts = entries()
    change, said = WRONG[kind]
    change(parts)
    zipped(path, parts)
    with pytest.raises(HostileFileError, match=said):
        read_bundle(path)


def test_a_photo_that_tells_where_it_was_taken_is_refused(path: Path) -> None:
    name = f"{hashlib.sha256(with_camera_data()).hexdigest()}.jpg"
    visit = canonical({"visit": plain_visit("v", photos=[name])})
    zipped(path, {"visits/v.json": visit, f"photos/{name}": with_camera_data()})
    with pytest.raises(HostileFileError, match="carries camera data"):
        read_bundle(path)


def test_a_signed_visit_changed_on_its_way_is_refused(path: Path) -> None:
    write_bundle(path, VISITS, {NAME: PHOTO})
    with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as bundle:
        parts = {name: bundle.read(name) for name in bundle.namelist()}
    for old, new in ((b'"239.1"', b'"229.1"'), (b'"margin_v":0.25', b'"margin_v":0.75')):
        name = "visits/signed-one.json"
        assert old in parts[name]
        zipped(path, parts | {name: parts[name].replace(old, new)})
        with pytest.raises(HostileFileError, match="was changed after it was signed"):
            read_bundle(path)
    zipped(path, parts | {"reports/signed-one.pdf": b"%PDF-1.7 forged"})
    with pytest.raises(HostileFileError, match="is not the report that was signed"):
        read_bundle(path)
