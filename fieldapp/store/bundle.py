"""Visits in one zip file, to hand to another device or to the office.

Entries: ``visits/<id>.json`` (the record, and the seal when signed), ``photos/<sha256>.jpg`` and
``reports/<id>.pdf``. What is read from a bundle is checked whole before anything is returned.
"""

import io
import re
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from fieldapp.store.canonical import Doc, canonical, require_canonical, stored_text
from fieldapp.store.errors import (
    DamagedError,
    HostileFileError,
    InvalidRecordError,
    reason,
    shown,
)
from fieldapp.store.photos import PHOTO_LIMIT_BYTES, check_photo, names_in
from fieldapp.store.reading import parse_json_object
from fieldapp.store.sealing import Seal, document_of, opened, report_sha256
from fieldapp.store.storage import VISIT_FILE_LIMIT_BYTES, atomic_write

ENTRY_LIMIT: Final = 2_000
BUNDLE_LIMIT_BYTES: Final = 200_000_000
RATIO_LIMIT: Final = 200  # JSON of readings shrinks by 10 to 30
_EPOCH: Final = (1980, 1, 1, 0, 0, 0)  # the same visits make the same bundle, whenever
_ENTRY: Final = re.compile(
    r"visits/[a-z0-9][a-z0-9_.-]{0,63}\.json"
    r"|photos/[0-9a-f]{64}\.(?:jpg|png)"
    r"|reports/[a-z0-9][a-z0-9_.-]{0,63}\.pdf"
)
_LIMITS_BYTES: Final = {
    "visits": VISIT_FILE_LIMIT_BYTES,
    "photos": PHOTO_LIMIT_BYTES,
    "reports": PHOTO_LIMIT_BYTES,
}
_PARTS: Final = {"visit", "seal"}
_AGAIN: Final = "Export the visits again where they were made"
_FEWER: Final = "Export fewer visits at a time"


@dataclass(frozen=True)
class BundledVisit:
    """A visit on its way.

    Parameters
    ----------
    visit : dict
        The record.
    seal : Seal or None
        None while the visit is not signed.
    report : bytes or None
        The signed PDF of a signed visit.
    """

    visit: Doc
    seal: Seal | None = None
    report: bytes | None = None

    @property
    def id(self) -> str:
        """The visit's id."""
        return str(self.visit.get("id"))


@dataclass(frozen=True)
class Bundle:
    """What a bundle holds: visits, and photos by name."""

    visits: tuple[BundledVisit, ...]
    photos: Mapping[str, bytes]


def write_bundle(path: Path, visits: Sequence[BundledVisit], photos: Mapping[str, bytes]) -> None:
    """Write a bundle that `read_bundle` takes; the same visits make the same bytes.

    Raises
    ------
    InvalidRecordError
        More or larger than `read_bundle` takes, or a record that cannot be written.
    WriteFailedError
        The disk refused.
    """
    entries: dict[str, bytes] = {}
    for bundled in visits:
        seal = document_of(bundled.visit, bundled.seal) if bundled.seal else None
        require_canonical(bundled.visit)
        content = {"visit": bundled.visit} | ({"seal": seal} if seal else {})
        entries[f"visits/{bundled.id}.json"] = stored_text(content, bundled.id, sort_keys=True)
        if bundled.report is not None:
            entries[f"reports/{bundled.id}.pdf"] = bundled.report
    entries |= {f"photos/{name}": data for name, data in photos.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as bundle:
        for name, data in entries.items():
            # Pictures and PDF are compressed already; stored, they can make no bomb.
            kind = zipfile.ZIP_DEFLATED if name.startswith("visits/") else zipfile.ZIP_STORED
            bundle.writestr(zipfile.ZipInfo(name, _EPOCH), data, compress_type=kind)
    try:
        _read(out)
    except HostileFileError as error:
        raise InvalidRecordError(error.problem, where=error.where, remedy=error.remedy) from error
    atomic_write(path, out.getvalue())


def read_bundle(path: Path) -> Bundle:
    """Read a bundle that nobody vouches for.

    Parameters
    ----------
    path : Path
        The zip file.

    Returns
    -------
    Bundle
        Visits whose seals are whole and whose photos and reports are those that they name. The
        fields of the records are not judged here.

    Raises
    ------
    HostileFileError
        Anything else; the error names the entry.
    """
    try:
        with path.open("rb") as file:
            return _read(file)
    except OSError as error:
        raise HostileFileError(
            f"cannot be read ({reason(error)})",
            where=f"bundle {shown(path.name)}",
            remedy="Check the name of the file and whether you may read it",
        ) from error


def _read(file: io.BufferedIOBase) -> Bundle:
    size = file.seek(0, io.SEEK_END)
    if size > BUNDLE_LIMIT_BYTES:  # before opening: the directory of entries is read whole
        raise _refused("bundle", f"larger than {BUNDLE_LIMIT_BYTES / 1e6:g} MB", _FEWER)
    try:
        with zipfile.ZipFile(file) as bundle:
            entries = _entries(bundle)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, ValueError) as error:
        # NotImplementedError: an entry asks for a later version of the format than zipfile knows.
        raise _refused("bundle", f"is not a whole zip file ({shown(str(error))})") from error
    return _bundle(entries)


