"""Finding a visit again: by site, address, finding or date, as it is typed."""

import unicodedata
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any


class Search:
    """Finds visits by words; each word must stand somewhere in what is known of a visit.

    Case, accents and hyphens make no difference, and a word may be typed by halves.

    Parameters
    ----------
    summaries : mapping
        By visit id, as `fieldapp.walk.desk.summary` makes them.
    """

    def __init__(self, summaries: Mapping[str, Mapping[str, Any]]) -> None:
        self._summaries = summaries
        self._texts: dict[str, str] | None = None  # made at the first word: a list needs none

    def __call__(self, typed: str) -> Sequence[str]:
        """Return the ids of the visits that match, the newest first; all of them for no words."""
        words = _folded(typed).split()
        if not words:
            return self._newest_first(list(self._summaries))
        if self._texts is None:
            self._texts = {visit_id: _text(s) for visit_id, s in self._summaries.items()}
        return self._newest_first(
            [visit_id for visit_id, text in self._texts.items() if all(w in text for w in words)]
        )

    def _newest_first(self, ids: list[str]) -> Sequence[str]:
        # time stamps carry offsets: as text they would not sort by time
        begun = {i: datetime.fromisoformat(self._summaries[i]["started"]).timestamp() for i in ids}
        return sorted(ids, key=lambda i: (begun[i], i), reverse=True)


def _text(summary: Mapping[str, Any]) -> str:
    at = datetime.fromisoformat(summary["started"])
    parts = [summary["site"], summary["address"], summary["kind"], summary["verdict"]]
    if summary["is_signed"]:
        parts.append("signed")
    parts += [f"{at:%Y-%m-%d}", f"{at.day} {at:%B %Y}", *summary["findings"]]
    return _folded("\n".join(parts))


def _folded(text: str) -> str:
    if not text.isascii():
        split = unicodedata.normalize("NFKD", text)
        text = "".join(c for c in split if not unicodedata.combining(c))
    return text.casefold().replace("-", " ")
