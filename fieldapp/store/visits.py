"""The store of one device: visits, their photos and reports, and where the app was."""

import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Self

from tinydb import TinyDB

from fieldapp.store.app_state import AppState
from fieldapp.store.canonical import Doc, require_canonical, stored_text
from fieldapp.store.documents import (
    ID,
    get_document,
    identity,
    no_identity,
    put_document,
    refuse_stale,
    required_visit,
)
from fieldapp.store.errors import (
    DamagedError,
    MissingError,
    StoreError,
    WriteFailedError,
    already_sealed,
    reason,
    shown,
)
from fieldapp.store.folder import take_folder
from fieldapp.store.listing import Listing, MadeBy, Row, list_visits
from fieldapp.store.originals import Originals
from fieldapp.store.photos import PhotoFolder, names_in
from fieldapp.store.sealing import Seal, opened, report_sha256, sealed
from fieldapp.store.storage import DRAFT, SEAL, VISIT, OneWrite, VisitFile, atomic_write, confirm


class Stored(NamedTuple):
    """One visit as it is stored.

    Parameters
    ----------
    visit : dict
        The record.
    draft : dict
        Where the walk was, and what was half typed; empty when there is nothing.
    seal : Seal or None
        None while the visit is not signed.
    """

    visit: Doc
    draft: Doc
    seal: Seal | None


