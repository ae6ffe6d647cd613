"""One document, one sequence of bytes: what is hashed, signed and compared."""

import json
from collections.abc import Iterator
from typing import Any, Final

from fieldapp.store.errors import InvalidRecordError, shown

DEPTH_LIMIT: Final = (
    64  # a visit needs 8; parsers and writers of others give up between 100 and 1000
)
INTEGER_LIMIT: Final = 2**53  # from here on RFC 8785, section 3.2.2.3, cannot tell integers apart
_PATH_SHOWN: Final = 100

Doc = dict[str, Any]


def canonical(doc: Any) -> bytes:
    """Return the bytes of a float-free document by the JSON Canonicalization Scheme.

    Without floats, with ASCII names and integers below 2^53, sorted compact JSON is exactly what
    the scheme prescribes, so that anybody's implementation finds the same hash.

    Parameters
    ----------
    doc : Any
        Dictionaries, lists, text, integers, booleans and None.

    Returns
    -------
    bytes
        UTF-8.

    Raises
    ------
    InvalidRecordError
        The document holds something else, or text that UTF-8 cannot carry; the error names the
        field.

    References
    ----------
    RFC 8785, June 2020, section 3.2 (from memory; compared with the rfc8785 package in the tests).
    """
    for path, value in walk(doc):
        problem = _why_not(value)
        if problem:
            raise InvalidRecordError(
                problem,
                where=shortened(path) or "document",
                remedy="Keep readings as decimal text with the digits typed, and names in ASCII",
            )
    return _compact(doc, sort_keys=True)


def stored_text(doc: Any, where: str, *, sort_keys: bool = False) -> bytes:
    """Return a document as it lies in a file; floats are allowed, NaN and lone surrogates are not.

    Raises
    ------
    InvalidRecordError
        The document would not read back the same.
    """
    try:
        return _compact(doc, sort_keys=sort_keys)
    except (TypeError, ValueError, RecursionError) as error:
        raise InvalidRecordError(
            f"cannot be written as JSON ({error})",
            where=where,
            remedy="Use text, whole numbers, lists and named fields only",
        ) from error


def walk(doc: Any) -> Iterator[tuple[str, Any]]:
    """Give every value with its path, in the document's order, down to one level too deep.

    A value at the depth limit is given as a ``TooDeep`` in its stead.
    """
    todo: list[Iterator[tuple[str, Any]]] = [iter([("", doc)])]  # iterators: a list of a million
    while todo:  # values must not become a million paths at once
        for path, value in todo[-1]:
            if len(todo) > DEPTH_LIMIT:
                yield path, TooDeep()
                continue
            yield path, value
            if isinstance(value, dict | list):
                todo.append(_children(path, value))
                break
        else:
            todo.pop()


def shortened(path: str) -> str:
    """Return the path of a field so that it fits a line; its end tells most."""
    return path if len(path) <= _PATH_SHOWN else f"…{path[1 - _PATH_SHOWN :]}"


class TooDeep:
    """Stands for a value below the depth limit."""


def _children(path: str, value: Doc | list[Any]) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        return ((_field(path, k), v) for k, v in value.items())
    return ((f"{path}[{i}]", v) for i, v in enumerate(value))


def _field(path: str, key: object) -> str:
    name = shown(str(key))
    return f"{path}.{name}" if path else name


def _why_not(value: Any) -> str | None:
    if value is None or isinstance(value, bool | list):
        return None
    if isinstance(value, str):
        return None if _is_utf8(value) else "text that UTF-8 cannot carry"
    if isinstance(value, dict):
        bad = [k for k in value if not (isinstance(k, str) and k.isascii())]
        return f"the name {shown(str(bad[0]))!r} is not plain ASCII" if bad else None
    if isinstance(value, TooDeep):
        return f"nested deeper than {DEPTH_LIMIT} levels"
    if isinstance(value, int):
        return None if abs(value) < INTEGER_LIMIT else "a whole number of 2^53 or more"
    return f"a {type(value).__name__} has no place in a record"


def _is_utf8(text: str) -> bool:
    # Only surrogates cannot be encoded, and a text of ASCII has none.
    return text.isascii() or not any("\ud800" <= c <= "\udfff" for c in text)


def _compact(doc: Any, *, sort_keys: bool) -> bytes:
    text = json.dumps(
        doc, sort_keys=sort_keys, ensure_ascii=False, allow_nan=False, separators=(",", ":")
    )
    return text.encode()
