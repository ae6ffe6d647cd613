"""Every public function of physics and of numeric rules documents what it takes, in which unit.

numpydoc: the parameters are the signature's, a unit in brackets stands on each and on the result,
the unit agrees with the name's last word, and References say where it comes from.
"""

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import ModuleType
from typing import Any

import pytest

import checks.codes
import checks.electrical

# The last word of a name, and the unit it promises.
SUFFIX = {
    "a": "A",
    "ma": "mA",
    "v": "V",
    "mv": "mV",
    "w": "W",
    "va": "VA",
    "kwh": "kWh",
    "wh": "Wh",
    "ohm": "Ω",
    "mohm": "mΩ",
    "m": "m",
    "mm2": "mm²",
    "m2": "m²",
    "c": "°C",
    "k": "K",
    "s": "s",
    "h": "h",
    "ms": "ms",
    "us": "µs",
    "hz": "Hz",
    "n": "N",
    "nm": "N·m",
    "pct": "%",
    "km": "km",
}
HEADING = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)
UNIT = re.compile(r"\[([^\[\]\n]+)\]")


@dataclass(frozen=True)
class Documented:
    """One function and its parsed docstring."""

    name: str
    function: Callable[..., Any]
    sections: dict[str, str]

    @property
    def parameters(self) -> dict[str, str]:
        """What each parameter's entry says."""
        found: dict[str, str] = {}
        names: list[str] = []
        for line in self.sections.get("Parameters", "").splitlines():
            head = re.match(r"^(\*{0,2}\w+(?:, \*{0,2}\w+)*) ?(?::.*)?$", line)
            if head:
                names = head[1].split(", ")
                found |= dict.fromkeys(names, "")
            for name in names:
                found[name] += line + "\n"
        return found


def parsed(name: str, function: Callable[..., Any]) -> Documented:
    text = inspect.getdoc(function) or ""
    heads = list(HEADING.finditer(text))
    ends = [h.start() for h in heads[1:]] + [len(text)]
    sections = {h[1]: text[h.end() : e].strip("\n") for h, e in zip(heads, ends, strict=False)}
    return Documented(name, function, sections)


def modules(package: ModuleType) -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        yield importlib.import_module(found.name)


def functions(package: ModuleType) -> list[Documented]:
    return [
        parsed(f"{module.__name__}.{name}", function)
        for module in modules(package)
        for name, function in vars(module).items()
        if inspect.isfunction(function)
        and function.__module__ == module.__name__
        and not name.startswith("_")
    ]


def numeric(each: Documented) -> bool:
    """Whether a function's name or one of its parameters promises a unit."""
    names = [each.function.__name__, *inspect.signature(each.function).parameters]
    return any(promised(name) for name in names)


def promised(name: str) -> str:
    """The unit a name's last word promises; nothing for a name of one word."""
    words = name.split("_")
    return SUFFIX.get(words[-1], "") if len(words) > 1 else ""


PHYSICS = functions(checks.electrical)
RULES = [f for f in functions(checks.codes) if numeric(f)]


def faults(each: Documented, *, every_unit: bool) -> Iterator[str]:
    """What a docstring lacks; ``every_unit`` wants one on each parameter, of whatever name."""
    wanted = list(inspect.signature(each.function).parameters)
    documented = {name.lstrip("*"): text for name, text in each.parameters.items()}
    if list(documented) != wanted:
        yield f"documents {list(documented)}, takes {wanted}"
    for name, text in documented.items():
        yield from unit_faults(name, text, needed=every_unit and is_number(each.function, name))
    result = each.sections.get("Returns", "")
    if not result.strip():
        yield "no Returns"
    yield from unit_faults(
        each.function.__name__, result, needed=every_unit and returns_number(each.function)
    )
    if not each.sections.get("References", "").strip():
        yield "no References"


def unit_faults(name: str, text: str, *, needed: bool) -> Iterator[str]:
    units = UNIT.findall(text)
    if needed and not units:
        yield f"{name}: no [unit]"
    unit = promised(name)
    is_rate = "_per_" in name  # such as ohm_per_m: the last unit is part of what is documented
    if unit and not any(unit in found if is_rate else unit == found for found in units):
        yield f"{name}: promises [{unit}], documents {units}"


def is_number(function: Callable[..., Any], name: str) -> bool:
    found = inspect.signature(function).parameters.get(name)
    return found is not None and _numeric(found.annotation)


def returns_number(function: Callable[..., Any]) -> bool:
    return _numeric(inspect.signature(function).return_annotation)


def _numeric(annotation: Any) -> bool:
    """Whether an annotation is a number: a float, an int, or one with its uncertainty."""
    if isinstance(annotation, str):
        return bool(re.search(r"\b(float|int|Number)\b", annotation))
    return annotation in (float, int) or "float" in str(annotation).lower().split("[")[0]


@pytest.mark.parametrize("each", [pytest.param(f, id=f.name) for f in PHYSICS])
def test_physics_documents_every_unit_and_its_source(each: Documented):
    assert list(faults(each, every_unit=True)) == []


@pytest.mark.parametrize("each", [pytest.param(f, id=f.name) for f in RULES])
def test_a_numeric_rule_documents_the_units_it_promises_and_its_source(each: Documented):
    assert list(faults(each, every_unit=False)) == []


def test_there_is_something_to_read():
    assert len(PHYSICS) > 20
    assert len(RULES) > 5


def test_every_module_and_package_of_the_trade_opens_with_a_sentence():
    silent = [
        module.__name__
        for package in (checks.electrical, checks.codes)
        for module in [package, *modules(package)]
        if not ast.get_docstring(ast.parse(inspect.getsource(module)))
    ]
    assert silent == []


# -- the law sees what it should -----------------------------------------------------------------
def right_a(load_v: float, size: str) -> float:
    """Do nothing.

    Parameters
    ----------
    load_v : float
        Volts. [V]
    size : str
        Size.

    Returns
    -------
    float
        Current. [A]

    References
    ----------
    Nothing.
    """
    return load_v


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("", "", ""),
        ("Volts. [V]", "Volts.", "load_v: no [unit]"),
        ("Volts. [V]", "Volts. [A]", "load_v: promises [V], documents ['A']"),
        ("load_v :", "volts :", "documents ['volts', 'size'], takes ['load_v', 'size']"),
        ("Current. [A]", "Current.", "right_a: no [unit]"),
        ("References\n----------\nNothing.", "", "no References"),
        ("Returns\n-------\nfloat\n    Current. [A]", "", "no Returns"),
    ],
)
def test_a_fault_in_a_docstring_would_be_seen(old: str, new: str, fault: str):
    right = parsed("right_a", right_a)
    text = (inspect.getdoc(right_a) or "").replace(old, new) if old else inspect.getdoc(right_a)
    broken = Documented("right_a", right_a, parsed_text(text or ""))
    found = list(faults(broken, every_unit=True))
    assert (fault in found) if fault else found == []
    assert right.sections


def parsed_text(text: str) -> dict[str, str]:
    def carrier() -> None:
        """Carry a docstring."""

    carrier.__doc__ = text
    return parsed("carrier", carrier).sections
