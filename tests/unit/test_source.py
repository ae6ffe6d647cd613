"""Where a number comes from, and whether it may prove anything."""

import pytest
from pydantic import ValidationError

from checks.source import Basis, Source, judgement, trade


@pytest.mark.parametrize(
    ("basis", "can_prove"),
    [
        (Basis.LOOKED_UP, True),
        (Basis.COMMON_PRACTICE, True),
        (Basis.OWN_JUDGEMENT, True),
        (Basis.FROM_MEMORY, False),
        (Basis.DOUBTFUL, False),
    ],
)
def test_what_was_not_seen_or_is_disputed_proves_nothing(basis: Basis, can_prove: bool):
    assert Source(document="a book", basis=basis).can_prove is can_prove


def test_every_basis_but_a_text_that_was_read_is_said():
    read = Source(document="A code", edition="2023", clause="1.2", basis=Basis.LOOKED_UP)
    assert str(read) == "A code 2023 1.2"
    for basis in set(Basis) - {Basis.LOOKED_UP}:
        assert basis.value in str(read.model_copy(update={"basis": basis}))
    assert str(Source(document="", basis=Basis.COMMON_PRACTICE)) == Basis.COMMON_PRACTICE


def test_the_two_short_forms_name_their_basis():
    assert trade("a fact").basis is Basis.COMMON_PRACTICE
    assert judgement("a limit").basis is Basis.OWN_JUDGEMENT


def test_a_source_takes_no_unknown_field():
    with pytest.raises(ValidationError, match="page"):
        Source(document="a book", basis=Basis.LOOKED_UP, page=3)  # type: ignore[call-arg]
