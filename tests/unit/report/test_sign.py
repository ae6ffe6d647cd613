import io
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from pypdf import PdfReader

from fieldapp.report.errors import SigningKeyError
from fieldapp.report.keys import SigningKey
from fieldapp.report.layout import SIGNATURE_BOX
from fieldapp.report.sign import sign


def poppler(*command: str | Path) -> str:
    done = subprocess.run([str(c) for c in command], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture
def file(signed: bytes, tmp_path: Path) -> Path:
    path = tmp_path / "report.pdf"
    path.write_bytes(signed)
    return path


def test_pdfsig_finds_the_signature_valid_and_over_the_whole_file(file: Path) -> None:
    said = poppler("pdfsig", file)
    assert "Signature is Valid" in said
    assert "Total document signed" in said
    assert "ETSI.CAdES.detached" in said
    assert "SHA-256" in said
    assert "Ada Example" in said


def test_pdfsig_finds_a_changed_page_invalid(signed: bytes, tmp_path: Path) -> None:
    at = signed.index(b"stream") + 40
    changed = bytearray(signed)
    changed[at] ^= 1
    path = tmp_path / "changed.pdf"
    path.write_bytes(changed)
    done = subprocess.run(["pdfsig", str(path)], capture_output=True, text=True, check=False)
    assert "Signature is Valid" not in done.stdout


def test_pdfdetach_gives_the_two_documents_byte_for_byte(
    file: Path, tmp_path: Path, documents: Mapping[str, Any]
) -> None:
    said = poppler("pdfdetach", "-list", file)
    for name in ("record", "assessment"):
        assert f"{name}.json" in said
        poppler("pdfdetach", "-savefile", f"{name}.json", "-o", tmp_path / name, file)
        assert (tmp_path / name).read_bytes() == rfc8785.dumps(documents[name])


def test_signing_only_adds_to_the_file(signed: bytes, unsigned: bytes) -> None:
    assert signed.startswith(unsigned)


def test_the_field_lies_on_the_last_page_and_allows_no_change(signed: bytes) -> None:
    reader = PdfReader(io.BytesIO(signed))
    (field,) = reader.pages[-1]["/Annots"]
    field = field.get_object()
    assert tuple(field["/Rect"]) == SIGNATURE_BOX
    assert field["/F"] & 4  # printed: ISO 19005-3:2012, 6.3.2 (from memory)
    assert "/N" in field["/AP"]
    permission = reader.root_object["/Perms"]["/DocMDP"]
    assert permission["/Reference"][0]["/TransformParams"]["/P"] == 1  # ISO 32000-1, table 254
    assert permission["/M"] == "D:20260304164000-08'00'"


def test_the_metadata_stays_as_it_was(signed: bytes, unsigned: bytes) -> None:
    before, after = (
        PdfReader(io.BytesIO(data)).root_object["/Metadata"].get_data()
        for data in (unsigned, signed)
    )
    assert before == after


@pytest.mark.parametrize("at", ["2026-02-27T10:00:00-08:00", "2040-01-01T00:00:00Z"])
def test_a_date_outside_the_certificates_validity_is_refused(
    unsigned: bytes, key: SigningKey, at: str
) -> None:
    with pytest.raises(SigningKeyError, match="valid from 2026-03-01 to 2036-03-01"):
        sign(unsigned, key, at=at)
