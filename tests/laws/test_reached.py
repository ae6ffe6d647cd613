"""Every public name of the physics is used by something that a technician sees.

A formula that only its own tests know is no part of the product: it is wired in or deleted.
"""

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PHYSICS = "checks.electrical"
USERS = (
    "checks.stations",
    "checks.codes",
    "checks.assess",
    "checks.causes",
    "checks.trends",
    "fieldapp",
)

Name = tuple[str, str]  # module, name


def sources() -> dict[str, str]:
    """Every module of the product, by its dotted name."""
    found = {}
    for package in ("checks", "fieldapp"):
        for path in (ROOT / package).rglob("*.py"):
            parts = path.relative_to(ROOT).with_suffix("").parts
            found[".".join(parts).removesuffix(".__init__")] = path.read_text(encoding="utf-8")
    return found


def defined(tree: ast.Module) -> Iterator[tuple[str, ast.stmt]]:
    """Each function, class and constant at the top of a module, with what makes it."""
    for node in tree.body:
        match node:
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                yield name, node
            case ast.AnnAssign(target=ast.Name(id=name)):
                yield name, node
            case ast.Assign(targets=targets):
                made = (each for target in targets for each in ast.walk(target))
                yield from ((each.id, node) for each in made if isinstance(each, ast.Name))
            case _:
                pass


def imported(tree: ast.Module, modules: frozenset[str]) -> tuple[dict[str, Name], dict[str, str]]:
    """What a module calls the names, and the modules, that it takes from the physics."""
    names: dict[str, Name] = {}
    whole: dict[str, str] = {}
    for node in ast.walk(tree):
        if not isinstance(node, ast.ImportFrom) or not (node.module or "").startswith(PHYSICS):
            continue
        for each in node.names:
            here, full = each.asname or each.name, f"{node.module}.{each.name}"
            if full in modules:
                whole[here] = full
            else:
                names[here] = (str(node.module), each.name)
    return names, whole


def used(node: ast.AST, names: Mapping[str, Name], whole: Mapping[str, str]) -> Iterator[Name]:
    """The names of the physics that a piece of code says."""
    for each in ast.walk(node):
        match each:
            case ast.Name(id=name) if name in names:
                yield names[name]
            case ast.Attribute(value=ast.Name(id=module), attr=name) if module in whole:
                yield whole[module], name
            case _:
                pass


def unreached(found: Mapping[str, str]) -> list[str]:
    """Public names of the physics that no user's code comes to, straight or through others."""
    modules = frozenset(found)
    physics: set[Name] = set()
    leads: dict[Name, set[Name]] = defaultdict(set)
    waiting: list[Name] = []
    for module, source in found.items():
        tree = ast.parse(source)
        names, whole = imported(tree, modules)
        if module.startswith(PHYSICS):
            own = dict(defined(tree))
            names |= {name: (module, name) for name in own}
            physics |= {(module, name) for name in own}
            for name, node in own.items():
                leads[module, name] |= set(used(node, names, whole)) - {(module, name)}
        elif module.startswith(USERS):
            waiting += used(tree, names, whole)
    reached: set[Name] = set()
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting += leads[name]
    return sorted(f"{m}.{n}" for m, n in physics - reached if not n.startswith("_"))


def test_every_public_name_of_the_physics_is_reached():
    assert unreached(sources()) == []


USER = "from checks.electrical.drop import drop_v\nprint(drop_v(1.0))"
DROP = (
    "FACTOR = 2.0\n\ndef _twice(x):\n    return FACTOR * x\n\ndef drop_v(x):\n    return _twice(x)"
)


@pytest.mark.parametrize(
    ("more", "user", "missing"),
    [
        ("", USER, []),  # the constant, through a private helper
        ("\nLOST = 1.0", USER, ["LOST"]),
        ("\ndef again(x):\n    return again(x)", USER, ["again"]),
        ("", "from checks.electrical import drop\nprint(drop.drop_v(1.0))", []),
        ("", "def drop_v(x):\n    return x\n\nprint(drop_v(1.0))", ["FACTOR", "drop_v"]),
        ("", "from checks.electrical.drop import drop_v", ["FACTOR", "drop_v"]),  # and never said
    ],
)
def test_a_name_that_nobody_says_would_be_seen(more: str, user: str, missing: list[str]):
    planted = {
        "checks.electrical": "",
        "checks.electrical.drop": DROP + more,
        "checks.stations.planted": user,
    }

    assert unreached(planted) == [f"checks.electrical.drop.{name}" for name in missing]


def test_a_test_is_no_user():
    planted = {"checks.electrical.drop": DROP, "tests.unit.test_drop": USER}

    assert "checks.electrical.drop.drop_v" in unreached(planted)
