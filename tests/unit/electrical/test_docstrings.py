"""Every formula says what it takes, in which unit, and where it comes from."""

import inspect
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from pkgutil import iter_modules

import pytest

import checks.electrical

UNIT_OF = {"_a": "A", "_v": "V", "_ohm": "Ω", "_m": "m", "_c": "°C", "_k": "K", "_kw": "kW"}
UNIT_OF |= {"_pct": "%", "_ma": "mA", "_mm2": "mm²", "_mm": "mm", "_s": "s", "_w": "W"}


def formulas() -> Iterator[Callable[..., object]]:
    for module in iter_modules(checks.electrical.__path__, "checks.electrical."):
        for name, found in inspect.getmembers(import_module(module.name), inspect.isfunction):
            if found.__module__ == module.name and not name.startswith("_"):
                yield found


def documented(section: str, text: str) -> str:
    found = re.search(rf"^{section}\n-+\n(.*?)(?=\n\n\w[^\n]*\n-+\n|\Z)", text, re.S | re.M)
    return found.group(1) if found else ""


FORMULAS = list(formulas())


def test_there_are_formulas_to_read() -> None:
    assert len(FORMULAS) > 20


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda each: each.__name__)
def test_a_formula_documents_parameters_units_and_references(
    formula: Callable[..., object],
) -> None:
    text = inspect.getdoc(formula) or ""
    parameters = dict(
        re.findall(r"^(\w+) : [^\n]+\n((?:    [^\n]+\n?)+)", documented("Parameters", text), re.M)
    )

    assert list(parameters) == list(inspect.signature(formula).parameters)
    for name, meaning in parameters.items():
        assert re.search(r"\[[^\]]+\]", meaning), f"{name} has no unit"
        for suffix, unit in UNIT_OF.items():
            if name.endswith(suffix) and "_per_" not in name:
                assert f"[{unit}]" in meaning, f"{name} is not in {unit}"
    assert re.search(r"\[[^\]]+\]", documented("Returns", text)), "the result has no unit"
    assert documented("References", text), "no reference"
