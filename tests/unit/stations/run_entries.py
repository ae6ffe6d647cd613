"""A sound circuit, which the tests of the run change one answer at a time."""

from typing import Any

from checks.record import Visit
from tests.builders import conductor, visit, with_entries

# A 48 A charger on a 60 A breaker, 6 AWG copper THWN-2 in EMT, terminals 75 °C: the line
# 48 A, 60 A, 6 AWG (65) of the standard circuits; NEC 2023 table 310.16, 210.19(A), 240.4.
CIRCUIT: dict[str, dict[str, Any]] = {
    "charger.configuration": {"configured_a": "48 A"},
    "breaker.rating": {"rated_a": "60 A", "poles": "2"},
    "run.conductor": conductor("6 AWG"),
    "run.length": {"basis": "measured", "length": "30.00 m"},
    "run.grounding_conductor": {"kind": "wire", "size": "10 AWG", "material": "copper"},
    "run.dedicated": {"is_alone": True},
    "run.protective_conductor": {
        "place": "panel",
        "are_leads_nulled": True,
        "reading": "value",
        "ohm": "0.11 Ω",
    },
    "run.insulation": {
        "place": "panel",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "550 MΩ",
        "second_ground": "550 MΩ",
        "between": "550 MΩ",
    },
    "run.polarity": {
        "place": "panel",
        "is_line_right": True,
        "is_second_right": True,
        "is_ground_right": True,
    },
    "outlet.configuration": {"kind": "6-50", "count": "single"},
    "run.protection": {
        "is_protected": True,
        "is_supported": True,
        "has_bushings": True,
        "is_buried": False,
    },
    "run.damage": {"is_damaged": False},
}


def circuit(made: Visit | None = None, **changes: dict[str, Any] | None) -> Visit:
    """The sound circuit with some answers changed, or a whole entry left out (``None``)."""
    entries = {}
    for check, answers in CIRCUIT.items():
        change = changes.get(check.replace(".", "_"), {})
        if change is not None:
            entries[check] = {**answers, **change}
    return with_entries(made or visit(), entries)


def conductor(**changes: Any) -> Visit:
    return circuit(run_conductor=changes)
