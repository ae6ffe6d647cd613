"""One key, one visit and one signed report for all tests here: making a key takes its time."""

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from checks.assess import Assessment
from checks.record import Visit
from fieldapp.report.embedded import document
from fieldapp.report.keys import SigningKey, create_key, fingerprint
from fieldapp.report.pages import build
from fieldapp.report.sign import sign
from tests.unit.report import judged, matter

PIN = "246813"


@pytest.fixture(scope="session")
def key_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("key")


@pytest.fixture(scope="session")
def key(key_folder: Path) -> SigningKey:
    return create_key(
        key_folder, PIN, matter.TECHNICIAN, not_before=matter.MADE, not_after=matter.EXPIRES
    )


@pytest.fixture(scope="session")
def visit() -> Visit:
    return matter.a_visit()


@pytest.fixture(scope="session")
def assessment(visit: Visit) -> Assessment:
    return judged.an_assessment(visit)


@pytest.fixture(scope="session")
def unsigned(visit: Visit, assessment: Assessment, key: SigningKey) -> bytes:
    return build(
        visit,
        assessment,
        at=matter.AT,
        fingerprint=fingerprint(key.certificate),
        photo=matter.photo,
    )


@pytest.fixture(scope="session")
def reader(unsigned: bytes) -> PdfReader:
    return PdfReader(BytesIO(unsigned))


@pytest.fixture(scope="session")
def signed(unsigned: bytes, key: SigningKey) -> bytes:
    return sign(unsigned, key, at=matter.AT)


@pytest.fixture(scope="session")
def documents(visit: Visit, assessment: Assessment) -> Mapping[str, Any]:
    return {"record": document(visit), "assessment": document(assessment)}