def _entries(bundle: zipfile.ZipFile) -> dict[str, bytes]:
    infos = bundle.infolist()
    if len(infos) > ENTRY_LIMIT:
        raise _refused("bundle", f"more than {ENTRY_LIMIT} entries", _FEWER)
    entries: dict[str, bytes] = {}
    total = 0
    for info in infos:
        name = info.filename
        if name in entries:
            raise _refused(name, "is there twice")
        limit = _checked_limit(info)
        try:
            with bundle.open(info) as stream:
                data = stream.read(limit + 1)  # the size in the directory may lie
        except (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError) as error:
            raise _refused(name, f"is damaged ({shown(str(error))})") from error
        total += len(data)
        if len(data) > limit or total > BUNDLE_LIMIT_BYTES:
            raise _refused(name, "is larger than it says, or the bundle is too large", _FEWER)
        entries[name] = data
    return entries


def _checked_limit(info: zipfile.ZipInfo) -> int:
    name = info.filename
    if not _ENTRY.fullmatch(name) or info.orig_filename != name:
        raise _refused(name, "is not a name that a bundle holds")
    if info.flag_bits & 1 or info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise _refused(name, "is encrypted, or compressed in a way that is not used here")
    limit = _LIMITS_BYTES[name.split("/")[0]]
    if info.file_size > limit:
        raise _refused(name, f"is larger than {limit / 1e6:g} MB", _FEWER)
    if info.file_size > RATIO_LIMIT * max(1, info.compress_size):
        raise _refused(name, f"grows more than {RATIO_LIMIT} times when it is unpacked")
    return limit


def _bundle(entries: dict[str, bytes]) -> Bundle:
    visits = {n: d for n, d in entries.items() if n.startswith("visits/")}
    reports = {n: d for n, d in entries.items() if n.startswith("reports/")}
    photos = {n.removeprefix("photos/"): d for n, d in entries.items() if n.startswith("photos/")}
    if not visits:
        raise _refused("bundle", "holds no visit")
    bundled = tuple(
        _bundled(name, data, reports.pop(f"reports/{name[7:-5]}.pdf", None))
        for name, data in visits.items()
    )
    if reports:
        raise _refused(next(iter(reports)), "belongs to no visit in the bundle")
    for name, data in photos.items():
        check_photo(name, data)
    named = frozenset[str]().union(*(names_in(canonical(b.visit)) for b in bundled))
    if photos.keys() != named:
        name = min(photos.keys() ^ named)
        raise _refused(f"photos/{name}", "is named by no visit" if name in photos else "is missing")
    return Bundle(bundled, photos)


def _bundled(name: str, data: bytes, report: bytes | None) -> BundledVisit:
    content = parse_json_object(data, name, VISIT_FILE_LIMIT_BYTES)
    visit, document = content.get("visit"), content.get("seal", {})
    if not isinstance(visit, dict) or not isinstance(document, dict) or content.keys() - _PARTS:
        raise _refused(name, "is not a visit with or without its seal")
    if visit.get("id") != name[7:-5]:
        raise _refused(name, "holds another visit than its name says")
    try:
        canonical(visit)
        seal = opened(document, visit, name) if "seal" in content else None
    except (DamagedError, InvalidRecordError) as error:
        raise HostileFileError(error.problem, where=error.where, remedy=_AGAIN) from error
    if report_sha256(report) != (seal.report_sha256 if seal else None):
        raise _refused(f"reports/{visit['id']}.pdf", "is not the report that was signed")
    return BundledVisit(visit, seal, report)


def _refused(entry: str, problem: str, remedy: str = _AGAIN) -> HostileFileError:
    return HostileFileError(problem, where=shown(entry), remedy=remedy)
