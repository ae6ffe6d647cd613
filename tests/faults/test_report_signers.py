"""A report signed by another, or over another record, and one that other software made."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.serialization import Encoding

from checks.assess import Assessment
from checks.errors import RecordError, RecordTooNewError
from checks.record import Visit
from fieldapp.report import pages
from fieldapp.report.embedded import document
from fieldapp.report.keys import SigningKey, create_key, fingerprint
from fieldapp.report.pages import build
from fieldapp.report.sign import sign
from fieldapp.report.verify import Status, Verification, verify
from tests.faults.conftest import Doc, report
from tests.unit.report import matter


def test_the_one_who_signs_with_a_key_of_the_same_name_is_not_known(
    visit: Visit,
    assessment: Assessment,
    stranger: SigningKey,
    judge: Callable[[bytes], Verification],
) -> None:
    found = judge(report(visit, assessment, stranger))
    assert found.status is Status.UNKNOWN_SIGNER
    assert found.status.exit_code == 3
    assert fingerprint(stranger.certificate) in found.reasons[0]


def test_nobody_is_known_when_nobody_is_trusted(
    signed: bytes, agrees: Callable[[Doc], Doc]
) -> None:
    assert verify(signed, [], agrees).status is Status.UNKNOWN_SIGNER


def test_the_one_who_sends_the_stranger_s_certificate_under_our_signature_is_noticed(
    signed: bytes,
    key: SigningKey,
    stranger: SigningKey,
    judge: Callable[[bytes], Verification],
) -> None:
    ours, theirs = (
        k.certificate.public_bytes(Encoding.DER).hex().upper().encode() for k in (key, stranger)
    )
    assert signed.count(ours) == 1
    changed = signed.replace(ours, theirs[: len(ours)].ljust(len(ours), b"0"))
    assert judge(changed).status is Status.ALTERED


def test_the_signer_who_swaps_the_record_before_signing_is_noticed(
    visit: Visit,
    assessment: Assessment,
    key: SigningKey,
    judge: Callable[[bytes], Verification],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    other = visit.model_copy(update={"id": "another-visit"})
    monkeypatch.setattr(pages, "document", lambda m: document(other if isinstance(m, Visit) else m))
    found = judge(report(visit, assessment, key))
    assert found.status is Status.DISAGREES
    assert found.status.exit_code == 1
    assert "visit is not the record's" in found.reasons[0]


def test_the_signer_who_betters_the_assessment_is_noticed(
    visit: Visit,
    assessment: Assessment,
    key: SigningKey,
    judge: Callable[[bytes], Verification],
) -> None:
    better = assessment.model_copy(update={"findings": assessment.findings[1:]})
    found = judge(report(visit, better, key))
    assert found.status is Status.DISAGREES
    assert found.reasons == ("findings: signed 3 items, now 4 items",)


def test_a_difference_is_named_by_its_field(
    signed: bytes, key: SigningKey, assessment: Assessment
) -> None:
    now = document(assessment)
    now["rows"][0]["judgement"]["margin"]["value"] = "-11"
    found = verify(signed, [key.certificate], lambda record: now)
    assert found.reasons == ("rows[0].judgement.margin.value: signed '-10', now '-11'",)


def test_an_older_software_s_assessment_is_compared_for_information_only(
    visit: Visit, assessment: Assessment, key: SigningKey, agrees: Callable[[Doc], Doc]
) -> None:
    old = assessment.model_copy(update={"software": "0.0.9"})
    found = verify(report(visit, old, key), [key.certificate], agrees)
    assert found.status is Status.GOOD
    assert "signed under software 0.0.9" in found.information[0]
    assert found.information[1].startswith("software: signed '0.0.9'")


def test_a_record_that_the_same_software_refuses_disagrees(signed: bytes, key: SigningKey) -> None:
    def refuse(record: Mapping[str, Any]) -> Doc:
        raise RecordError("two entries share one number", where="entries", remedy="Look")

    found = verify(signed, [key.certificate], refuse)
    assert found.status is Status.DISAGREES
    assert "two entries share one number" in found.reasons[0]


def test_a_record_of_a_later_version_is_left_unjudged(signed: bytes, key: SigningKey) -> None:
    def too_new(record: Mapping[str, Any]) -> Doc:
        raise RecordTooNewError("schema version 2 is later than 1", where="x", remedy="Update")

    found = verify(signed, [key.certificate], too_new)
    assert found.status is Status.GOOD
    assert "not assessed again" in found.information[0]


def test_a_signature_dated_outside_the_certificate_is_not_known(
    visit: Visit, assessment: Assessment, tmp_path: Path, agrees: Callable[[Doc], Doc]
) -> None:
    key = create_key(
        tmp_path,
        "975310",
        matter.TECHNICIAN,
        not_before=datetime(2026, 1, 1, tzinfo=UTC),
        not_after=datetime(2026, 2, 1, tzinfo=UTC),
    )
    made = build(visit, assessment, at=matter.AT, fingerprint="")
    good = sign(made, key, at="2026-01-15T10:00:00Z")
    assert verify(good, [key.certificate], agrees).status is Status.GOOD
    late = SigningKey(key.private_key, _longer(key))
    pdf = sign(made, late, at="2026-03-01T10:00:00Z")
    assert verify(pdf, [key.certificate], agrees).status is Status.UNKNOWN_SIGNER


def _longer(key: SigningKey) -> Any:
    old = key.certificate
    return (
        x509.CertificateBuilder(old.issuer, old.subject, old.public_key(), old.serial_number)
        .not_valid_before(old.not_valid_before_utc)
        .not_valid_after(datetime(2036, 1, 1, tzinfo=UTC))
        .sign(key.private_key, hashes.SHA256())
    )
