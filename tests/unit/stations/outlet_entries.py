"""Entries that several tests of the outlet build on."""

from typing import Any

from tests.builders import judge, visit, with_entries

Entries = dict[str, dict[str, Any]]


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


def breaker(rated: str) -> Entries:
    return {"breaker.rating": {"rated_a": rated, "poles": "2"}}


def receptacle(kind: str, count: str = "single") -> Entries:
    return {"outlet.configuration": {"kind": kind, "count": count}}


# 8 AWG copper, 0.778 Ω/1000 ft at 75 °C (NEC 2023 chapter 9 table 8), is 2.10 mΩ/m at 20 °C with
# its stranding; 30.5 m out and back is 128 mΩ at 20 °C and 148 mΩ at 60 °C.
RUN: Entries = {
    "run.conductor": {"size": "8 AWG", "material": "copper"},
    "run.length": {"basis": "measured", "length": "30.5 m"},
}
CHARGER: Entries = {**breaker("40 A"), "charger.configuration": {"configured_a": "32 A"}}


def load_test(**answers: str) -> Entries:
    """A test at 31.6 A: the outlet loses 6.7 V, the panel 2.2 V."""
    return {
        "outlet.loaded_voltage": {
            "outlet_no_load": "243.1 V",
            "outlet_loaded": "236.4 V",
            "current": "31.6 A",
            "panel_no_load": "243.2 V",
            "panel_loaded": "241.0 V",
            **answers,
        }
    }


HOT = {  # answers of a load test that shows a joint
    "outlet_no_load": "243.0 V",
    "outlet_loaded": "233.5 V",
    "panel_no_load": "243.0 V",
    "panel_loaded": "242.0 V",
}


def warm(**answers: str) -> Entries:
    return {
        "outlet.temperature": {
            "sign": "none",
            "method": "contact",
            "surface": "33.0 °C",
            "ambient": "22.0 °C",
            "current": "32.0 A",
            **answers,
        }
    }
