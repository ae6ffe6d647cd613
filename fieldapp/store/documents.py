"""The documents of a visit's file, and what a visit is known by: its id and revision."""

import re
from typing import Final

from tinydb import TinyDB
from tinydb.table import Document

from fieldapp.store.canonical import Doc
from fieldapp.store.errors import InvalidRecordError, MissingError, StaleRevisionError, shown
from fieldapp.store.storage import ONLY, VISIT

ID: Final = re.compile(r"[a-z0-9][a-z0-9_.-]{0,63}")


def get_document(db: TinyDB, table: str) -> Doc | None:
    """Return the one document of a table, if it has one."""
    document = db.table(table).get(doc_id=int(ONLY))
    return None if document is None else dict(document)


def put_document(db: TinyDB, table: str, document: Doc) -> None:
    """Make a document the only one of its table."""
    # TinyDB's upsert would merge and keep the fields that are no longer there.
    db.table(table).truncate()
    db.table(table).insert(Document(document, doc_id=int(ONLY)))


def required_visit(db: TinyDB, visit_id: str) -> Doc:
    """Return the visit of a file; one that is not stored is refused."""
    visit = get_document(db, VISIT)
    if visit is None:
        raise MissingError(
            "is not stored on this device",
            where=f"visit {shown(visit_id)}",
            remedy="Choose a visit from the list, or import its bundle",
        )
    return visit


def identity(visit: Doc) -> tuple[str, int]:
    """Return id and revision of a visit; one that lacks either is refused."""
    visit_id, revision = visit.get("id"), visit.get("revision")
    if not isinstance(visit_id, str) or not ID.fullmatch(visit_id):
        raise no_identity("id", "is missing or cannot name a file")
    if type(revision) is not int or revision < 0:
        raise no_identity("revision", "is missing or is not a whole number from 0")
    return visit_id, revision


def no_identity(field: str, problem: str) -> InvalidRecordError:
    """Return what is wrong with an id or a revision."""
    return InvalidRecordError(
        problem,
        where=f"visit, {field}",
        remedy="Save the JSON form of a visit record",
    )


def refuse_stale(stored: Doc | None, revision: int, visit_id: str) -> None:
    """Refuse a revision that is not newer than what is stored."""
    if stored is None:
        return
    known = stored.get("revision")
    if type(known) is int and revision <= known:
        raise StaleRevisionError(
            f"revision {revision} is not newer than the stored revision {known}",
            where=f"visit {visit_id}",
            remedy="Open the visit again and repeat the change there",
        )
