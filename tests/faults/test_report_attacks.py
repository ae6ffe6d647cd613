"""A signed report in the hands of those who would like it to say something else."""

import io
import random
import re
import zlib
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest
from fpdf import FPDF
from pypdf import PdfReader, PdfWriter
from pypdf.generic import TextStringObject

from checks.record import Visit
from fieldapp.report.embedded import canonical, document
from fieldapp.report.keys import SigningKey, fingerprint
from fieldapp.report.sign import sign
from fieldapp.report.verify import Status, Verification
from tests.unit.report import matter


def test_the_untouched_report_is_good(
    signed: bytes, judge: Callable[[bytes], Verification], visit: Visit, key: SigningKey
) -> None:
    found = judge(signed)
    assert found.status is Status.GOOD
    assert found.status.exit_code == 0
    assert found.signer == "Ada Example"
    assert found.fingerprint == fingerprint(key.certificate)
    assert datetime.fromisoformat(found.signed_at) == datetime.fromisoformat(matter.AT)
    assert found.record == document(visit)


# -- who changes bytes ----------------------------------------------------------------------------


def test_the_bit_turner_finds_no_place_that_goes_unnoticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    chance = random.Random(20260304)
    hole = signed.index(b"/Contents <") + len(b"/Contents <")
    container = range(hole, hole + 2000, 9)  # the bytes that the digest does not cover
    anywhere = [chance.randrange(len(signed)) for _ in range(200)]
    ends = [*range(12), *range(len(signed) - 40, len(signed)), *range(hole - 12, hole)]
    for place in (*anywhere, *container, *ends):
        changed = bytearray(signed)
        changed[place] ^= 1 << chance.randrange(8)
        found = judge(bytes(changed))
        assert found.status is Status.ALTERED, (place, found)
        assert found.status.exit_code == 1
        assert found.record is None


def test_the_painter_of_capitals_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    hole = signed.index(b"/Contents <") + len(b"/Contents <")
    place = next(i for i in range(hole, hole + 200) if signed[i : i + 1].isalpha())
    changed = signed[:place] + signed[place : place + 1].swapcase() + signed[place + 1 :]
    assert judge(changed).status is Status.ALTERED


def test_the_one_who_fills_the_padding_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    end = signed.index(b">", signed.index(b"/Contents <"))
    changed = signed[: end - 2] + b"41" + signed[end:]
    assert len(changed) == len(signed)
    assert judge(changed).status is Status.ALTERED


def test_the_one_who_appends_a_line_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    found = judge(signed + b"\n")
    assert found.status is Status.ALTERED
    assert "added" in found.reasons[0]


def test_the_one_who_appends_a_later_revision_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    writer = PdfWriter(io.BytesIO(signed), incremental=True)
    writer.add_metadata({"/Title": "Everything within"})
    out = io.BytesIO()
    writer.write(out)
    assert out.getvalue().startswith(signed)
    assert judge(out.getvalue()).status is Status.ALTERED


def test_the_one_who_widens_the_range_over_an_appendix_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    found = re.search(rb"/ByteRange \[0 (\d+) (\d+) (\d+)\]( +)", signed)
    assert found is not None
    start, end, rest = (int(n) for n in found.groups()[:3])
    wider = b"/ByteRange [0 %d %d %d]" % (start, end, rest + 9)
    changed = signed.replace(found[0], wider.ljust(len(found[0]))) + b"\n% added\n"[:9]
    assert judge(changed).status is Status.ALTERED


def test_the_one_who_puts_a_second_signature_on_it_is_noticed(
    signed: bytes, stranger: SigningKey, judge: Callable[[bytes], Verification]
) -> None:
    changed = signed + b"\n% /ByteRange [0 1 2 3]\n%%EOF"
    assert judge(changed).status is Status.ALTERED


def test_the_one_who_swaps_the_record_in_place_is_noticed(
    signed: bytes, visit: Visit, judge: Callable[[bytes], Verification]
) -> None:
    genuine = zlib.compress(canonical(document(visit)))
    assert signed.count(genuine) == 1
    other = document(visit)
    other["site"]["name"] = "Larkspur Court Carport (invented)"
    forged = zlib.compress(canonical(other), 9)
    changed = signed.replace(genuine, forged.ljust(len(genuine), b"\0")[: len(genuine)])
    assert judge(changed).status is Status.ALTERED


