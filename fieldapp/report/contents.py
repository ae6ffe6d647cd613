"""What a signed report carries: the two embedded documents, and the time its signer states."""

import json
import re
import zlib
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any, Final

from pyhanko.pdf_utils.misc import PdfError
from pyhanko.pdf_utils.reader import PdfFileReader

from fieldapp.report.embedded import ASSESSMENT, LARGEST, RECORD, canonical
from fieldapp.report.errors import UnreadableError
from fieldapp.report.signature import Signature

# A report has neither packed objects nor encryption: a file that has them may hide or inflate.
_FOREIGN: Final = re.compile(rb"/Type\s*/(ObjStm|XRef)\b|/Encrypt\s")
# What the library raises on a broken or foreign file; an unknown packing is NotImplementedError.
_BROKEN: Final = (
    PdfError,
    ValueError,
    TypeError,
    KeyError,
    IndexError,
    AttributeError,
    AssertionError,
    OverflowError,
    RecursionError,
    NotImplementedError,
    EOFError,
    zlib.error,
)


@dataclass(frozen=True)
class Contents:
    """The documents of a signed report, and when its signer says it was signed."""

    record: dict[str, Any]
    assessment: dict[str, Any]
    signed_at: datetime


def read_contents(pdf: bytes, signature: Signature) -> Contents:
    """Read the embedded documents out of a file whose every byte the signature covers.

    Parameters
    ----------
    pdf : bytes
        The file.
    signature : Signature
        As `fieldapp.report.signature.read_signature` proved it.

    Returns
    -------
    Contents
        Record, assessment and the stated time.

    Raises
    ------
    UnreadableError
        The file was signed, but it is no report: a document is missing, there twice, or too large.
    """
    if _FOREIGN.search(pdf):
        raise _no_report("it was written by another program")
    try:
        reader = PdfFileReader(BytesIO(pdf), strict=True)
        (found,) = reader.embedded_signatures
        if bytes(found.pkcs7_content) != signature.contents:
            raise _no_report("its signature is not where a reader would look")
        moment = found.self_reported_timestamp
        files = _files(reader.root)
        record, assessment = (_document(name, files[name]) for name in (RECORD, ASSESSMENT))
    except _BROKEN as error:
        raise _no_report("its inside cannot be read") from error
    if moment is None or moment.tzinfo is None:
        raise _no_report("its signature states no time")
    return Contents(record, assessment, moment)


def _no_report(problem: str) -> UnreadableError:
    return UnreadableError(problem, where="Report", remedy="Give a report made by this software")


def _files(root: Any) -> dict[str, Any]:
    """Return the embedded files by name; both lists of the file must name the same two."""
    listed = root["/Names"]["/EmbeddedFiles"]["/Names"]
    by_name = {str(listed[i]): listed.raw_get(i + 1) for i in range(0, len(listed), 2)}
    associated = root["/AF"]
    specs = [associated.raw_get(i) for i in range(len(associated))]
    if sorted(by_name) != sorted((RECORD, ASSESSMENT)) or len(listed) != 2 * len(by_name):
        raise _no_report("it does not hold one record and one assessment")
    if sorted(r.idnum for r in specs) != sorted(r.idnum for r in by_name.values()):
        raise _no_report("it lists its embedded files in two ways")
    return {name: spec.get_object()["/EF"]["/F"] for name, spec in by_name.items()}


def _document(name: str, stream: Any) -> dict[str, Any]:
    if stream.get("/Filter") != "/FlateDecode" or "/DecodeParms" in stream:
        raise _no_report(f"{name} is packed in another way than a report packs it")
    unpacker = zlib.decompressobj()
    data = unpacker.decompress(stream.encoded_data, LARGEST + 1)
    if len(data) > LARGEST:
        raise _no_report(f"{name} is larger than any record")
    doc = json.loads(data)
    if not isinstance(doc, dict) or canonical(doc) != data:
        raise _no_report(f"{name} is not in the form that is signed")
    return doc
