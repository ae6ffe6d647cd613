"""The signature over the whole file: PAdES baseline B-B, ECDSA with P-256 and SHA-256."""

import asyncio
from datetime import datetime
from io import BytesIO
from typing import Any, Final

from cryptography.hazmat.primitives import serialization
from pyhanko.keys import load_certs_from_pemder_data, load_private_key_from_pemder_data
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign.fields import MDPPerm, SigFieldSpec, SigSeedSubFilter
from pyhanko.sign.signers import SimpleSigner
from pyhanko.sign.signers.cms_embedder import (
    PdfCMSEmbedder,
    SigIOSetup,
    SigMDPSetup,
    SigObjSetup,
)
from pyhanko.sign.signers.pdf_byterange import SignatureObject
from pyhanko_certvalidator.registry import SimpleCertificateStore

from fieldapp.report.errors import SigningKeyError
from fieldapp.report.keys import SigningKey, certificate_pem
from fieldapp.report.layout import SIGNATURE_BOX

FIELD: Final = "Signature"
_HEX_DIGITS: Final = 8192  # room for the signature and one certificate; unused digits stay zero


def sign(pdf: bytes, key: SigningKey, *, at: str) -> bytes:
    """Sign a report so that any later change of the file shows.

    The signature certifies the document and allows no change at all. It needs no network and holds
    no time stamp of a third party: its time is what the signer says.

    Parameters
    ----------
    pdf : bytes
        The report as `fieldapp.report.pages.build` makes it.
    key : SigningKey
        The technician's key and certificate.
    at : str
        When it is signed, ISO 8601 with the offset.

    Returns
    -------
    bytes
        The signed file.

    Raises
    ------
    SigningKeyError
        The certificate is not valid at that time.

    References
    ----------
    ETSI EN 319 142-1, baseline signature B-B; ISO 32000-1:2008, 12.8 (from memory).
    """
    moment = datetime.fromisoformat(at)
    certificate = key.certificate
    if not certificate.not_valid_before_utc <= moment <= certificate.not_valid_after_utc:
        raise SigningKeyError(
            f"the certificate is valid from {certificate.not_valid_before_utc:%Y-%m-%d} to "
            f"{certificate.not_valid_after_utc:%Y-%m-%d}, and the signature is dated {at[:10]}",
            where="Signing key",
            remedy="Set the clock right, or make a new key",
        )
    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    # The file's own metadata stays as it is: no second clock, and XMP and Info stay equal.
    writer._update_meta = lambda: None
    embedding = PdfCMSEmbedder(SigFieldSpec(FIELD, on_page=-1, box=SIGNATURE_BOX)).write_cms(
        FIELD, writer
    )
    _see_through(writer, next(embedding).get_object())
    embedding.send(_declaration(moment))
    prepared, output = embedding.send(SigIOSetup(md_algorithm="sha256", output=BytesIO()))
    embedding.send(asyncio.run(_cms(key, prepared.document_digest)))
    return bytes(output.getvalue())


def _declaration(moment: datetime) -> Any:
    return SigObjSetup(
        sig_placeholder=SignatureObject(
            timestamp=moment, subfilter=SigSeedSubFilter.PADES, bytes_reserved=_HEX_DIGITS
        ),
        mdp_setup=SigMDPSetup(md_algorithm="sha256", certify=True, docmdp_perms=MDPPerm.NO_CHANGES),
    )


def _see_through(writer: Any, widget: Any) -> None:
    """Give the field an empty appearance: the drawn signature on the page stays in view.

    PDF/A wants an appearance for every annotation that has an area: ISO 19005-3:2012, 6.3.3 (from
    memory).
    """
    box = [generic.FloatObject(v) for v in (0, 0, *_size(SIGNATURE_BOX))]
    empty = generic.StreamObject(
        {
            generic.NameObject("/Type"): generic.NameObject("/XObject"),
            generic.NameObject("/Subtype"): generic.NameObject("/Form"),
            generic.NameObject("/BBox"): generic.ArrayObject(box),
        },
        stream_data=b"",
    )
    look = generic.DictionaryObject({generic.NameObject("/N"): writer.add_object(empty)})
    widget[generic.NameObject("/AP")] = look


def _size(box: tuple[int, int, int, int]) -> tuple[int, int]:
    return box[2] - box[0], box[3] - box[1]


async def _cms(key: SigningKey, digest: bytes) -> Any:
    (certificate,) = load_certs_from_pemder_data(certificate_pem(key.certificate))
    private = key.private_key.private_bytes(
        serialization.Encoding.DER,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    signer = SimpleSigner(
        signing_cert=certificate,
        signing_key=load_private_key_from_pemder_data(private, passphrase=None),
        cert_registry=SimpleCertificateStore(),  # type: ignore[no-untyped-call]
    )
    return await signer.async_sign(digest, "sha256", use_pades=True)
