"""The language of screen and page: English texts as the code makes them, said in another.

Record and assessment are in English whatever the language; a language is a way of showing them.
So nothing that computes knows of it: a sentence is made in English, numbers and all, and is said
where it is drawn. The catalogs are gettext's. A message with ``{names}`` in it is a sentence that
the code composes: ``The {part} ends {at_full}``; what stands in its places is said in turn.
"""

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache, lru_cache
from gettext import GNUTranslations, NullTranslations
from itertools import chain, product
from operator import attrgetter
from typing import Final, NamedTuple

from checks.quantity import UNITS, with_minus_signs
from fieldapp.theme import asset

ENGLISH: Final = "en"
BETWEEN: Final = ("and", "or", "to", ": ", "; ")
LANGUAGES: Final = {ENGLISH: "English", "fr": "Français", "es": "Español"}
_TAGS: Final = {ENGLISH: "en-US", "fr": "fr-CA", "es": "es-US"}
REVIEWED: Final = frozenset({ENGLISH})  # by a tradesperson who speaks it
NOT_REVIEWED: Final = (
    "This translation was not reviewed by a tradesperson. The English text decides."
)

_PLACE: Final = re.compile(r"\{\w+\}")
_NUMBER: Final = r"([-+−]?[\d.,]+(?:e[-+]?\d+)?)"
_PIECES: Final = re.compile(r"\{\w+\}|[^{]+|\{")
MONTHS: Final = tuple(
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
)
_PLAIN: Final = re.compile(r"\b[A-Za-z][a-z]+\b")
_LETTERS: Final = 4
_LONGEST_RUN: Final = 9  # parts of a text, and the joints between them, that may be one message
_AMOUNT: Final = (
    rf"[-+±×=−]?\s?\d[\d.,]*(?:\s(?:{'|'.join(map(re.escape, sorted(UNITS, key=len)))})(?!\w))?"
)
# What joins sentences and names, the widest first. A text that is no message is said by its parts.
_JOINTS: Final = tuple(
    map(
        re.compile,
        (
            r"(\n)",
            r"( · |  +)",
            r"( ?\[|\](?=[\s,;:.]|$))",
            r"((?<=[.!?]) (?=[A-Z(\d]))",
            r"(; )",
            r"( ?\(|\)(?=[\s,;:.]|$))",
            rf"((?:^|(?<=\s)){_AMOUNT}(?:\s{_AMOUNT})*(?=[\s,;:.)]|$))",
            r"(: )",
            r"(, )",
            r"( (?:and|or|to) )",
        ),
    )
)
# A sentence is torn apart at a comma or a word only where little of it, or nothing, stays English.
_MOST_LEFT: Final = {_JOINTS[-2]: 0.5, _JOINTS[-1]: 0.0}
_SENTENCES: Final = (_JOINTS[0], _JOINTS[3])


class Said(str):
    """A text as it is to be shown: said already, or a person's own words."""

    __slots__ = ()


class _Missing(NullTranslations):
    """What a catalog answers where it has no message."""

    def gettext(self, message: str) -> str:
        """Return nothing."""
        return ""


class _Composed(NamedTuple):
    """A message with places, how to know a text of it again, and its longest fixed words."""

    message: str
    pattern: re.Pattern[str]
    fixed: str


class _Told(NamedTuple):
    """A text as it is said, and how many of its words stayed English."""

    said: str
    left: int


