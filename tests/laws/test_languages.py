"""The catalogs say what the code says: all of it, with the same places, and compiled."""

import pytest

from fieldapp import demo, language
from fieldapp.language import sentences
from tests.languages import catalogs
from tests.languages.messages import PLACE, composed, messages

HOW = "bring the catalogs up to date: python -m tests.languages"
# Names of people, places and documents, and what was typed, stay as they are.
STAYS_MOST = 0.12


@pytest.fixture(scope="module")
def found() -> dict[str, list[str]]:
    return messages()


def test_the_composed_messages_are_those_of_the_code(found: dict[str, list[str]]) -> None:
    kept = (catalogs.FOLDER / "composed.txt").read_text(encoding="utf-8")
    assert kept == catalogs.lines(composed(found)), HOW


@pytest.mark.parametrize("code", catalogs.CODES)
def test_a_catalog_holds_every_message_of_the_code_and_no_other(
    code: str, found: dict[str, list[str]]
) -> None:
    assert {m.id for m in catalogs.read(code) if m.id} == set(found), HOW


@pytest.mark.parametrize("code", catalogs.CODES)
def test_every_message_is_translated_with_the_same_places(code: str) -> None:
    catalog = catalogs.read(code)
    assert not catalogs.missing(catalog)
    for m in catalog:
        if m.id:
            assert set(PLACE.findall(m.id)) == set(PLACE.findall(m.string)), m.id


@pytest.mark.parametrize("code", catalogs.CODES)
def test_the_compiled_catalog_is_that_of_the_text(code: str) -> None:
    assert catalogs.target(code).read_bytes() == catalogs.mo(catalogs.read(code)), HOW


@pytest.mark.parametrize("code", catalogs.CODES)
def test_a_report_leaves_little_english(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    told: dict[str, tuple[int, int]] = {}
    language.use(code)
    used = language._used
    assert used is not None
    tell = used.tell

    def count(text: str) -> str:
        told[text] = (len(sentences._PLAIN.findall(text)), tell(text).left)
        return tell(text).said

    monkeypatch.setattr(used, "say", count)
    try:
        demo.run("cottage")
    finally:
        language.use(language.ENGLISH)
    words, left = (sum(x[i] for x in told.values()) for i in (0, 1))
    assert words > 1000
    assert left / words <= STAYS_MOST
