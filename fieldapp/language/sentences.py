"""A sentence that the code made is found in a catalog: whole, by its fixed words, or in parts."""

import re
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from gettext import NullTranslations
from itertools import chain, product
from operator import attrgetter
from typing import Final, NamedTuple

from checks.units import UNITS
from checks.written import ANY_UNIT, with_decimal_commas
from fieldapp.theme import asset

BETWEEN: Final = ("and", "or", "to", ": ", "; ")
MONTHS: Final = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)
_PLACE: Final = re.compile(r"\{\w+\}")
_PIECES: Final = re.compile(r"\{\w+\}|[^{]+|\{")  # a message's places, and its words between them
_NUMBER: Final = r"([-+−]?[\d.,]+(?:e[-+]?\d+)?)"
_BOOK: Final = r"([A-Z].*?(?:\b\d{4}|\b[A-Z\d][A-Z\d-]*|\)))"  # a title, up to number or edition
_KINDS: Final = {  # by the place's name
    "{n_": _NUMBER,
    "{unit": rf"({ANY_UNIT}|\S+)",
    "{book": _BOOK,
}
_AMOUNT: Final = rf"[-+±×=−]?\s?\d[\d.,]*(?:\s(?:{ANY_UNIT})(?!\w))?"
_PLAIN: Final = re.compile(r"\b[A-Za-z][a-z]+\b")
_LETTERS: Final = 4  # the fewest of a message that its texts are known by
_LONGEST_RUN: Final = 9  # parts of a text, and the joints between them, that may be one message

_LINE, _SENTENCE = re.compile(r"(\n)"), re.compile(r"((?<=[.!?]) (?=[A-Z(\d]))")
_COMMA, _WORD = re.compile(r"(, )"), re.compile(r"( (?:and|or|to) )")
# What joins sentences and names, the widest first. A text that is no message is said by its parts.
_JOINTS: Final = (
    _LINE,
    re.compile(r"( · |  +)"),
    re.compile(r"( ?\[|\](?=[\s,;:.]|$))"),
    _SENTENCE,
    re.compile(r"(; )"),
    re.compile(r"( ?\(|\)(?=[\s,;:.]|$))"),
    re.compile(rf"((?:^|(?<=\s)){_AMOUNT}(?:\s{_AMOUNT})*(?=[\s,;:.)]|$))"),
    re.compile(r"(: )"),
    _COMMA,
    _WORD,
)
# A sentence is torn apart at a comma or a word only where little of it, or nothing, stays English.
_MOST_LEFT: Final = {_COMMA: 0.5, _WORD: 0.0}


class _Composed(NamedTuple):
    """A message with places, how to know a text of it again, and its longest fixed words."""

    message: str
    pattern: re.Pattern[str]
    fixed: str


class Told(NamedTuple):
    """A text as it is said, and how many of its words stayed English."""

    said: str
    left: int


