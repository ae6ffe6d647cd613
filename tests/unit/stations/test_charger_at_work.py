"""The charger at work: stop, touch volts, self-test, return of supply, network, export, fitting."""

from typing import Any

import pytest

from checks.verdict import Severity, Verdict
from tests.builders import judge, level_1, point, visit, with_entries

Plain = dict[str, Any]
BREAKER = {"breaker.rating": {"rated_a": "50 A", "poles": "2"}}
OUTDOORS = {"surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"}}
FITTED: Plain = {
    "is_followed": True,
    "is_sealed": True,
    "is_marked": True,
    "asked": "0.10 m",
    "clear": "0.30 m",
    "sun": "allowed",
}
RETURNS: Plain = {"is_dark": True, "is_message_clear": True, "start": "waits"}
EXPORT: Plain = {"is_exporting": True, "is_export_marked": True, "is_approved": True}
SOURCE = {"service.other_sources": {"is_present": True}}


def found(check: str, said: Plain, before: dict[str, Plain] | None = None, **over: Any) -> Any:
    return judge(with_entries(visit(**over), {**(before or {}), check: said}), check)


@pytest.mark.parametrize(
    ("check", "said", "verdict", "severity"),
    [
        # 3 V, 1 s, 1 A: own judgement, no source; IEC 61851-1 table A.6, sequence 8.1, asks 0.1 s,
        # which no watch shows
        ("charger.enclosure_voltage", {"touch": "0.2 V"}, Verdict.WITHIN, None),
        ("charger.enclosure_voltage", {"touch": "58 V"}, Verdict.OUTSIDE, Severity.DANGER),
        ("charger.enclosure_voltage", {"touch": "3.0 V"}, Verdict.BORDERLINE, Severity.CAUTION),
        ("charger.stop_time", {"stop": "0.4 s"}, Verdict.WITHIN, None),
        ("charger.stop_time", {"stop": "2.0 s"}, Verdict.OUTSIDE, Severity.WARNING),
        ("charger.stop_time", {"stop": "6.0 s"}, Verdict.OUTSIDE, Severity.WARNING),
        ("connector.button", {"left": "0.0 A"}, Verdict.WITHIN, None),
        ("connector.button", {"left": "31.0 A"}, Verdict.OUTSIDE, Severity.WARNING),
        ("charger.ground_fault_test", {"reaction": "recovers"}, Verdict.WITHIN, None),
        ("charger.ground_fault_test", {"reaction": "none"}, Verdict.OUTSIDE, Severity.DANGER),
        ("charger.supply_return", RETURNS, Verdict.WITHIN, None),
        ("charger.supply_return", RETURNS | {"is_dark": False}, Verdict.OUTSIDE, Severity.DANGER),
        ("charger.supply_return", RETURNS | {"start": "empty"}, Verdict.OUTSIDE, Severity.DANGER),
        ("charger.supply_return", RETURNS | {"start": "at_once"}, Verdict.WITHIN, None),
        ("charger.network", {"is_networked": False}, Verdict.WITHIN, None),
        ("charger.export", {"is_exporting": False}, Verdict.WITHIN, None),
        ("charger.export", EXPORT | {"is_isolated": False}, Verdict.OUTSIDE, Severity.DANGER),
        ("charger.fitting", FITTED, Verdict.WITHIN, None),
        ("charger.fitting", FITTED | {"clear": "0.05 m"}, Verdict.OUTSIDE, Severity.CAUTION),
        ("charger.fitting", FITTED | {"is_sealed": False}, Verdict.OUTSIDE, Severity.CAUTION),
        ("charger.fitting", FITTED | {"sun": "forbidden"}, Verdict.BORDERLINE, Severity.CAUTION),
    ],
)
def test_what_was_seen_decides(check: str, said: Plain, verdict: Verdict, severity: Severity):
    judged = found(check, said, OUTDOORS)
    assert (judged.verdict, judged.severity) == (verdict, severity)


@pytest.mark.parametrize(
    "check",
    ["charger.enclosure_voltage", "charger.stop_time", "connector.button"],
)
def test_its_limit_is_in_view_before_the_number(check: str):
    judged = judge(visit(), check)
    assert judged.verdict is Verdict.NOT_MEASURED
    assert judged.limits


def test_several_that_start_at_once_are_told_to_wait():
    both = (point(), point(id="bay-2", name="Bay 2"))
    judged = found("charger.supply_return", RETURNS | {"start": "at_once"}, points=both)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.NOTICE)
    assert "beside 1 other" in judged.explanation


@pytest.mark.parametrize(("amps", "verdict"), [("40 A", "within"), ("48 A", "outside")])
def test_offline_it_offers_no_more_than_the_circuit_bears(amps: str, verdict: str):
    """A 50 A circuit bears 40 A for hours (NEC 2023 625.41: 125 %)."""
    said = {"is_networked": True, "is_clock_right": True, "is_owners_account": True}
    judged = found("charger.network", said | {"offline_a": amps}, BREAKER)
    assert judged.verdict == verdict
    assert judged.limits[0].value == 40.0


def test_a_unit_that_exports_is_a_source_of_the_site_too():
    said = EXPORT | {"is_isolated": True}
    assert found("charger.export", said).verdict is Verdict.NOT_MEASURED
    assert found("charger.export", said, SOURCE).verdict is Verdict.WITHIN


@pytest.mark.parametrize("check", ["charger.network", "charger.export", "charger.fitting"])
def test_a_portable_cord_set_is_not_asked(check: str):
    judged = judge(visit(points=(level_1(),)), check)
    assert judged.verdict is Verdict.NOT_APPLICABLE
    assert judged.explanation


def test_no_vehicle_no_button():
    judged = judge(visit(points=(point(inlet=None),)), "connector.button")
    assert judged.verdict is Verdict.NOT_APPLICABLE
