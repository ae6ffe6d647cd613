"""Finding a visit again."""

from fieldapp.walk.search import Search


def summary(site: str, started: str, *findings: str, is_signed: bool = False) -> dict[str, object]:
    return {
        "site": site,
        "address": "12 Example Street",
        "kind": "service call",
        "verdict": "outside",
        "started": started,
        "is_signed": is_signed,
        "findings": list(findings),
    }


SEARCH = Search(
    {
        "a": summary("Invented Café", "2026-03-14T09:00:00+00:00", "Loaded voltage"),
        "b": summary("Invented depot", "2026-03-14T08:30:00-05:00", is_signed=True),
        "c": summary("Invented garage", "2025-12-01T10:00:00+00:00", "Ground-fault test"),
    }
)


def test_no_words_list_all_the_newest_first_by_time_not_by_text() -> None:
    assert list(SEARCH("  ")) == ["b", "a", "c"]


def test_each_word_must_match_by_halves_whatever_case_accent_or_hyphen() -> None:
    assert list(SEARCH("cafe")) == list(SEARCH("CAFÉ")) == ["a"]
    assert list(SEARCH("invented ground f")) == ["c"]
    assert list(SEARCH("example st")) == ["b", "a", "c"]
    assert list(SEARCH("signed")) == ["b"]
    assert not SEARCH("depot voltage")


def test_a_date_is_found_as_it_is_written_and_as_it_is_said() -> None:
    assert list(SEARCH("2026-03-14")) == list(SEARCH("14 mar 2026")) == ["b", "a"]
    assert list(SEARCH("December")) == ["c"]
