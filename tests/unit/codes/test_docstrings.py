"""Every rule says what it takes, in which unit, what it gives, and which clauses it rests on."""

import inspect
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from pkgutil import walk_packages

import pytest

import checks.codes

UNITS = {"_a": "A", "_v": "V", "_m": "m", "_c": "°C", "_va": "VA", "_m2": "m²"}
# Reading a table, citing, and the register of profiles rest on no clause of their own.
PLUMBING = {
    "checks.codes",
    "checks.codes.answer",
    "checks.codes.table",
    "checks.codes.worksheet",
    "checks.codes.nec_2023.source",
    "checks.codes.cec_2021.source",
}


def rules() -> Iterator[Callable[..., object]]:
    for module in walk_packages(checks.codes.__path__, "checks.codes."):
        for name, found in inspect.getmembers(import_module(module.name), inspect.isfunction):
            if found.__module__ != module.name or name.startswith("_"):
                continue
            if found.__module__ not in PLUMBING and name != "is_standard":
                yield found


RULES = list(rules())


def section(name: str, text: str) -> str:
    found = re.search(rf"^{name}\n-+\n(.*?)(?=\n\n\w[^\n]*\n-+\n|\Z)", text, re.S | re.M)
    return found.group(1) if found else ""


def test_there_are_rules_to_read() -> None:
    assert len(RULES) > 35


@pytest.mark.parametrize("rule", RULES, ids=lambda each: each.__name__)
def test_a_rule_documents_parameters_units_and_clauses(rule: Callable[..., object]) -> None:
    text = inspect.getdoc(rule) or ""
    parameters = dict(
        re.findall(r"^(\w+) : [^\n]+\n((?:    [^\n]+\n?)+)", section("Parameters", text), re.M)
    )

    assert list(parameters) == list(inspect.signature(rule).parameters)
    for name, meaning in parameters.items():
        for suffix, unit in UNITS.items():
            if name.endswith(suffix) and not name.startswith("is_"):
                assert f"[{unit}]" in meaning, f"{name} is not in {unit}"
    assert section("Returns", text), "nothing is said of the result"
    assert section("References", text), "no clause"
