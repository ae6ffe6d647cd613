"""Each judgement against the clause, the standard's number or the practice beside it."""

import pytest

from tests.reference import judgements
from tests.reference.case import Case


@pytest.mark.parametrize("case", judgements.CASES, ids=lambda case: case.document)
def test_a_judge_says_what_the_document_says(case: Case) -> None:
    assert case.agrees(), f"{case.document}: {case.actual()} instead of {case.expected}"