class Language:
    """One language's catalog.

    Parameters
    ----------
    catalog : NullTranslations
        Answers a message with its translation, or with nothing.
    """

    def __init__(self, catalog: NullTranslations) -> None:
        self._catalog = catalog
        self._told = lru_cache(maxsize=20_000)(self._tell)

    def say(self, text: str) -> Said:
        """Say a text; words that the catalog lacks stay English."""
        return Said(self._part(text).said)

    def _tell(self, text: str) -> _Told:
        """Say a text in the way that leaves the fewest words English."""
        exact = self._exact(text)
        best = _Told(exact, 0) if exact else _Told(text, len(_PLAIN.findall(text)))
        if best.left:
            # a sentence takes no words of the next one, where each is known by itself
            ways = (self._in_parts(text, _SENTENCES), self._composed(text), self._in_parts(text))
            for told in chain(*ways):
                best = min(best, told, key=attrgetter("left"))
                if not best.left:
                    break
        return best

    def _exact(self, text: str) -> str:
        for message in _as_declared(text):
            found = self._catalog.gettext(message)
            if message and found:
                return found if text in MONTHS else _as_written(found, text)
        if text.isupper() and len(text) > 1:
            return self._exact(text.lower()).upper()
        return ""

    def _composed(self, text: str) -> Iterator[_Told]:
        """Say a text by each message that can have composed it."""
        for message, pattern, fixed in composed():
            places = pattern.fullmatch(text) if fixed in text else None
            found = self._catalog.gettext(message) if places else ""
            if places and found and (_tells(message) or all(map(_has_digit, places.groups()))):
                told = [self._part(words) for words in places.groups()]
                stands = dict(zip(_PLACE.findall(message), told, strict=True))
                said = "".join(
                    stands[piece].said if piece in stands else piece
                    for piece in _PIECES.findall(found)
                )
                yield _Told(_as_written(said, text), sum(t.left for t in told))

    def _in_parts(self, text: str, joints: Sequence[re.Pattern[str]] = _JOINTS) -> Iterator[_Told]:
        """Split a text at each kind of joint, and say the longest runs that are known."""
        for joint in joints:
            pieces = joint.split(text)  # parts and joints in turn
            if len(pieces) > 1 and any(map(str.strip, pieces[::2])):
                told = list(self._runs(pieces))
                left = sum(t.left for t in told)
                if left <= _MOST_LEFT.get(joint, 1.0) * len(_PLAIN.findall(text)):
                    yield _Told("".join(t.said for t in told), left)

    def _runs(self, pieces: list[str]) -> Iterator[_Told]:
        at = 0
        while at < len(pieces):
            ends = range(min(len(pieces), at + _LONGEST_RUN), at + 1, -2)
            runs = (("".join(pieces[at:end]), end) for end in ends)
            found = next(((run, end) for run, end in runs if self._exact(run.strip())), None)
            run, end = found or (pieces[at], at + 1)
            yield self._part(run)
            yield from map(self._part, pieces[end : end + 1])
            at = end + 1

    def _part(self, text: str) -> _Told:
        bare = text.strip(" ,;:\n")
        if not bare:
            return _Told((text and self._catalog.gettext(text)) or text, 0)
        told = self._told(bare)
        return _Told(text.replace(bare, told.said), told.left)


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
        pattern += (_NUMBER if place.startswith("{n_") else "(.*?)") + re.escape(words)
    longest = max((fixed[0][1:], *fixed[1:]), key=len)
    return _Composed(message, re.compile(rf"{pattern}\.?", re.DOTALL), longest)


@cache
def _language(code: str) -> Language:
    with asset(f"languages/{code}.mo").open("rb") as file:
        catalog = GNUTranslations(file)
    catalog.add_fallback(_Missing())
    return Language(catalog)


_code = ENGLISH
_used: Language | None = None


def use(code: str, catalog: NullTranslations | None = None) -> None:
    """Say everything in this language from now on: there is one screen, and it has one.

    Parameters
    ----------
    code : str
        One of `LANGUAGES`; `ENGLISH` is what the code makes.
    catalog : NullTranslations, optional
        In place of the language's own, as a test of the texts gives it.
    """
    global _code, _used
    _code = code
    if catalog is not None:
        _used = Language(catalog)
    else:
        _used = None if code == ENGLISH else _language(code)


@contextmanager
def using(code: str) -> Iterator[None]:
    """Say everything in this language for a while."""
    before = _code
    use(code)
    try:
        yield
    finally:
        use(before)


def tag() -> str:
    """Name the language in use as documents do, after RFC 5646: ``fr-CA``."""
    return _TAGS[_code]


def caveat() -> str:
    """Say what a reader must know of the translation in use; nothing of English."""
    return "" if _code in REVIEWED else NOT_REVIEWED


def say(text: str) -> str:
    """Say a text that the code made in the language in use; what is said already stays.

    Parameters
    ----------
    text : str
        English, as the code makes it.

    Returns
    -------
    str
        What to show. Words that the catalog lacks stay English; a number's minus is a sign of its
        own.
    """
    if isinstance(text, Said) or not text:
        return text
    if _used is None:
        return with_minus_signs(text)
    return Said(with_minus_signs(_used.say(text)))
