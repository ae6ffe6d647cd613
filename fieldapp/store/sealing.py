"""The seal of a signed visit: what was signed, and a hash that shows a later change.

The hash finds bit rot and careless edits on the device. Against a forger stands the signature in
the report, not this.
"""

import hashlib
from dataclasses import dataclass

from fieldapp.store.canonical import Doc, canonical, stored_text
from fieldapp.store.errors import DamagedError, InvalidRecordError


@dataclass(frozen=True)
class Seal:
    """What closes a visit.

    Parameters
    ----------
    content : dict
        What the signer added: the assessment as signed, versions, signature.
    report_sha256 : str or None
        Hash of the signed PDF.
    """

    content: Doc
    report_sha256: str | None


def sealed(visit: Doc, content: Doc, report: bytes | None) -> Doc:
    """Return the document that closes a visit, with a hash over the record and all of itself."""
    return document_of(visit, Seal(content, report_sha256(report)))


def record_sha256(visit: Doc) -> str:
    """Return the hash by which another record names this one, over its canonical bytes."""
    return hashlib.sha256(canonical(visit)).hexdigest()


def report_sha256(report: bytes | None) -> str | None:
    """Return the hash of a report, or None when there is none."""
    return None if report is None else hashlib.sha256(report).hexdigest()


def opened(document: Doc, visit: Doc, where: str) -> Seal:
    """Return the seal in such a document.

    Raises
    ------
    DamagedError
        Record or seal are not what was signed.
    """
    content, report_hash = document.get("content"), document.get("report_sha256")
    if isinstance(content, dict) and isinstance(report_hash, str | None):
        seal = Seal(content, report_hash)
        if document == document_of(visit, seal):
            return seal
    raise DamagedError(
        "was changed after it was signed",
        where=where,
        remedy="Rely on the signed report and the office's copy; start a new visit to correct it",
    )


def document_of(visit: Doc, seal: Seal) -> Doc:
    """Return the document that closes a visit; DamagedError when the visit is not a record."""
    # The assessment may hold floats, so the bytes of a seal are ours and not those of RFC 8785.
    text = stored_text([seal.content, seal.report_sha256], "seal", sort_keys=True)
    try:
        record = canonical(visit)
    except InvalidRecordError as error:
        raise DamagedError(error.problem, where=error.where, remedy=error.remedy) from error
    return {
        "content": seal.content,
        "report_sha256": seal.report_sha256,
        "sha256": hashlib.sha256(record + b"\n" + text).hexdigest(),
    }
