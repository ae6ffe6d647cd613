"""The adapter: only where there is one; listing, both faces, temperature."""

from typing import Any

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.path import Station
from checks.record import Coupler
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
MIXED = point(connector=Coupler.J3400, inlet=Coupler.TYPE_1)
SEATED = {"is_held": True, "has_clicked": True, "is_rocking": False, "gap": "0.5 mm"}
CLEAN = {"has_burn_marks": False, "is_pitted": False, "has_debris": False, "is_cracked": False}


BACKED: Entries = {
    "connector.seating": SEATED,
    "adapter.seating": SEATED,
    "adapter.pins": CLEAN,
}


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


def test_each_face_is_asked_once_and_named():
    faces = {"connector.seating": SEATED, "adapter.seating": {**SEATED, "gap": "4.0 mm"}}
    judged = found("adapter.seating", faces)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "Adapter in the inlet" in judged.explanation
    good = found("connector.seating", faces)
    assert good.verdict is Verdict.WITHIN
    assert "connector in the adapter" in good.explanation
    labels = [i.label for check in faces for i in BY_ID[check].inputs]
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize("only", list(SEATED))
def test_no_single_observation_seats_it(only: str):
    assert found("adapter.seating", {"adapter.seating": {only: SEATED[only]}}).verdict is (
        Verdict.NOT_MEASURED
    )


def test_burnt_pins_are_danger():
    judged = found("adapter.pins", {"adapter.pins": {**CLEAN, "has_burn_marks": True}})
    assert judged.severity is Severity.DANGER


@pytest.mark.parametrize(
    ("sound", "surface", "verdict"),
    [
        ({}, "30.0 °C", Verdict.BORDERLINE),  # a surface alone proves nothing
        (BACKED, "30.0 °C", Verdict.WITHIN),
        # its other face, asked at the connector, backs it too
        (BACKED | {"connector.seating": {"is_held": False}}, "30.0 °C", Verdict.BORDERLINE),
        # 48 K: over 40 K, NETA ATS 2003 table 100.18
        (BACKED, "70.0 °C", Verdict.OUTSIDE),
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
            "current": "32.0 A",
        },
    }
    assert found("adapter.temperature", entries).verdict is verdict