@pytest.mark.parametrize("name", ["record.json", "assessment.json"])
def test_the_one_who_rewrites_the_file_with_another_attachment_is_noticed(
    signed: bytes, name: str, judge: Callable[[bytes], Verification]
) -> None:
    writer = PdfWriter(clone_from=io.BytesIO(signed))
    writer.add_attachment(name, b"{}")
    out = io.BytesIO()
    writer.write(out)
    assert judge(out.getvalue()).status is Status.ALTERED


def test_the_one_who_strips_the_signature_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    unsigned = signed[: signed.index(b"%%EOF") + 6]
    found = judge(unsigned)
    assert found.status is Status.ALTERED
    assert found.reasons == ("it holds no signature",)


def test_the_one_who_prints_it_anew_without_signature_is_noticed(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    writer = PdfWriter()
    for page in PdfReader(io.BytesIO(signed)).pages:
        writer.add_page(page)
    del writer.pages[-1]["/Annots"]
    writer.add_metadata({"/Author": TextStringObject("Ada Example")})
    out = io.BytesIO()
    writer.write(out)
    assert judge(out.getvalue()).status is Status.ALTERED


# -- what is no report at all ---------------------------------------------------------------------

DEEP = b"[" * 100_000 + b"]" * 100_000
HOSTILE = {
    "empty": b"",
    "text": b"hello",
    "json": b'{"schema_version": 1}',
    "random": random.Random(7).randbytes(50_000),
    "head only": b"%PDF-1.7\n",
    "head and noise": b"%PDF-1.7\n" + random.Random(8).randbytes(50_000),
    "nested": b"%PDF-1.7\n1 0 obj\n" + DEEP + b"\nendobj\n",
    "zeros": bytes(1_000_000),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_report_is_unreadable_in_one_line(
    name: str, judge: Callable[[bytes], Verification]
) -> None:
    found = judge(HOSTILE[name])
    assert found.status is Status.UNREADABLE
    assert found.status.exit_code == 2
    assert len(found.reasons) == 1
    assert "\n" not in found.reasons[0]


@pytest.mark.parametrize("share", [0.05, 0.3, 0.6, 0.85])
def test_a_truncated_report_is_never_taken_for_whole(
    signed: bytes, share: float, judge: Callable[[bytes], Verification]
) -> None:
    found = judge(signed[: int(len(signed) * share)])
    assert found.status is Status.UNREADABLE


def test_a_report_cut_after_its_signature_is_never_taken_for_whole(
    signed: bytes, judge: Callable[[bytes], Verification]
) -> None:
    for cut in range(1, 300, 7):
        assert judge(signed[:-cut]).status in (Status.UNREADABLE, Status.ALTERED)


def _signed_by(key: SigningKey, pdf: bytes) -> bytes:
    return sign(pdf, key, at=matter.AT)


def _foreign(extra: Callable[[Any], None]) -> bytes:
    pdf = FPDF(unit="pt", format="letter")
    pdf.add_page()
    extra(pdf)
    return bytes(pdf.output())


def test_a_stranger_s_signed_file_that_is_no_report_is_unreadable(
    stranger: SigningKey, judge: Callable[[bytes], Verification]
) -> None:
    found = judge(_signed_by(stranger, _foreign(lambda pdf: None)))
    assert found.status is Status.UNREADABLE


def test_a_stranger_s_inflating_record_is_refused_before_it_inflates(
    stranger: SigningKey, judge: Callable[[bytes], Verification], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.report.contents.LARGEST", 1000)

    def bomb(pdf: Any) -> None:
        for name in ("record.json", "assessment.json"):
            pdf.embed_file(
                bytes=b'{"a":"' + b"0" * 5_000_000 + b'"}',
                basename=name,
                compress=True,
                associated_file_relationship="Data",
            )

    found = judge(_signed_by(stranger, _foreign(bomb)))
    assert found.status is Status.UNREADABLE
    assert "larger than any record" in found.reasons[0]


@pytest.mark.parametrize("content", [b"[]", b"{", DEEP, b'{"b":1,"a":1}', b'{"a":NaN}', b"\xff"])
def test_a_stranger_s_malformed_record_is_unreadable(
    content: bytes, stranger: SigningKey, judge: Callable[[bytes], Verification]
) -> None:
    def embed(pdf: Any) -> None:
        for name in ("record.json", "assessment.json"):
            pdf.embed_file(
                bytes=content,
                basename=name,
                compress=True,
                associated_file_relationship="Data",
            )

    assert judge(_signed_by(stranger, _foreign(embed))).status is Status.UNREADABLE
