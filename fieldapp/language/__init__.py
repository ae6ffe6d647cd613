"""The language of screen and page: English texts as the code makes them, said in another.

Record and assessment are in English whatever the language; a language is a way of showing them.
So nothing that computes knows of it: a sentence is made in English, numbers and all, and is said
where it is drawn. The catalogs are gettext's. A message with ``{names}`` in it is a sentence that
the code composes: ``The {part} ends {at_full}``; what stands in its places is said in turn.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from gettext import GNUTranslations, NullTranslations
from typing import TYPE_CHECKING, Final

from checks.written import with_minus_signs
from fieldapp.theme import asset

if TYPE_CHECKING:
    from fieldapp.language.sentences import Sentences

ENGLISH: Final = "en"
LANGUAGES: Final = {ENGLISH: "English", "fr": "Français", "es": "Español"}
_TAGS: Final = {ENGLISH: "en-US", "fr": "fr-CA", "es": "es-US"}
_COMMA: Final = frozenset({"fr"})  # in Canada; Spanish as the Americas write it has a point
REVIEWED: Final = frozenset({ENGLISH})  # by a tradesperson who speaks it
NOT_REVIEWED: Final = (
    "This translation was not reviewed by a tradesperson. The English text decides."
)


class Said(str):
    """A text as it is to be shown: said already, or a person's own words."""

    __slots__ = ()


class _Missing(NullTranslations):
    """What a catalog answers where it has no message."""

    def gettext(self, message: str) -> str:
        """Return nothing."""
        return ""


@cache
def _language(code: str) -> "Sentences":
    with asset(f"languages/{code}.mo").open("rb") as file:
        catalog = GNUTranslations(file)
    catalog.add_fallback(_Missing())
    return _sentences(catalog, has_comma=code in _COMMA)


def _sentences(catalog: NullTranslations, *, has_comma: bool) -> "Sentences":
    from fieldapp.language.sentences import Sentences  # English is said without them

    return Sentences(catalog, has_comma=has_comma)


_code = ENGLISH
_used: "Sentences | None" = None


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
        _used = _sentences(catalog, has_comma=False)
    else:
        _used = None if code == ENGLISH else _language(code)


def keep(words: Callable[[], frozenset[str]]) -> None:
    """Leave words as they are wherever they stand: a person's own.

    Parameters
    ----------
    words : callable
        Gives them; not called where nothing is translated.
    """
    if _used is not None:
        _used.keep(words())


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


def decimal_mark() -> str:
    """Return what stands between the digits of a number in the language in use."""
    return "," if _code in _COMMA else "."


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
        own, its decimal mark the language's.
    """
    if isinstance(text, Said) or not text:
        return text
    if _used is None:
        return with_minus_signs(text)
    return Said(with_minus_signs(_used.say(text)))