class Sentences:
    """The sentences of one language.

    Parameters
    ----------
    catalog : NullTranslations
        Answers a message with its translation, or with nothing.
    has_comma : bool, optional
        Whether its decimal mark is the comma.
    """

    def __init__(self, catalog: NullTranslations, *, has_comma: bool = False) -> None:
        self._catalog, self._has_comma = catalog, has_comma
        self._own: frozenset[str] = frozenset()
        self._kept: tuple[re.Pattern[str], ...] = ()
        self._told = lru_cache(maxsize=20_000)(self._tell)

    def keep(self, words: frozenset[str]) -> None:
        """Leave these words, a person's own, as they are wherever they stand."""
        if words != self._own:
            self._own = words
            told = "|".join(re.escape(w) for w in sorted(words, key=len, reverse=True))
            self._kept = (re.compile(rf"((?<!\w)(?:{told})(?!\w))"),) if words else ()
            self._told.cache_clear()

    def say(self, text: str) -> str:
        """Say a text; words that the catalog lacks stay English, a person's own as they are."""
        said = self.tell(text).said
        if not self._has_comma:
            return said
        own = [m.span() for pattern in self._kept for m in pattern.finditer(said)]
        return with_decimal_commas(said, own)

    def _tell(self, text: str) -> Told:
        """Say a text in the way that leaves the fewest words English."""
        if text in self._own or text.removesuffix(".") in self._own:
            return Told(text, 0)
        exact = self._exact(text)
        best = Told(exact, 0) if exact else Told(text, len(_PLAIN.findall(text)))
        if best.left:
            # a sentence takes no words of the next one, where each is known by itself
            ways = (
                self._in_parts(text, (_LINE, _SENTENCE)),
                self._composed(text),
                self._in_parts(text, (*self._kept, *_JOINTS)),
            )
            for told in chain(*ways):
                best = min(best, told, key=attrgetter("left"))
                if not best.left:
                    break
        return best

    def _exact(self, text: str) -> str:
        if text in UNITS:
            return self._catalog.gettext(text) or text
        for message in _as_declared(text):
            found = self._catalog.gettext(message)
            if message and found:
                return found if text in MONTHS else _as_written(found, text)
        if text.isupper() and len(text) > 1:
            return self._exact(text.lower()).upper()
        return ""

    def _composed(self, text: str) -> Iterator[Told]:
        """Say a text by each message that can have composed it."""
        for message, pattern, fixed in composed():
            places = pattern.fullmatch(text) if fixed in text else None
            found = self._catalog.gettext(message) if places else ""
            if places and found and (_tells(message) or all(map(_has_digit, places.groups()))):
                told = [self.tell(words) for words in places.groups()]
                stands = dict(zip(_PLACE.findall(message), told, strict=True))
                said = "".join(
                    stands[piece].said if piece in stands else piece
                    for piece in _PIECES.findall(found)
                )
                yield Told(_as_written(said, text), sum(t.left for t in told))

    def _in_parts(self, text: str, joints: Sequence[re.Pattern[str]]) -> Iterator[Told]:
        """Split a text at each kind of joint, and say the longest runs that are known."""
        for joint in joints:
            pieces = joint.split(text)  # parts and joints in turn
            if len(pieces) > 1 and any(map(str.strip, pieces[::2])):
                told = list(self._runs(pieces))
                left = sum(t.left for t in told)
                if left <= _MOST_LEFT.get(joint, 1.0) * len(_PLAIN.findall(text)):
                    yield Told("".join(t.said for t in told), left)

    def _runs(self, pieces: list[str]) -> Iterator[Told]:
        at = 0
        while at < len(pieces):
            ends = range(min(len(pieces), at + _LONGEST_RUN), at + 1, -2)
            runs = (("".join(pieces[at:end]), end) for end in ends)
            found = next(((run, end) for run, end in runs if self._exact(run.strip())), None)
            run, end = found or (pieces[at], at + 1)
            yield self.tell(run)
            yield from map(self.tell, pieces[end : end + 1])
            at = end + 1

    def tell(self, text: str) -> Told:
        """Say a text, and count the words that stay English."""
        bare = text.strip(" ,;:\n")
        if not bare:
            return Told((text and self._catalog.gettext(text)) or text, 0)
        told = self._told(bare)
        return Told(text.replace(bare, told.said), told.left)


def _tells(message: str) -> bool:
    """Whether a message has words enough to know its texts by: "{low} to {high}" has not."""
    return sum(map(str.isalpha, _PLACE.sub("", message))) >= _LETTERS


def _has_digit(text: str) -> bool:
    return any(map(str.isdigit, text))


def _as_declared(text: str) -> list[str]:
    """Return how a text may stand in a catalog: begun small or large, with a full stop or none."""
    ends = (text[:-1], text) if text.endswith(".") else (text, f"{text}.")
    begun = dict.fromkeys((text[:1], text[:1].lower(), text[:1].upper()))
    return [first + end[1:] for first, end in product(begun, reversed(ends))]


def _as_written(found: str, text: str) -> str:
    """Begin and end a translation as the English text does."""
    if text.endswith(".") != found.endswith("."):
        found = f"{found}." if text.endswith(".") else found[:-1]
    if text[:1].isupper():
        return found[:1].upper() + found[1:]
    is_word = found[:1].isupper() and not found[1:2].isupper() and not found[1:2].isdigit()
    return found[:1].lower() + found[1:] if text[:1].islower() and is_word else found


@cache
def composed() -> tuple[_Composed, ...]:
    """Every message with places, those with the most fixed words first."""
    text = asset("languages/composed.txt").read_text(encoding="utf-8")
    messages = [line.replace("\\n", "\n") for line in text.splitlines() if line]
    return tuple(
        sorted(map(_composed_of, messages), key=lambda c: (-len(_PLACE.sub("", c.message)), c))
    )


def _composed_of(message: str) -> _Composed:
    fixed = _PLACE.split(message.removesuffix("."))
    first = fixed[0][:1]
    begun = f"[{first.lower()}{first.upper()}]" if first.isalpha() else re.escape(first)
    pattern = begun + re.escape(fixed[0][1:])
    for place, words in zip(_PLACE.findall(message), fixed[1:], strict=True):
        kind = next((k for name, k in _KINDS.items() if place.startswith(name)), "(.*?)")
        pattern += kind + re.escape(words)
    longest = max((fixed[0][1:], *fixed[1:]), key=len)
    return _Composed(message, re.compile(rf"{pattern}\.?", re.DOTALL), longest)
