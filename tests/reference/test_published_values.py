"""Every value re-typed from a document, and how many documents and worked examples there are."""

from collections import Counter

import pytest

from tests.reference.case import Case
from tests.reference.every_case import CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.subject}: {case.document}")
def test_agrees_with_the_document(case: Case) -> None:
    assert case.agrees(), f"{case.document}: {case.actual()} instead of {case.expected}"


def test_every_subject_has_at_least_three_checks() -> None:
    counted = Counter(case.subject for case in CASES)

    assert min(counted.values()) >= 3, counted


def test_the_checks_come_from_at_least_six_documents() -> None:
    documents = {case.document.split(",")[0].split(":")[0] for case in CASES}

    assert len(documents) >= 6, documents


def test_at_least_a_quarter_and_a_hundred_are_worked_examples() -> None:
    worked = sum(case.is_worked for case in CASES)

    assert 4 * worked >= len(CASES), f"{worked} of {len(CASES)}"
    assert worked >= 100
