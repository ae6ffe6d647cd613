"""Every text of the code that may be shown: constants, and sentences composed of them."""

import ast
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

from fieldapp.language import BETWEEN, MONTHS, NOT_REVIEWED

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("checks", "fieldapp")
# The command line speaks English only; so do the invented visits.
LEFT_OUT = ("fieldapp/cli/", "fieldapp/demo.py", "fieldapp/language.py", "fieldapp/__main__.py")
CITED = {"Source", "Profile", "CodeProfile"}  # documents are cited by the titles they have
# Shown inside sentences, and too short to be told from the names that the code uses.
SHORT = (
    *("count", "counts", "entry", "generic", "readings", "at", "of", "by", "on", "a", "up to"),
    *("voltage", "current", "resistance", "power", "time", "ratio", "force", "torque", "length"),
    *("temperature", "with", "for", "in", "inside the limit", "beyond the limit"),
)
ENDS = " ,;:·\n"  # what joins texts is no part of them
PLACE = re.compile(r"\{\w+\}")
_WORD = re.compile(r"[A-Za-z]{2}")
_KV = re.compile(r"'([A-Z][a-z][^']*)'")
# What has no space and is shown all the same: a word with a capital, or an enumeration's value.
_SINGLE = re.compile(r"[A-Z][a-z]+(-[a-z]+)*[.:?]?")


def messages() -> dict[str, list[str]]:
    """Every message, and where it stands as ``file`` names."""
    found = defaultdict(
        list, {text: ["fieldapp/language.py"] for text in (*MONTHS, *BETWEEN, *SHORT, NOT_REVIEWED)}
    )
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*")):
            name = path.relative_to(ROOT).as_posix()
            if name.startswith(LEFT_OUT):
                continue
            texts: Iterator[str] = iter(())
            if path.suffix == ".py":
                texts = _of_python(ast.parse(path.read_text(encoding="utf-8")))
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
        if isinstance(node, ast.JoinedStr):
            text = _joined(node)
            if " " in text and _WORD.search(PLACE.sub("", text)):
                yield text
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
            is_shown = id(node) in words or " " in text.strip() or _SINGLE.fullmatch(text)
            if is_shown and _WORD.search(text):
                yield text


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
    """Docstrings, titles of documents, and what stands inside a composed sentence."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
            skipped |= {id(n.value) for n in node.body[:1] if isinstance(n, ast.Expr)}
        elif isinstance(node, ast.JoinedStr):
            skipped |= {id(v) for v in node.values if isinstance(v, ast.Constant)}
        elif isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            skipped |= {id(n) for n in ast.walk(node.format_spec)}
        elif isinstance(node, ast.Call | ast.Assign) and _is_cited(node):
            skipped |= {id(n) for n in ast.walk(node)}
    return skipped


def _is_cited(node: ast.Call | ast.Assign) -> bool:
    """Whether it names a document, or what a module exports."""
    if isinstance(node, ast.Call):
        return _name(node.func) in CITED
    return _name(node.targets[0]) == "__all__"


def _joined(node: ast.JoinedStr) -> str:
    """Write a composed sentence with a name for each of its places."""
    text, used = "", Counter[str]()
    for value in node.values:
        if isinstance(value, ast.Constant):
            text += str(value.value)
        elif isinstance(value, ast.FormattedValue):
            name = _name(value.value).strip("_").lower() or "x"
            used[name] += 1
            text += f"{{{name}{used[name] if used[name] > 1 else ''}}}"
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
