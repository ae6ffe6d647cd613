"""Every text of the code that may be shown: constants, and sentences composed of them."""

import ast
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import chain, islice, product
from pathlib import Path
from typing import NamedTuple

from fieldapp.language import NOT_REVIEWED
from fieldapp.language.sentences import BETWEEN, MONTHS

_MOST_WAYS = 8


class Place(NamedTuple):
    """A place in a composed sentence: what stands there, and whether it is a number."""

    name: str
    is_number: bool


ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("checks", "fieldapp")
# The command line speaks English only; so do the invented visits.
LEFT_OUT = ("fieldapp/cli/", "fieldapp/demo.py", "fieldapp/language/", "fieldapp/__main__.py")
CITED = {"Source", "Profile", "CodeProfile"}  # documents are cited by the titles they have
CITING = {"Source", "nec", "cec", "recalled"}
PLACES = {"clause", "edition"}  # but what is said of a place in them, in words, is said
# Shown inside sentences, and too short to be told from the names that the code uses.
SHORT = (
    *("INVENTED", "day", "night", "outdoor"),
    *("count", "counts", "entry", "generic", "readings", "at", "of", "by", "on", "up to"),
    *("voltage", "current", "resistance", "power", "time", "ratio", "force", "torque", "length"),
    *("temperature", "with", "for", "inside the limit", "outside the limit"),
    *("inside", "beyond", "not beyond", "not", "fits", "exceeds", "before", "after", "measured"),
    *("the neutral", "the line", "the ground", "{size} copper", "{size} aluminum"),
    *("in the line {between}", "in the neutral {between}"),
    *("{book} table {number}", "{source} (doubtful)", "{source} (from memory)"),
    *("months", "calculated", "up", "down", "inlet", "plug", "charging", "nobody", "few", "many"),
)
ENDS = " ,;:·\n"  # what joins texts is no part of them
PLACE = re.compile(r"\{\w+\}")
_TOLD = re.compile(r"(?:^|\s)(?!tables?\b)[a-z]{3,}\b")  # more than a table's number
_WORD = re.compile(r"[A-Za-z]{2}")
_KV = re.compile(r"'([A-Z][a-z][^']*)'")
# What has no space and is shown all the same: a word with a capital, or an enumeration's value.
_SINGLE = re.compile(r"[A-Z][a-z]+(-[a-z]+)*[.:?]?")


def messages() -> dict[str, list[str]]:
    """Every message, and where it stands as ``file`` names."""
    found = defaultdict(
        list, {text: ["fieldapp/language/"] for text in (*MONTHS, *BETWEEN, *SHORT, NOT_REVIEWED)}
    )
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*")):
            name = path.relative_to(ROOT).as_posix()
            if name.startswith(LEFT_OUT):
                continue
            texts: Iterator[str] = iter(())
            if path.suffix == ".py":
                tree = ast.parse(path.read_text(encoding="utf-8"))
                texts = chain(_of_python(tree), _of_places(tree))
            elif path.suffix == ".kv":
                texts = iter(_KV.findall(path.read_text(encoding="utf-8")))
            for text in (text.strip(ENDS) for text in texts):
                if name not in found[text]:
                    found[text].append(name)
    return dict(found)


def composed(found: dict[str, list[str]]) -> list[str]:
    """Those of the messages that have places in them."""
    return sorted(m for m in found if PLACE.search(m))


def _of_python(tree: ast.Module) -> Iterator[str]:
    skipped, words = _not_shown(tree), _words(tree)
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr | ast.BinOp) and _is_text(node):
            for pieces in _ways(node):
                text = _written(pieces)
                if " " in text and _WORD.search(PLACE.sub("", text)):
                    yield text
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
            is_shown = id(node) in words or " " in text.strip() or _SINGLE.fullmatch(text)
            if is_shown and _WORD.search(text):
                yield text


