"""The one door for JSON from outside: a document, or one line that says where and what to do."""

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, cast

from fieldapp.store.canonical import DEPTH_LIMIT, INTEGER_LIMIT, TOO_DEEP, Doc, find
from fieldapp.store.errors import HostileFileError, reason, shown

RECORD_LIMIT_BYTES: Final = 4_000_000  # a visit of 280 readings takes 40 000
_DIGITS: Final = len(str(INTEGER_LIMIT))
_BYTE_ORDER_MARKS: Final = {b"\xef\xbb\xbf": "UTF-8", b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}
_UNSTORABLE: Final = re.compile("[\0\ud800-\udfff]")  # databases refuse NUL, UTF-8 the others
# Strings are matched first, so that a bracket inside one does not count.
_BRACKET: Final = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[\[{]|[\]}]', re.DOTALL)


@dataclass(frozen=True)
class _Refused:
    """Left by the parser in place of a value that no record may hold; `find` gives its path."""

    problem: str
    remedy: str


_TOO_DEEP: Final = _Refused(
    f"nested deeper than {DEPTH_LIMIT} levels", "This is not a visit; choose another file"
)
_UNSTORABLE_TEXT: Final = _Refused("text with a character that cannot be stored", "Type it again")


def read_json_file(path: Path, limit_bytes: int = RECORD_LIMIT_BYTES) -> Doc:
    """Read a JSON object from a file that nobody vouches for.

    Parameters
    ----------
    path : Path
        The file; never more than the limit is read from it.
    limit_bytes : int
        Largest size taken. [bytes]

    Returns
    -------
    dict
        The object; its fields are not judged here.

    Raises
    ------
    HostileFileError
        Anything that is not one JSON object in UTF-8 with unique names, finite numbers and
        decent nesting; the message has one line, with line and column or the field.
    """
    where = shown(path.name or str(path))  # "." has no name
    try:
        with path.open("rb") as file:
            raw = file.read(limit_bytes + 1)
    except OSError as error:
        raise HostileFileError(
            f"cannot be opened ({reason(error)})",
            where=where,
            remedy="Check the name of the file and whether you may read it",
        ) from error
    return parse_json_object(raw, where, limit_bytes)


def parse_json_object(raw: bytes, where: str, limit_bytes: int = RECORD_LIMIT_BYTES) -> Doc:
    """Return the JSON object in some bytes; see `read_json_file` for what is refused."""
    if len(raw) > limit_bytes:
        raise HostileFileError(
            f"larger than {limit_bytes / 1e6:g} MB",
            where=where,
            remedy="Choose the file of one visit; photos travel beside it, not inside",
        )
    text = _decoded(raw, where)
    if not text.strip():
        raise HostileFileError(
            "the file is empty", where=where, remedy="Export the visit again and use that file"
        )
    doc = _parsed(text, where)
    if not isinstance(doc, dict | _Refused):
        raise HostileFileError(
            f"holds {_kind(doc)}, not an object",
            where=f"{where}, line 1",
            remedy="A visit is one object in braces; export it again",
        )
    found = None if _is_plain(text, doc) else find(doc, _why_refused)
    if found:
        path, refused = found
        raise _hostile(refused, f"{where}: {path}" if path else where)
    return cast(Doc, doc)


def _decoded(raw: bytes, where: str) -> str:
    for mark, name in _BYTE_ORDER_MARKS.items():
        if raw.startswith(mark):
            raise HostileFileError(
                f"begins with a {name} byte order mark",
                where=f"{where}, line 1",
                remedy="Save the file as UTF-8 without a byte order mark",
            )
    try:
        return raw.decode()
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise HostileFileError(
            f"is not text: byte {error.start + 1} is not UTF-8",
            where=f"{where}, line {line}",
            remedy="Choose a visit file, or export it again",
        ) from error


def _parsed(text: str, where: str) -> Any:
    try:
        return json.loads(
            text,
            object_pairs_hook=_unique,
            parse_constant=_not_finite,
            parse_float=_finite(float),
            parse_int=_finite(int),
        )
    except json.JSONDecodeError as error:
        is_cut = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated string")
        raise HostileFileError(
            "the file ends too early" if is_cut else f"is not JSON ({error.msg.lower()})",
            where=f"{where}, line {error.lineno}, column {error.colno}",
            remedy="Export the visit again" if is_cut else "Correct it there, or export it again",
        ) from error
    except RecursionError as error:
        raise _hostile(_TOO_DEEP, f"{where}{_where_too_deep(text)}") from error


def _unique(pairs: list[tuple[str, Any]]) -> Doc | _Refused:
    doc = dict(pairs)
    if len(doc) == len(pairs):
        return doc
    seen: set[str] = set()
    twin = next(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]
    return _Refused(f"the name {shown(twin)!r} stands there twice", "Keep one of the two")


def _not_finite(name: str) -> _Refused:
    return _Refused(f"{name} is not a number", "Enter the measured value, or leave the field out")


def _finite(make: type[float] | type[int]) -> Callable[[str], float | _Refused]:
    def number(digits: str) -> float | _Refused:
        is_sane = len(digits) <= 2 * _DIGITS
        value = make(digits) if is_sane else 0
        if is_sane and abs(value) < INTEGER_LIMIT:
            return value
        return _Refused(
            f"the number {shown(digits)} is too long or too large", "Check the number and its unit"
        )

    return number


def _is_plain(text: str, doc: Any) -> bool:
    """Whether nothing can be refused, at a glance: at each step of a visit its file is read.

    UTF-8 carries no lone surrogate and the parser takes no bare NUL: both come as an escape.
    """
    if "\\u" in text:
        return False
    values = [doc]
    for _ in range(DEPTH_LIMIT):
        if _Refused in map(type, values):
            return False
        nested = [value for value in values if type(value) in (dict, list)]
        if not nested:
            return True
        values = [v for each in nested for v in (each.values() if type(each) is dict else each)]
    return False


def _why_refused(value: Any) -> _Refused | None:
    kind = type(value)
    if kind is str:
        return _UNSTORABLE_TEXT if _UNSTORABLE.search(value) else None
    if kind is dict:
        return _UNSTORABLE_TEXT if any(map(_UNSTORABLE.search, value)) else None
    if kind is _Refused:
        return cast(_Refused, value)
    return _TOO_DEEP if value is TOO_DEEP else None


def _where_too_deep(text: str) -> str:
    depth = 0
    for found in _BRACKET.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(found.group(), 0)
        if depth > DEPTH_LIMIT:
            line = text.count("\n", 0, found.start()) + 1
            return f", line {line}, column {found.start() - text.rfind(chr(10), 0, found.start())}"
    return ""


def _hostile(refused: _Refused, where: str) -> HostileFileError:
    return HostileFileError(refused.problem, where=where, remedy=refused.remedy)


def _kind(doc: object) -> str:
    names = {list: "a list", str: "a text", bool: "true or false", type(None): "null"}
    return names.get(type(doc), "a number")
