"""A sound record for the door, and what a refusal is held against."""

import copy
from typing import Any

import pytest

from checks.errors import RecordError
from checks.record import Panel
from tests.builders import PANEL, visit, with_entries

Document = dict[str, Any]


def document() -> Document:
    """A sound record with an entry of every kind of answer."""
    made = visit(panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")))
    filled = with_entries(
        made,
        {
            "run.length": {"length": "30.5 m", "basis": "measured"},
            "breaker.rating": {"rated_a": "40 A", "poles": "2"},
            "breaker.condition": {"has_heat_marks": False},
        },
    )
    return copy.deepcopy(filled.model_dump(mode="json"))


def assert_found(pattern: str, text: str) -> None:
    __tracebackhide__ = True
    with pytest.raises(RecordError, match=pattern):
        raise RecordError(text, where="", remedy="")
