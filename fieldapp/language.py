"""The language of screen and page: English texts as the code makes them, said in another.

Record and assessment are in English whatever the language; a language is a way of showing them.
So nothing that computes knows of it: a sentence is made in English, numbers and all, and is said
where it is drawn. The catalogs are gettext's. A message with ``{names}`` in it is a sentence that
the code composes: ``The {part} ends {at_full}``; what stands in its places is said in turn.
"""

import re
from functools import cache, lru_cache
from gettext import GNUTranslations, NullTranslations
from itertools import product
from typing import Final, NamedTuple

from fieldapp.theme import asset

ENGLISH: Final = "en"
LANGUAGES: Final = {ENGLISH: "English", "fr": "Français", "es": "Español"}
REVIEWED: Final = frozenset({ENGLISH})  # by a tradesperson who speaks it
NOT_REVIEWED: Final = (
    "This translation was not reviewed by a tradesperson. The English text decides."
)

_PLACE: Final = re.compile(r"\{(\w+)\}")
_LETTERS: Final = 4
# What joins sentences and names, the widest first. A text that is no message is said by its parts.
_JOINTS: Final = (
    re.compile(r"(\n)"),
    re.compile(r"( · )"),
    re.compile(r"((?<=[.!?]) (?=[A-Z(]))"),
    re.compile(r"(; )"),
    re.compile(r"(: )"),
    re.compile(r"( \((?=[^()]*\)$)|\)$)"),
    re.compile(r"(, )"),
    re.compile(r"( (?:and|or) )"),
)


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


class Language:
    """One language's catalog.

    Parameters
    ----------
    catalog : NullTranslations
        Answers a message with its translation, or with nothing.
    """

    def __init__(self, catalog: NullTranslations) -> None:
        self._catalog = catalog
        self.say = lru_cache(maxsize=20_000)(self._say)

    def _say(self, text: str) -> Said:
        return Said(self._whole(text) or self._in_parts(text) or text)

    def _whole(self, text: str) -> str:
        """Say a text that is one message, or that was composed by one."""
        if not any(c.isalpha() for c in text):
            return text
        return self._exact(text) or self._composed(text)

    def _exact(self, text: str) -> str:
        for message in _as_declared(text):
            found = self._catalog.gettext(message)
            if found:
                return _as_written(found, text)
        if text.isupper() and len(text) > 1:
            return self._exact(text.lower()).upper()
        return ""

    def _composed(self, text: str) -> str:
        for message, pattern, fixed in composed():
            if fixed not in text:
                continue
            places = pattern.fullmatch(text)
            found = self._catalog.gettext(message) if places else ""
            if places and found and (_tells(message) or all(map(_has_digit, places.groups()))):
                return _as_written(self._filled(found, places.groupdict()), text)
        return ""

    def _filled(self, found: str, places: dict[str, str]) -> str:
        return _PLACE.sub(lambda place: self.say(places[place[1]]), found)

    def _in_parts(self, text: str) -> str:
        for joint in _JOINTS:
            parts = [part for part in joint.split(text) if part]
            if len(parts) > 1:
                return "".join(p if joint.fullmatch(p) else str(self.say(p)) for p in parts)
        return ""


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
    pieces = _PLACE.split(message)  # fixed words and names in turn
    fixed, names = pieces[::2], pieces[1::2]
    pattern = re.escape(fixed[0])
    for name, words in zip(names, fixed[1:], strict=True):
        pattern += f"(?P<{name}>.*?){re.escape(words)}"
    return _Composed(message, re.compile(pattern, re.DOTALL), max(fixed, key=len))


@cache
def _language(code: str) -> Language:
    with asset(f"languages/{code}.mo").open("rb") as file:
        catalog = GNUTranslations(file)
    catalog.add_fallback(_Missing())
    return Language(catalog)


_used: Language | None = None


def use(language: str | Language) -> None:
    """Say everything in this language from now on; `ENGLISH` is what the code makes."""
    global _used  # there is one screen, and it has one language
    if isinstance(language, Language):
        _used = language
    else:
        _used = None if language == ENGLISH else _language(language)


def say(text: str) -> str:
    """Say a text that the code made in the language in use; what is said already stays.

    Parameters
    ----------
    text : str
        English, as the code makes it.

    Returns
    -------
    str
        What to show. Words that the catalog lacks stay English.
    """
    if _used is None or isinstance(text, Said) or not text:
        return text
    return _used.say(text)
