"""A signed report, its signer's key and a stranger's, for the tests of what is done to it."""

from collections.abc import Callable
from typing import Any

import pytest

from checks import SOFTWARE
from checks.assess import Assessment
from checks.record import Person, Visit
from fieldapp.report.embedded import document
from fieldapp.report.keys import SigningKey, create_key, fingerprint
from fieldapp.report.pages import build
from fieldapp.report.sign import sign
from fieldapp.report.verify import Verification, verify
from tests.unit.report import judged, matter

Doc = dict[str, Any]


@pytest.fixture(scope="module")
def key(tmp_path_factory: pytest.TempPathFactory) -> SigningKey:
    folder = tmp_path_factory.mktemp("key")
    return create_key(
        folder, "246813", matter.TECHNICIAN, not_before=matter.MADE, not_after=matter.EXPIRES
    )


@pytest.fixture(scope="module")
def stranger(tmp_path_factory: pytest.TempPathFactory) -> SigningKey:
    folder = tmp_path_factory.mktemp("stranger")
    person = Person(name="Ada Example", license_number="INV-000-17")
    return create_key(folder, "975310", person, not_before=matter.MADE, not_after=matter.EXPIRES)


@pytest.fixture(scope="module")
def visit() -> Visit:
    return matter.a_visit()


@pytest.fixture(scope="module")
def assessment(visit: Visit) -> Assessment:
    return judged.an_assessment(visit).model_copy(update={"software": SOFTWARE})


def report(visit: Visit, assessment: Assessment, key: SigningKey) -> bytes:
    made = build(visit, assessment, at=matter.AT, fingerprint=fingerprint(key.certificate))
    return sign(made, key, at=matter.AT)


@pytest.fixture(scope="module")
def signed(visit: Visit, assessment: Assessment, key: SigningKey) -> bytes:
    return report(visit, assessment, key)


@pytest.fixture
def agrees(assessment: Assessment) -> Callable[[Doc], Doc]:
    return lambda record: document(assessment)


@pytest.fixture
def judge(key: SigningKey, agrees: Callable[[Doc], Doc]) -> Callable[[bytes], Verification]:
    return lambda pdf: verify(pdf, [key.certificate], agrees)
