"""The technician's own key: made on first use, kept encrypted under a PIN, with its certificate.

What the PIN is worth: it stops whoever picks up the phone. Whoever copies the file can try PINs
without end; the memory-hard derivation makes each try cost a good part of a second, so that six
digits hold for a day or so and ten for years. A software key is no smart card.
"""

import json
import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from cryptography.x509.oid import NameOID

from checks.record import Person
from fieldapp.report.errors import CertificateError, PinError, SigningKeyError

PIN_DIGITS_MIN: Final = 6
PIN_DIGITS_MAX: Final = 32
FILE_NAME: Final = "signing-key.json"
# RFC 7914 cost: 64 MB and about 0.2 s a try on a desktop.
_SCRYPT: Final = {"n": 2**16, "r": 8, "p": 1}
_NAME_MAX: Final = 64  # upper bound of a common name and a serial number: RFC 5280, appendix A.1


@dataclass(frozen=True)
class SigningKey:
    """An opened key and the certificate that belongs to it."""

    private_key: ec.EllipticCurvePrivateKey
    certificate: x509.Certificate


def check_pin(pin: str) -> None:
    """Refuse a PIN that is not fit to guard a key.

    Raises
    ------
    PinError
        Too short, too long, not digits only, or one digit over and over.
    """
    problem = ""
    if not (pin.isascii() and pin.isdigit()):
        problem = "only the digits 0 to 9 can be used"
    elif not PIN_DIGITS_MIN <= len(pin) <= PIN_DIGITS_MAX:
        problem = f"{len(pin)} digits are too {'few' if len(pin) < PIN_DIGITS_MIN else 'many'}"
    elif len(set(pin)) == 1:
        problem = "one digit over and over is the first guess of anybody"
    if problem:
        raise PinError(
            problem, where="PIN", remedy=f"Choose {PIN_DIGITS_MIN} to {PIN_DIGITS_MAX} mixed digits"
        )


def has_key(folder: Path) -> bool:
    """Return whether a signing key was made in this folder."""
    return (folder / FILE_NAME).exists()


def create_key(
    folder: Path, pin: str, person: Person, *, not_before: datetime, not_after: datetime
) -> SigningKey:
    """Make the technician's key and self-signed certificate and keep them under the PIN.

    Parameters
    ----------
    folder : Path
        Where the key file goes; made if it is not there.
    pin : str
        At least six digits.
    person : Person
        Name, license number and company for the certificate.
    not_before, not_after : datetime
        Validity of the certificate, aware of their time zone.

    Raises
    ------
    PinError
        The PIN is not fit.
    SigningKeyError
        There is a key already, the person has no name, or the folder cannot be written.

    References
    ----------
    Curve P-256: FIPS 186-4; certificate: RFC 5280; container: PKCS#8, RFC 5958; derivation:
    scrypt, RFC 7914 (from memory).
    """
    check_pin(pin)
    if has_key(folder):
        raise SigningKeyError(
            "a signing key is there already",
            where="Signing key",
            remedy="Use it, or move the file away first: reports signed with it keep their proof",
        )
    key = ec.generate_private_key(ec.SECP256R1())
    certificate = _certificate(key, person, not_before, not_after)
    salt = secrets.token_bytes(16)
    wrapped = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.BestAvailableEncryption(_stretched(pin, salt, _SCRYPT)),
    )
    content = {
        "scrypt": {**_SCRYPT, "salt": salt.hex()},
        "private_key": wrapped.decode(),
        "certificate": certificate_pem(certificate).decode(),
    }
    _keep(folder, json.dumps(content, indent=1).encode())
    return SigningKey(key, certificate)


def open_key(folder: Path, pin: str) -> SigningKey:
    """Open the key with its PIN; a wrong one can be tried again.

    Raises
    ------
    PinError
        The PIN does not open it.
    SigningKeyError
        There is no key, or its file is damaged.
    """
    content = _read(folder)
    try:
        costs = content["scrypt"]
        password = _stretched(pin, bytes.fromhex(costs["salt"]), costs)
        wrapped = content["private_key"].encode()
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise _damaged(folder) from error
    try:
        key = serialization.load_pem_private_key(wrapped, password)
    except ValueError as error:
        raise PinError(
            "this PIN does not open the signing key",
            where="PIN",
            remedy="Type it again; nothing is lost by a wrong try",
        ) from error
    certificate = stored_certificate(folder)
    if not isinstance(key, ec.EllipticCurvePrivateKey) or (
        key.public_key() != certificate.public_key()
    ):
        raise _damaged(folder)
    return SigningKey(key, certificate)


