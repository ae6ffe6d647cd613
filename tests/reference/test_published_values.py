"""Every value re-typed from a document, and how many documents and worked examples there are."""

from collections import Counter

import pytest

from tests.reference import cells
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


def test_at_least_a_third_are_worked_examples() -> None:
    """A third of all rows, the re-typed table cells among them.

    Counted is each row of ``CASES`` once. Worked is an answer that a document prints for inputs
    that it prints too: a final answer, a step on the way to it, or a row of a table that the
    document calculates by its own formula (duty against current, breaker against load, drop
    against length). Not worked are re-typed cells and clauses, answers by hand or by a circuit
    simulation, and whatever is from memory. Of the steps of one example several may count.
    """
    worked = sum(case.is_worked for case in CASES)

    assert 3 * worked >= len(CASES), f"{worked} of {len(CASES)}"


@pytest.mark.parametrize("tables", [cells.NEC_TABLES, cells.CE_TABLES], ids=["NEC", "CE Code"])
def test_at_least_three_cells_of_each_table_are_typed_again(
    tables: dict[str, tuple[object, dict[object, object]]],
) -> None:
    for name, (_, typed) in tables.items():
        assert len(typed) >= 3, name
