"""The signature of a finished report, read strictly: one signature over every byte of the file.

The bytes are checked before any parser of PDF sees them. Nothing is tolerated that signing does not
write: a later revision, a second signature, a digit of another case, a field nobody signed.
"""

import re
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Final

from asn1crypto import (  # type: ignore[import-untyped]
    cms,
    tsp,  # noqa: F401 - gives the attribute that binds the certificate its name
)
from cryptography import x509
from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec

from fieldapp.report.errors import AlteredError, UnreadableError

LARGEST: Final = 400_000_000  # bytes; a visit with 200 photos has 30 million
_RANGE: Final = re.compile(
    rb"/ByteRange\s*\[\s*(\d{1,12})\s+(\d{1,12})\s+(\d{1,12})\s+(\d{1,12})\s*\]"
)
_TRACES: Final = (b"/ByteRange", b"ETSI.CAdES", b"/DocMDP", b"/SigFlags")
_ATTRIBUTES: Final = {"content_type", "message_digest", "signing_certificate_v2"}
_MAY_HOLD: Final = {*_ATTRIBUTES, "cms_algorithm_protection"}
_BROKEN: Final = (
    ValueError,
    TypeError,
    KeyError,
    IndexError,
    AttributeError,
    OverflowError,
    RecursionError,
    UnsupportedAlgorithm,
    x509.InvalidVersion,
)


@dataclass(frozen=True)
class Signature:
    """A signature that holds over every byte of its file, by whomever.

    Parameters
    ----------
    certificate : Certificate
        The signer's own.
    contents : bytes
        The signature's container with its padding.
    """

    certificate: x509.Certificate
    contents: bytes


def read_signature(pdf: bytes) -> Signature:
    """Find the signature and prove that it covers the file as it is.

    Raises
    ------
    AlteredError
        The file holds no signature, or is not what was signed.
    UnreadableError
        The file is no whole PDF file.

    References
    ----------
    ISO 32000-1:2008, 12.8.1 (byte range); RFC 5652, 5.4 (signed attributes); RFC 5035, 3 (signing
    certificate) (from memory).
    """
    if len(pdf) > LARGEST:
        raise _unreadable(f"it has more than {LARGEST // 1_000_000} million bytes")
    start, end = _hole(pdf)
    contents = _contents(pdf[start + 1 : end - 1])
    digest = sha256(pdf[:start])
    digest.update(pdf[end:])
    try:
        certificate = _signer(contents, digest.digest())
    except _BROKEN as error:
        raise altered("its signature cannot be read any more") from error
    return Signature(certificate, contents)


def altered(problem: str) -> AlteredError:
    """Return the refusal of a file that is not what was signed."""
    return AlteredError(problem, where="Report", remedy="Ask the signer for the original file")


def _unreadable(problem: str) -> UnreadableError:
    return UnreadableError(problem, where="Report", remedy="Ask the signer for the whole file")


def _hole(pdf: bytes) -> tuple[int, int]:
    """Return where the signature lies in the file: the only bytes it does not cover."""
    found = _RANGE.findall(pdf)
    if not found:
        raise _without_signature(pdf)
    if len(found) > 1:
        raise altered(f"it holds {len(found)} signatures, and a report has one")
    first, start, end, rest = (int(n) for n in found[0])
    if end + rest < len(pdf):
        raise altered("something was added to the file after it was signed")
    if end + rest > len(pdf):
        if pdf.rstrip().endswith(b"%%EOF"):
            raise altered("its signature names bytes that are not there")
        raise _unreadable("the file ends before its signed part does")
    if first != 0 or start >= end or pdf[start : start + 1] + pdf[end - 1 : end] != b"<>":
        raise altered("its signature is out of place")
    return start, end


def _without_signature(pdf: bytes) -> AlteredError | UnreadableError:
    if any(trace in pdf for trace in _TRACES):
        return altered("its signature was damaged")
    is_whole = pdf.startswith(b"%PDF-") and pdf.rstrip().endswith(b"%%EOF")
    if is_whole and re.search(rb"startxref\s+\d+\s+%%EOF\s*$", pdf[-200:]):
        return altered("it holds no signature")
    return _unreadable("it is no whole PDF file")


def _contents(digits: bytes) -> bytes:
    try:
        contents = bytes.fromhex(digits.decode("ascii"))
    except ValueError as error:
        raise altered("its signature was damaged") from error
    if digits not in (contents.hex().encode(), contents.hex().upper().encode()):
        raise altered("its signature was damaged")
    return contents


def _signer(contents: bytes, digest: bytes) -> x509.Certificate:
    """Return who signed this digest.

    The mathematics cover the signed attributes alone. The rest of the container must be, byte for
    byte, what signing writes around them, so that no bit of it can be turned unnoticed.
    """
    container = cms.ContentInfo.load(contents)
    (info,) = container["content"]["signer_infos"]
    (choice,) = container["content"]["certificates"]
    attributes = {a["type"].native: a["values"] for a in info["signed_attrs"]}
    if not _ATTRIBUTES <= set(attributes) <= _MAY_HOLD or (
        len(attributes) != len(info["signed_attrs"])
    ):
        raise altered("its signature was damaged")
    (said,) = attributes["message_digest"]
    (named,) = attributes["signing_certificate_v2"]
    if said.native != digest:
        raise altered("its bytes are not the ones that were signed")
    if named["certs"][0]["cert_hash"].native != sha256(choice.chosen.dump()).digest():
        raise altered("its signature names another certificate")
    whole = _container(choice.chosen, info)
    if not contents.startswith(whole) or contents[len(whole) :].strip(b"\0"):
        raise altered("its signature was damaged")
    certificate = x509.load_der_x509_certificate(choice.chosen.dump())
    _prove(certificate, info)
    # What is read of it later must be readable.
    _ = certificate.subject, certificate.not_valid_before_utc, certificate.not_valid_after_utc
    return certificate


def _container(certificate: Any, info: Any) -> bytes:
    """Return the container that signing writes around these attributes: RFC 5652, 5.1 and 5.3."""
    signer = {"issuer": certificate.issuer, "serial_number": certificate.serial_number}
    around = {
        "version": "v1",
        "sid": cms.SignerIdentifier({"issuer_and_serial_number": signer}),
        "digest_algorithm": {"algorithm": "sha256"},
        "signed_attrs": info["signed_attrs"],
        "signature_algorithm": {"algorithm": "sha256_ecdsa"},
        "signature": info["signature"].native,
    }
    signed = {
        "version": "v1",
        "digest_algorithms": [{"algorithm": "sha256"}],
        "encap_content_info": {"content_type": "data"},
        "certificates": [certificate],
        "signer_infos": [around],
    }
    made = cms.ContentInfo({"content_type": "signed_data", "content": cms.SignedData(signed)})
    return bytes(made.dump())


def _prove(certificate: x509.Certificate, info: Any) -> None:
    key = certificate.public_key()
    if not isinstance(key, ec.EllipticCurvePublicKey):
        raise altered("its signature is of another kind than a report's")
    try:
        key.verify(
            info["signature"].native,
            info["signed_attrs"].untag().dump(),
            ec.ECDSA(hashes.SHA256()),
        )
    except InvalidSignature as error:
        raise altered("its signature was not made with the key that it names") from error