def stored_certificate(folder: Path) -> x509.Certificate:
    """Return the certificate of the key in this folder; needs no PIN.

    Raises
    ------
    SigningKeyError
        There is no key, or its file is damaged.
    """
    try:
        return read_certificate(str(_read(folder).get("certificate", "")).encode())
    except CertificateError as error:
        raise _damaged(folder) from error


def read_certificate(data: bytes) -> x509.Certificate:
    """Read a certificate in PEM or DER form, as it is given to ``--trust``.

    Raises
    ------
    CertificateError
        It is neither.
    """
    try:
        if b"-----BEGIN CERTIFICATE-----" in data:
            return x509.load_pem_x509_certificate(data)
        return x509.load_der_x509_certificate(data)
    except ValueError as error:
        raise CertificateError(
            "this is no certificate that can be read",
            where="Certificate",
            remedy="Give the signer's certificate as a PEM or DER file",
        ) from error


def certificate_pem(certificate: x509.Certificate) -> bytes:
    """Return the certificate as a PEM file, to hand to whoever is to trust it."""
    return certificate.public_bytes(serialization.Encoding.PEM)


def fingerprint(certificate: x509.Certificate) -> str:
    """Return the SHA-256 of the certificate, in lower-case hexadecimal."""
    return certificate.fingerprint(hashes.SHA256()).hex()


def common_name(person: Person) -> str:
    """Return a person's name as a certificate can hold it."""
    return " ".join(person.name.split())[:_NAME_MAX]


def owner(certificate: x509.Certificate) -> str:
    """Return the name in a certificate; empty when it holds none."""
    names = certificate.subject.get_attributes_for_oid(NameOID.COMMON_NAME)
    return str(names[0].value) if names else ""


def _certificate(
    key: ec.EllipticCurvePrivateKey, person: Person, not_before: datetime, not_after: datetime
) -> x509.Certificate:
    if not person.name.strip():
        raise SigningKeyError(
            "a key needs the name of its owner",
            where="Technician, name",
            remedy="Enter your name as it stands on the license",
        )
    parts = (
        (NameOID.COMMON_NAME, person.name),
        (NameOID.ORGANIZATION_NAME, person.company),
        (NameOID.SERIAL_NUMBER, person.license_number),
    )
    name = x509.Name(
        [
            x509.NameAttribute(oid, " ".join(text.split())[:_NAME_MAX])
            for oid, text in parts
            if text.strip()
        ]
    )
    usage = x509.KeyUsage(
        digital_signature=True,
        content_commitment=True,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(not_before)
        .not_valid_after(not_after)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )


def _stretched(pin: str, salt: bytes, costs: Mapping[str, Any]) -> bytes:
    if costs["n"] > 2 * _SCRYPT["n"] or costs["r"] * costs["p"] > _SCRYPT["r"]:
        raise ValueError("costs that no key of ours has")
    scrypt = Scrypt(salt=salt, length=32, n=costs["n"], r=costs["r"], p=costs["p"])
    return scrypt.derive(pin.encode()).hex().encode()


def _read(folder: Path) -> dict[str, Any]:
    if not has_key(folder):
        raise SigningKeyError(
            "there is no signing key yet",
            where="Signing key",
            remedy="Choose a PIN to make one",
        )
    try:
        content = json.loads((folder / FILE_NAME).read_bytes())
    except (OSError, ValueError, RecursionError) as error:
        raise _damaged(folder) from error
    if not isinstance(content, dict):
        raise _damaged(folder)
    return content


def _damaged(folder: Path) -> SigningKeyError:
    return SigningKeyError(
        "the file of the signing key is damaged",
        where=str(folder / FILE_NAME),
        remedy="Bring it back from a copy, or move it away and make a new key",
    )


def _keep(folder: Path, content: bytes) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _write_once(folder / FILE_NAME, content)
    except OSError as error:
        raise SigningKeyError(
            f"it cannot be kept in {folder} ({error.strerror})",
            where="Signing key",
            remedy="Name a data folder in which you may write",
        ) from error


def _write_once(path: Path, data: bytes) -> None:
    """Write the file whole or not at all, for its owner's eyes only."""
    beside = path.with_suffix(".new")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)
