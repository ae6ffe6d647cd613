"""One document, one sequence of bytes: what is hashed, signed and compared."""

import json
import re
from collections.abc import Callable, Iterator
from typing import Any, Final, TypeVar

from fieldapp.store.errors import InvalidRecordError, shown

DEPTH_LIMIT: Final = (
    64  # a visit needs 8; parsers and writers of others give up between 100 and 1000
)
INTEGER_LIMIT: Final = 2**53  # from here on RFC 8785, section 3.2.2.3, cannot tell integers apart
TOO_DEEP: Final = object()
_PATH_SHOWN: Final = 100
_SURROGATE: Final = re.compile("[\ud800-\udfff]")

Doc = dict[str, Any]
T = TypeVar("T")


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
    require_canonical(doc)
    return _compact(doc, sort_keys=True)


def require_canonical(doc: Any) -> None:
    """Refuse a document that has no canonical bytes; see `canonical`."""
    found = find(doc, _why_not)
    if found:
        path, problem = found
        raise InvalidRecordError(
            problem,
            where=path or "document",
            remedy="Keep readings as decimal text with the digits typed, and names in ASCII",
        )


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


def find(doc: Any, judge: Callable[[Any], T | None]) -> tuple[str, T] | None:
    """Return the path of the first value on which a judge has something to say, and what.

    A value below the depth limit is shown to the judge as ``TOO_DEEP`` in its stead.

    Parameters
    ----------
    doc : Any
        As a JSON parser makes it; walked in its own order.
    judge : Callable
        Returns None for a value that is in order.
    """
    trail: list[object] = []
    todo: list[Iterator[tuple[object, Any]]] = [iter([("", doc)])]
    while todo:
        for key, value in todo[-1]:
            said = judge(value if len(todo) <= DEPTH_LIMIT else TOO_DEEP)
            if said is not None:
                return _path([*trail, key]), said
            if isinstance(value, dict | list):
                trail.append(key)
                todo.append(iter(value.items()) if isinstance(value, dict) else enumerate(value))
                break
        else:
            todo.pop()
            del trail[-1:]
    return None


def _path(trail: list[object]) -> str:
    names = (f"[{key}]" if isinstance(key, int) else f".{shown(str(key))}" for key in trail)
    path = "".join(names).lstrip(".")
    return path if len(path) <= _PATH_SHOWN else f"…{path[1 - _PATH_SHOWN :]}"


def _why_not(value: Any) -> str | None:
    kind = type(value)
    if kind is str:
        return "text that UTF-8 cannot carry" if _SURROGATE.search(value) else None
    if kind is int:
        return None if abs(value) < INTEGER_LIMIT else "a whole number of 2^53 or more"
    if kind is dict:
        bad = next((k for k in value if type(k) is not str or not k.isascii()), None)
        return None if bad is None else f"the name {shown(str(bad))!r} is not plain ASCII"
    if value is TOO_DEEP:
        return f"nested deeper than {DEPTH_LIMIT} levels"
    is_known = value is None or kind in (bool, list)
    return None if is_known else f"a {kind.__name__} has no place in a record"


def _compact(doc: Any, *, sort_keys: bool) -> bytes:
    text = json.dumps(
        doc, sort_keys=sort_keys, ensure_ascii=False, allow_nan=False, separators=(",", ":")
    )
    return text.encode()