class Store:
    """All that is kept on one device; for one process at a time, and any of its threads.

    Each change is on disk when the call returns. A visit is a plain dictionary, the JSON form of
    the record, with an ``id`` and a ``revision`` that rises with every change.

    Parameters
    ----------
    root : Path
        The folder; made when it is not there.

    Attributes
    ----------
    photos : PhotoFolder
        The photos that the visits name.
    originals : Originals
        What the camera made of them, until their visit is signed.
    app_state : AppState
        The open route and the settings.

    Raises
    ------
    BusyError, UnsupportedSystemError, WriteFailedError
        See `fieldapp.store.folder.take_folder`.
    """

    def __init__(self, root: Path) -> None:
        root = root.absolute()
        self._lock: int | None = take_folder(root)
        self._threads = threading.RLock()
        self._visits, self._reports = root / "visits", root / "reports"
        self._snapshot = root / "listing.json"
        self._unconfirmed: set[str] = set()  # visits whose last write the disk did not confirm
        self.photos = PhotoFolder(root / "photos")
        self.originals = Originals(root / "originals")
        self.app_state = AppState(root / "app_state.json")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let another process in; visits can no longer be changed through this store."""
        with self._threads:
            if self._lock is not None:
                os.close(self._lock)
                self._lock = None

    def save(self, visit: Doc, *, draft: Doc | None = None) -> None:
        """Save a visit durably, and with it the draft when one is given, in one write.

        Raises
        ------
        StaleRevisionError
            The stored revision is the same or newer. Only a save that the disk did not confirm
            may be repeated with the same content.
        SealedError
            The stored visit is signed.
        InvalidRecordError
            No id, no revision, or a value that has no place in a record.
        DamagedError
            The stored file cannot be read; it is left as it is.
        WriteFailedError
            The disk refused; the error says what stands.
        """
        visit_id, revision = identity(visit)
        require_canonical(visit)
        with self._change(visit_id) as db:
            stored = get_document(db, VISIT)
            if visit_id not in self._unconfirmed or stored != visit:
                refuse_stale(stored, revision, visit_id)
                put_document(db, VISIT, visit)
            if draft is not None:
                put_document(db, DRAFT, draft)

    def save_draft(self, visit_id: str, draft: Doc) -> None:
        """Save where the walk of a stored visit is and what is half typed; {} clears it.

        Raises
        ------
        MissingError, SealedError, DamagedError, InvalidRecordError, WriteFailedError
            As `save`; a draft needs a stored visit.
        """
        with self._change(visit_id) as db:
            required_visit(db, visit_id)
            put_document(db, DRAFT, draft)

    def seal(self, visit_id: str, content: Doc, *, report: bytes | None = None) -> None:
        """Close a visit for ever with what its signer adds; its draft goes, its report is kept.

        Parameters
        ----------
        visit_id : str
            A stored visit.
        content : dict
            The assessment as signed, versions, signature: whatever belongs to it in ten years.
        report : bytes
            The signed PDF.

        Raises
        ------
        SealedError
            It is closed already. Only a seal that the disk did not confirm may be repeated.
        MissingError, DamagedError, InvalidRecordError, WriteFailedError
            As `save`.
        """
        with self._change(visit_id, may_be_sealed=visit_id in self._unconfirmed) as db:
            document = sealed(required_visit(db, visit_id), content, report)
            if get_document(db, SEAL) == document:
                return
            if SEAL in db.tables():
                raise already_sealed(f"visit {visit_id}")
            if report is not None:
                atomic_write(self._report(visit_id), report)
            db.drop_table(DRAFT)
            put_document(db, SEAL, document)
        with suppress(WriteFailedError):  # it is signed; what is left goes at the next start
            self.originals.drop(lambda kept_for: kept_for == visit_id)

    def add_photo(self, visit_id: str, data: bytes) -> str:
        """Store a photo for a visit and keep its original; return the photo's name.

        Raises
        ------
        HostileFileError
            Not a whole JPEG or PNG of a decent size.
        WriteFailedError
            The disk refused.
        """
        name = self.photos.add(data)
        self.photos.thumbnail(name)
        self.originals.keep(visit_id, name, data)
        return name

    def load(self, visit_id: str) -> Stored:
        """Return a visit.

        Raises
        ------
        MissingError
            It is not stored.
        DamagedError
            Its file cannot be read, holds another visit, or was changed after it was signed.
        """
        where = f"visit {shown(visit_id)}"
        # One read for all tables: TinyDB alone would parse the file for each.
        with self._threads, TinyDB(self._file(visit_id), storage=OneWrite(VisitFile)) as db:
            visit, draft = required_visit(db, visit_id), get_document(db, DRAFT) or {}
            if visit.get("id") != visit_id:
                raise DamagedError(
                    "its file holds another visit",
                    where=where,
                    remedy="The file is kept untouched: copy it off the device",
                )
            seal = (
                opened(get_document(db, SEAL) or {}, visit, where) if SEAL in db.tables() else None
            )
        return Stored(visit, draft, seal)

    def report_path(self, visit_id: str) -> Path:
        """Return where the signed report of a visit lies, after a look at its content.

        Raises
        ------
        MissingError
            The visit is not signed, or was signed without a report.
        DamagedError
            The report is not the one that was signed.
        """
        seal = self.load(visit_id).seal
        if seal is None or seal.report_sha256 is None:
            raise MissingError(
                "has no signed report", where=f"visit {visit_id}", remedy="Sign the visit first"
            )
        path = self._report(visit_id)
        try:
            is_signed = report_sha256(path.read_bytes()) == seal.report_sha256
            problem = None if is_signed else "is not the one that was signed"
        except OSError as error:
            problem = f"cannot be read ({reason(error)})"
        if problem:
            raise DamagedError(
                problem,
                where=f"report of visit {visit_id}",
                remedy="Fetch it from whoever received it, or import the visit's bundle again",
            )
        return path

    def listing(self, summarise: Callable[[Stored], Doc], made_by: MadeBy) -> Listing:
        """List all visits; those that cannot be used need attention.

        Parameters
        ----------
        summarise : Callable
            Makes the small JSON form of a visit that a list shows; a ChecksError from it puts the
            visit on the needs-attention list.
        made_by : MadeBy
            Of what form its summaries are, and what software judges in them. That of a signed
            visit must be the same by whatever software.
        """

        def read_row(visit_id: str) -> Row:
            stored = self.load(visit_id)
            names = names_in(stored_text([stored.visit, stored.draft], visit_id))
            return summarise(stored), sorted(names), stored.seal is not None

        with self._threads:
            return list_visits(self._visits, self._snapshot, made_by, read_row)

    def sweep_photos(self, listing: Listing, now: datetime) -> int:
        """Delete photos that nothing names and that are older than a day; return how many.

        The originals of visits that are signed or gone go too. Only for the start of the app.
        While a visit needs attention nothing is deleted, for what it names is not known.

        Raises
        ------
        DamagedError
            The app's state, which may name a photo too, cannot be read.
        """
        if listing.needs_attention:
            return 0
        state = stored_text(self.app_state.load(), "settings")
        self.originals.drop(self._is_done)
        return self.photos.sweep(listing.photos | names_in(state), now)

    def _is_done(self, visit_id: str) -> bool:
        try:
            return self.load(visit_id).seal is not None
        except MissingError:
            return True

    @contextmanager
    def _change(self, visit_id: str, *, may_be_sealed: bool = False) -> Iterator[TinyDB]:
        """Give the tables of a visit and write them once, unless the caller raises."""
        path = self._file(visit_id)
        unit = OneWrite(VisitFile)
        with self._threads, TinyDB(path, storage=unit) as db:
            if self._lock is None:
                raise StoreError("is closed", where="store", remedy="Start the app again")
            if SEAL in db.tables() and not may_be_sealed:
                raise already_sealed(f"visit {visit_id}")
            yield db
            try:
                if unit.is_changed:
                    unit.commit()
                elif visit_id in self._unconfirmed:
                    confirm(path)
            except WriteFailedError as error:
                if error.is_replaced:
                    self._unconfirmed.add(visit_id)
                raise
            self._unconfirmed.discard(visit_id)

    def _file(self, visit_id: str) -> Path:
        if not ID.fullmatch(visit_id):
            raise no_identity("id", f"{shown(visit_id)!r} cannot name a visit")
        return self._visits / f"{visit_id}.json"

    def _report(self, visit_id: str) -> Path:
        return self._reports / f"{visit_id}.pdf"
