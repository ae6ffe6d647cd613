"""The vehicle: power on its display against volts and amps, and its inlet."""

from typing import Any

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.path import Station
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
LOADED: Entries = {
    "outlet.loaded_voltage": {
        "outlet_no_load": "243.0 V",
        "outlet_loaded": "240.0 V",
        "current": "32.0 A",
    }
}


def found(check: str, entries: Entries) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(), entries), check)


def power(shown: str, reason: str = "none", more: Entries | None = None) -> Any:
    entries = {
        **LOADED,
        **(more or {}),
        "vehicle.power": {"displayed": shown, "reason": reason},
    }
    return found("vehicle.power", entries)


def test_the_expected_power_is_in_view():
    judged = found("vehicle.power", LOADED)
    assert judged.verdict is Verdict.NOT_MEASURED
    # 240 V × 32 A = 7.68 kW; 15 % either way, own judgement
    assert [x.value for x in judged.limits] == [pytest.approx(6528.0), pytest.approx(8832.0)]
    assert "7.68 kW" in judged.limits[0].working[0]


@pytest.mark.parametrize(
    ("shown", "verdict"),
    [
        ("7.5 kW", Verdict.WITHIN),
        ("6.6 kW", Verdict.WITHIN),
        ("6.5 kW", Verdict.OUTSIDE),
        ("4.0 kW", Verdict.OUTSIDE),
        ("11.0 kW", Verdict.OUTSIDE),
    ],
)
def test_display_against_volts_and_amps(shown: str, verdict: Verdict):
    judged = power(shown)
    assert judged.verdict is verdict
    assert judged.telling == f"{shown}"
    if verdict is Verdict.OUTSIDE:
        assert judged.severity is Severity.NOTICE


def test_a_known_reason_leaves_it_open():
    judged = power("4.0 kW", "full")
    assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)


def test_without_a_load_test_nothing_is_expected():
    entries = {"vehicle.power": {"displayed": "7.5 kW", "reason": "none"}}
    judged = found("vehicle.power", entries)
    assert judged.verdict is Verdict.NOT_MEASURED
    assert "outlet" in judged.explanation


def test_a_vehicle_that_takes_more_than_it_is_offered_is_a_warning():
    # a duty cycle of 40 % offers 24 A: SAE J1772 OCT2017; 32 A are drawn
    offer = {"charger.offered_current": {"method": "duty", "duty": "40.0 %"}}
    judged = power("7.5 kW", more=offer)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)


def test_without_vehicle_there_is_no_station():
    rows = assess(visit(points=(point(inlet=None),)), profile("nec_2023")).rows
    assert all(row.station is not Station.VEHICLE for row in rows)


def test_a_burnt_inlet_is_danger():
    clean = dict.fromkeys(("has_burn_marks", "is_pitted", "has_debris", "is_cracked"), False)
    entries = {"vehicle.inlet_condition": clean}
    assert found("vehicle.inlet_condition", entries).verdict is Verdict.WITHIN
    burnt = {"vehicle.inlet_condition": {**clean, "has_burn_marks": True}}
    assert found("vehicle.inlet_condition", burnt).severity is Severity.DANGER