def _of_places(tree: ast.Module) -> Iterator[str]:
    """Places in documents that are told in words, each behind the title of its document."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _name(node.func) in CITING:
            named = [each.value for each in node.keywords if each.arg in PLACES]
            for each in (*node.args[:1], *named):
                text = each.value if isinstance(each, ast.Constant) else None
                if isinstance(text, str) and _TOLD.search(text):
                    yield f"{{book}} {text}"


def _words(tree: ast.Module) -> set[int]:
    """Single words that are shown: the values of enumerations, and what a limit is a limit of."""
    found: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.keyword) and node.arg == "of":
            found.add(id(node.value))
        elif isinstance(node, ast.ClassDef) and any(_name(b) == "StrEnum" for b in node.bases):
            found |= {id(s.value) for s in node.body if isinstance(s, ast.Assign)}
    return found


def _not_shown(tree: ast.Module) -> set[int]:
    """Docstrings, annotations, titles of documents, and what is inside a composed sentence."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        for hint in (getattr(node, "annotation", None), getattr(node, "returns", None)):
            skipped |= {id(n) for n in ast.walk(hint)} if isinstance(hint, ast.AST) else set()
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
            skipped |= {id(n.value) for n in node.body[:1] if isinstance(n, ast.Expr)}
        elif isinstance(node, ast.JoinedStr | ast.BinOp) and _is_text(node):
            skipped |= {id(n) for n in _inside(node)}
        elif isinstance(node, ast.Call | ast.Assign) and _is_cited(node):
            skipped |= {id(n) for n in ast.walk(node)}
    return skipped


def _inside(node: ast.expr) -> Iterator[ast.AST]:
    """What a composed sentence is written from, whole and in each of its ways."""
    match node:
        case ast.JoinedStr():
            for value in node.values:
                if isinstance(value, ast.FormattedValue):
                    yield from ast.walk(value.format_spec or ast.Constant(None))
                    yield from _inside(value.value)
                yield value
        case ast.BinOp() if _is_text(node):
            for side in (node.left, node.right):
                yield side
                yield from _inside(side)
        case ast.IfExp() if _is_text(node):
            for way in (node.body, node.orelse):
                yield way
                yield from _inside(way)


def _is_cited(node: ast.Call | ast.Assign) -> bool:
    """Whether it names a document, or what a module exports."""
    if isinstance(node, ast.Call):
        return _name(node.func) in CITED
    return _name(node.targets[0]) == "__all__"


def _is_text(node: ast.AST) -> bool:
    """Whether an expression is written as a text, in one way or in several."""
    match node:
        case ast.Constant():
            return isinstance(node.value, str)
        case ast.JoinedStr():
            return True
        case ast.BinOp(op=ast.Add()):
            return _is_text(node.left) or _is_text(node.right)
        case ast.IfExp():
            return _is_text(node.body) and _is_text(node.orelse)
    return False


def _ways(node: ast.expr) -> list[list[str | Place]]:
    """Write an expression in each way that it can come out."""
    match node:
        case ast.Constant(value=str()):
            return [[node.value]]
        case ast.JoinedStr():
            each = [_ways(_of(value)) for value in node.values]
            return [list(chain(*way)) for way in islice(product(*each), _MOST_WAYS)]
        case ast.BinOp() if _is_text(node):
            return [a + b for a in _ways(node.left) for b in _ways(node.right)][:_MOST_WAYS]
        case ast.IfExp() if _is_text(node):
            return [*_ways(node.body), *_ways(node.orelse)]
        case ast.FormattedValue():
            return [[Place(_name(node.value), _is_number(node))]]
    return [[Place(_name(node), False)]]


def _of(value: ast.expr) -> ast.expr:
    """Return what stands in a place, where that is a text of several ways; else the place."""
    if isinstance(value, ast.FormattedValue) and isinstance(value.value, ast.IfExp):
        return value.value if _is_text(value.value) else value
    return value


def _is_number(value: ast.FormattedValue) -> bool:
    if isinstance(value.value, ast.Call) and _name(value.value) == "len":
        return True
    spec = value.format_spec
    last = spec.values[-1] if isinstance(spec, ast.JoinedStr) and spec.values else None
    return isinstance(last, ast.Constant) and str(last.value)[-1:] in "gfed%"


def _written(pieces: list[str | Place]) -> str:
    """Write a sentence with a name for each of its places; places side by side are one."""
    text, used, was_place = "", Counter[str](), False
    for piece in pieces:
        if isinstance(piece, Place):
            name = ("n_" if piece.is_number else "") + (piece.name.strip("_").lower() or "x")
            if not was_place:
                used[name] += 1
                text += f"{{{name}{used[name] if used[name] > 1 else ''}}}"
        else:
            text += piece
        was_place = isinstance(piece, Place) or (was_place and not piece)
    return text


def _name(node: ast.AST) -> str:
    """Name what an expression is about, in one word."""
    match node:
        case ast.Attribute():
            return node.attr
        case ast.Name():
            return node.id
        case ast.Call():
            return _name(node.func)
        case ast.Subscript():
            return _name(node.value)
    return "x"
