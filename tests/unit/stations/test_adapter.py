"""The adapter: only where there is one; listing, both faces, temperature."""

from typing import Any

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.path import Station
from checks.record import Coupler
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
MIXED = point(connector=Coupler.J3400, inlet=Coupler.TYPE_1)
SEATED = {
    f"{name}_{side}": value
    for side in ("connector", "inlet")
    for name, value in (
        ("is_held", True),
        ("has_clicked", True),
        ("is_rocking", False),
        ("gap", "0.5 mm"),
    )
}
CLEAN = {"has_burn_marks": False, "is_pitted": False, "has_debris": False, "is_cracked": False}


def found(check: str, entries: Entries) -> Any:
    """Judge one check of a visit whose connector and inlet differ."""
    return judge(with_entries(visit(points=(MIXED,)), entries), check)


def test_there_is_no_adapter_where_connector_and_inlet_fit():
    rows = assess(visit(), profile("nec_2023")).rows
    assert all(row.station is not Station.ADAPTER for row in rows)
    rows = assess(visit(points=(MIXED,)), profile("nec_2023")).rows
    assert any(row.station is Station.ADAPTER for row in rows)


@pytest.mark.parametrize(
    ("answers", "verdict", "severity"),
    [
        ({"is_listed": True, "is_approved": True, "rated_a": "48 A"}, Verdict.WITHIN, None),
        (
            {"is_listed": False, "is_approved": True, "rated_a": "48 A"},  # UL 2252
            Verdict.OUTSIDE,
            Severity.WARNING,
        ),
        (
            {"is_listed": True, "is_approved": False, "rated_a": "48 A"},
            Verdict.OUTSIDE,
            Severity.CAUTION,
        ),
        (
            {"is_listed": True, "is_approved": True, "rated_a": "32 A"},  # charger 40 A
            Verdict.OUTSIDE,
            Severity.WARNING,
        ),
    ],
)
def test_listed_approved_and_rated(
    answers: dict[str, Any], verdict: Verdict, severity: Severity | None
):
    load = {"charger.configuration": {"configured_a": "40 A"}}
    judged = found("adapter.listing", {**load, "adapter.listing": answers})
    assert (judged.verdict, judged.severity) == (verdict, severity)
    assert judged.limits[-1].value == 40.0


def test_the_rating_it_needs_is_in_view():
    judged = found("adapter.listing", {"charger.configuration": {"configured_a": "40 A"}})
    assert judged.verdict is Verdict.NOT_MEASURED
    assert [x.value for x in judged.limits] == [40.0]


def test_both_faces_must_sit_home():
    assert found("adapter.seating", {"adapter.seating": SEATED}).verdict is Verdict.WITHIN
    half = {name: value for name, value in SEATED.items() if name.endswith("connector")}
    assert found("adapter.seating", {"adapter.seating": half}).verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize(
    ("side", "words"), [("connector", "at the connector"), ("inlet", "at the vehicle")]
)
def test_the_face_with_the_gap_is_named(side: str, words: str):
    judged = found("adapter.seating", {"adapter.seating": {**SEATED, f"gap_{side}": "4.0 mm"}})
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert words in judged.explanation


def test_burnt_pins_are_danger():
    judged = found("adapter.pins", {"adapter.pins": {**CLEAN, "has_burn_marks": True}})
    assert judged.severity is Severity.DANGER


@pytest.mark.parametrize(
    ("sound", "surface", "verdict"),
    [
        ({}, "30.0 °C", Verdict.BORDERLINE),  # a surface alone proves nothing
        ({"adapter.seating": SEATED, "adapter.pins": CLEAN}, "30.0 °C", Verdict.WITHIN),
        # 48 K: over 40 K, NETA ATS 2003 table 100.18
        ({"adapter.seating": SEATED, "adapter.pins": CLEAN}, "70.0 °C", Verdict.OUTSIDE),
    ],
)
def test_temperature(sound: Entries, surface: str, verdict: Verdict):
    entries = {
        "charger.configuration": {"configured_a": "32 A"},
        **sound,
        "adapter.temperature": {
            "sign": "none",
            "method": "infrared_matte",
            "surface": surface,
            "ambient": "22.0 °C",
            "minutes": "45 min",
            "current": "32.0 A",
        },
    }
    assert found("adapter.temperature", entries).verdict is verdict
