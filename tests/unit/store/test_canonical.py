"""The canonical bytes, against an independent implementation of RFC 8785."""

import math
from typing import Any

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.store.canonical import DEPTH_LIMIT, canonical
from fieldapp.store.errors import InvalidRecordError
from tests.fakes.plain_visit import plain_visit

names = st.text(st.characters(max_codepoint=0x7F), max_size=8)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
leaves = st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | texts
documents = st.recursive(
    leaves, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(names, inner, max_size=4)
)


@given(documents)
def test_the_bytes_are_those_of_the_rfc8785_package(doc: Any) -> None:
    assert canonical(doc) == rfc8785.dumps(doc)


def test_every_code_point_is_escaped_as_the_rfc8785_package_does() -> None:
    everything = "".join(map(chr, [*range(0xD800), *range(0xE000, 0x110000)]))
    assert canonical(everything) == rfc8785.dumps(everything)


def test_the_order_of_the_fields_does_not_matter() -> None:
    visit = plain_visit()
    assert canonical(visit) == canonical(dict(reversed(visit.items())))


@pytest.mark.parametrize(
    ("value", "problem"),
    [
        (239.5, "a float has no place"),
        (math.nan, "a float has no place"),
        (2**53, "2\\^53 or more"),
        (-(2**53), "2\\^53 or more"),
        ((1, 2), "a tuple has no place"),
        (b"raw", "a bytes has no place"),
        ("\ud800", "UTF-8 cannot carry"),
        ({"Ω": "1"}, "not plain ASCII"),
        ({1: "1"}, "not plain ASCII"),
    ],
)
def test_a_value_that_has_no_one_form_is_refused_with_its_field(value: Any, problem: str) -> None:
    with pytest.raises(InvalidRecordError, match=problem) as caught:
        canonical({"id": "v", "entries": [{"volts": "1"}, {"volts": value}]})
    assert caught.value.where == "entries[1].volts"


def test_nesting_beyond_the_limit_is_refused() -> None:
    doc: Any = "deep"
    for _ in range(DEPTH_LIMIT):
        doc = [doc]
    with pytest.raises(InvalidRecordError, match="nested deeper than 64 levels"):
        canonical([doc])
