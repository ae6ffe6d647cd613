"""Verification of a signed report: intact, by whom, and does the assessment still follow."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import islice
from typing import Any, Final

from cryptography import x509

from checks import SOFTWARE
from checks.errors import ChecksError, RecordTooNewError
from fieldapp.report.contents import Contents, read_contents
from fieldapp.report.errors import AlteredError, UnreadableError
from fieldapp.report.keys import fingerprint, owner
from fieldapp.report.signature import read_signature

Doc = dict[str, Any]
_SHOWN: Final = 12  # differences that are listed one by one


class Status(StrEnum):
    """What verification found."""

    GOOD = "intact, signer trusted, the assessment agrees"
    ALTERED = "altered"
    DISAGREES = "intact, but the assessment disagrees with the record"
    UNREADABLE = "unreadable"
    UNKNOWN_SIGNER = "intact, signer not known"

    @property
    def exit_code(self) -> int:
        """The exit code of ``fieldapp verify``."""
        codes = {Status.GOOD: 0, Status.UNREADABLE: 2, Status.UNKNOWN_SIGNER: 3}
        return codes.get(self, 1)


@dataclass(frozen=True)
class Verification:
    """What verification found, and why.

    Parameters
    ----------
    status : Status
        The finding in one phrase, with its exit code.
    reasons : tuple of str
        Why it is not good, line by line.
    information : tuple of str
        What is worth knowing and changes nothing.
    signer, fingerprint : str
        Name in the certificate, and its SHA-256; empty when the signature does not hold.
    signed_at : str
        When the signer says it was signed, ISO 8601; nobody else vouches for it.
    record, assessment : dict, optional
        The embedded documents of a file that is intact.
    """

    status: Status
    reasons: tuple[str, ...] = ()
    information: tuple[str, ...] = ()
    signer: str = ""
    fingerprint: str = ""
    signed_at: str = ""
    record: Doc | None = None
    assessment: Doc | None = None


def verify(
    pdf: bytes, trusted: Sequence[x509.Certificate], reassess: Callable[[Doc], Doc]
) -> Verification:
    """Verify a report.

    Parameters
    ----------
    pdf : bytes
        The file; it may be anything.
    trusted : sequence of Certificate
        Certificates of signers that are trusted, each for itself.
    reassess : callable
        From a record's document to the document of its assessment by this software; a
        `ChecksError` where it refuses the record.

    Returns
    -------
    Verification
        Never an error: whatever the file is, this says it.
    """
    try:
        signature = read_signature(pdf)
        contents = read_contents(pdf, signature)
    except UnreadableError as error:
        return Verification(Status.UNREADABLE, (error.problem,))
    except AlteredError as error:
        return Verification(Status.ALTERED, (error.problem,))
    certificate = signature.certificate
    differences, information = _compared(contents, reassess)
    doubts = tuple(_doubts(certificate, contents, trusted))
    status = Status.UNKNOWN_SIGNER if doubts else Status.GOOD
    if differences:
        status = Status.DISAGREES
    return Verification(
        status=status,
        reasons=(*differences, *doubts),
        information=(
            *information,
            *_other_hand(certificate, contents.record),
            *_draft(contents.record),
        ),
        signer=owner(certificate),
        fingerprint=fingerprint(certificate),
        signed_at=contents.signed_at.isoformat(),
        record=contents.record,
        assessment=contents.assessment,
    )


def _doubts(
    certificate: x509.Certificate, contents: Contents, trusted: Sequence[x509.Certificate]
) -> Iterator[str]:
    if certificate not in trusted:
        yield f"the signer's certificate {fingerprint(certificate)} is not among the trusted ones"
    valid = (
        certificate.not_valid_before_utc <= contents.signed_at <= certificate.not_valid_after_utc
    )
    if not valid:
        yield "the signer's certificate was not valid at the time that the signature states"


def _other_hand(certificate: x509.Certificate, record: Doc) -> Iterator[str]:
    named = record.get("technician")
    name = " ".join(str(named.get("name", "")).split()) if isinstance(named, dict) else ""
    if not name.startswith(owner(certificate)) or not owner(certificate):
        yield f"the record names {name or 'nobody'} as the technician, and another name signed"


def _draft(record: Doc) -> Iterator[str]:
    if record.get("signoff") is None:
        yield "a draft: the record was not signed off, and nobody has taken responsibility for it"


def _compared(
    contents: Contents, reassess: Callable[[Doc], Doc]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what disagrees, and what is only worth knowing."""
    record, signed = contents.record, contents.assessment
    for mine, theirs in (("id", "visit"), ("revision", "revision"), ("code", "code")):
        if record.get(mine) != signed.get(theirs):
            return (f"the assessment's {theirs} is not the record's",), ()
    is_ours = signed.get("software") == SOFTWARE
    try:
        now = reassess(record)
    except RecordTooNewError as error:
        return (), (f"not assessed again: {error.problem}",)
    except ChecksError as error:
        refusal = (f"this software refuses the record: {error.where}: {error.problem}",)
        return (refusal, ()) if is_ours else ((), refusal)
    differences = _differences(signed, now)
    if is_ours:
        return differences, ()
    version = f"signed under software {signed.get('software')}, compared with {SOFTWARE}"
    return (), (version, *differences)


def _differences(signed: Doc, now: Doc) -> tuple[str, ...]:
    lines = list(islice(_walk("", signed, now), _SHOWN + 1))
    if len(lines) > _SHOWN:
        lines[_SHOWN:] = ["and more"]
    return tuple(lines)


def _walk(where: str, signed: Any, now: Any) -> Iterator[str]:
    if isinstance(signed, dict) and isinstance(now, dict):
        for key in sorted({*signed, *now}):
            yield from _walk(f"{where}.{key}".lstrip("."), signed.get(key), now.get(key))
    elif isinstance(signed, list) and isinstance(now, list) and len(signed) == len(now):
        for i, (one, other) in enumerate(zip(signed, now, strict=True)):
            yield from _walk(f"{where}[{i}]", one, other)
    elif signed != now:
        yield f"{where}: signed {_short(signed)}, now {_short(now)}"


def _short(value: Any) -> str:
    if isinstance(value, dict | list):
        return f"{len(value)} items"
    text = repr(value)
    return text if len(text) <= 80 else f"{text[:77]}..."  # noqa: PLR2004 - one line of a screen
