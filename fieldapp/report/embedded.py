"""The two documents that travel inside the report, as the bytes that are hashed and signed."""

import json
from hashlib import sha256
from typing import Any, Final

from checks.assess import Assessment
from checks.record import Visit

RECORD: Final = "record.json"
ASSESSMENT: Final = "assessment.json"
LARGEST: Final = 64_000_000  # bytes of one document when unpacked; a visit of 10 000 entries has 5


def document(model: Visit | Assessment) -> dict[str, Any]:
    """Return a record or an assessment as the document that is embedded and compared."""
    return model.model_dump(mode="json")


def canonical(doc: dict[str, Any]) -> bytes:
    """Return sorted compact JSON in UTF-8.

    A record and an assessment hold no float, ASCII names and small integers: for these the bytes
    are those of the JSON Canonicalization Scheme.

    References
    ----------
    RFC 8785, June 2020, section 3.2 (from memory; compared with the rfc8785 package in the tests).
    """
    text = json.dumps(
        doc, sort_keys=True, ensure_ascii=False, allow_nan=False, separators=(",", ":")
    )
    return text.encode()


def digest(doc: dict[str, Any]) -> str:
    """Return the SHA-256 of the canonical bytes, in lower-case hexadecimal."""
    return sha256(canonical(doc)).hexdigest()
