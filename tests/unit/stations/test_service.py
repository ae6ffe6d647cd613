"""The service: rating, room for the chargers by measured demand, supply, other sources."""

from typing import Any

import pytest

from checks.record import Role, SupplySystem, Visit
from checks.verdict import Severity, Verdict
from tests.builders import entry, judge, point, visit, with_entries


def service(rating: str = "100 A", charger: str = "32 A", **load: Any) -> Visit:
    answers = {"method": "year", "demand_a": "40 A", "is_included": False, "is_managed": False}
    entries = {
        "service.rating": {"service_a": rating, "main_a": rating},
        "charger.configuration": {"configured_a": charger},
        "service.load": {**answers, **load},
    }
    return with_entries(visit(), entries)


@pytest.mark.parametrize(
    ("main", "verdict"), [("100 A", Verdict.WITHIN), ("125 A", Verdict.OUTSIDE)]
)
def test_the_main_is_not_above_the_service(main: str, verdict: Verdict):
    made = with_entries(visit(), {"service.rating": {"service_a": "100 A", "main_a": main}})
    assert judge(made, "service.rating").verdict is verdict


@pytest.mark.parametrize(
    ("rating", "demand", "charger", "verdict", "totals"),
    [
        # NEC 2023 220.87 with both readings of the new load: 100 % and 125 %
        ("100 A", "40 A", "32 A", Verdict.WITHIN, "90 A"),
        ("100 A", "40 A", "40 A", Verdict.WITHIN, "100 A"),
        ("100 A", "40 A", "48 A", Verdict.BORDERLINE, "98 A, or 110 A"),
        ("200 A", "90 A", "48 A", Verdict.WITHIN, "172.5 A"),
        ("200 A", "115 A", "80 A", Verdict.OUTSIDE, "223.8 A"),
    ],
)
def test_room_by_twelve_months_of_demand(
    rating: str, demand: str, charger: str, verdict: Verdict, totals: str
):
    found = judge(service(rating, charger, demand_a=demand), "service.load")
    assert found.verdict is verdict, found.explanation
    assert totals in found.explanation


def test_the_largest_charger_that_fits_is_said():
    # (100 − 1.25 × 40) / 1.25 = 40 A by the strict reading, 50 A by the lenient one
    found = judge(service(), "service.load")
    assert "up to 40.0 A" in found.explanation
    assert "50.0 A by one" in found.explanation


def test_a_calculated_load_counts_without_the_margin_of_a_measured_one():
    # 65 + 32 = 97 A, or 65 + 40 = 105 A: the readings differ
    found = judge(service(demand_a="65 A", method="calculated"), "service.load")
    assert found.verdict is Verdict.BORDERLINE
    # measured: 1.25 × 65 + 32 = 113.25 A
    assert judge(service(demand_a="65 A"), "service.load").verdict is Verdict.OUTSIDE


def test_load_management_counts_what_it_holds():
    # 1.25 × 64 + 16 × 1.25 = 100 A; without it 80 + 32 = 112 A
    held = service(demand_a="64 A", is_managed=True, managed_a="16 A")
    assert judge(held, "service.load").verdict is Verdict.WITHIN
    free = judge(service(demand_a="64 A"), "service.load")
    assert free.verdict is Verdict.OUTSIDE
    assert "load management that holds the chargers to 16.0 A together would fit" in free.remedy


def test_a_short_record_is_no_proof_beside_solar():
    # NEC 2023 220.87 exception: not with generation or peak shaving
    beside = service(method="month", is_generating=True)
    assert judge(beside, "service.load").verdict is Verdict.BORDERLINE
    alone = service(method="month", is_generating=False)
    assert judge(alone, "service.load").verdict is Verdict.WITHIN


def test_chargers_that_are_in_the_demand_are_not_counted_twice():
    # 1.25 × 75 = 93.75 A
    assert judge(service(demand_a="75 A", is_included=True), "service.load").verdict is (
        Verdict.WITHIN
    )


def test_every_charging_point_adds_and_a_missing_one_is_named():
    points = (point(), point(id="bay-2", name="Bay 2"))
    made = service(demand_a="20 A").model_copy(update={"points": points})
    found = judge(made, "service.load")
    assert found.verdict is Verdict.NOT_MEASURED
    assert "Bay 2" in found.explanation
    second = entry("charger.configuration", "bay-2", 50, configured_a="48 A")
    both = made.model_copy(update={"entries": (*made.entries, second)})
    # 1.25 × 20 + 32 + 48 = 105 A
    assert judge(both, "service.load").verdict is Verdict.OUTSIDE


VOLTS = {"l1_l2": "241.2 V", "l1_n": "120.7 V", "l2_n": "120.5 V"}


@pytest.mark.parametrize(
    ("change", "verdict", "severity"),
    [
        # ANSI C84.1 range A, service: 228 to 252 V, 114 to 126 V
        ({}, Verdict.WITHIN, None),
        ({"l1_l2": "224.0 V"}, Verdict.OUTSIDE, Severity.CAUTION),
        ({"l1_l2": "210.0 V"}, Verdict.OUTSIDE, Severity.WARNING),
        ({"l1_l2": "229.0 V"}, Verdict.BORDERLINE, Severity.CAUTION),
        ({"l1_n": "133.0 V", "l2_n": "108.0 V"}, Verdict.OUTSIDE, Severity.DANGER),  # neutral
    ],
)
def test_the_supply(change: dict[str, str], verdict: Verdict, severity: Severity | None):
    made = with_entries(visit(), {"service.supply_voltage": {**VOLTS, **change}})
    found = judge(made, "service.supply_voltage")
    assert (found.verdict, found.severity) == (verdict, severity)


def test_a_208_volt_supply_has_its_own_range():
    # ANSI C84.1 range A, service: 197 to 218 V
    made = visit(system=SupplySystem.WYE_208, points=(point(nominal_v=208),))
    volts = {**VOLTS, "l1_l2": "208.4 V"}
    wye = with_entries(made, {"service.supply_voltage": volts})
    assert judge(wye, "service.supply_voltage").verdict is Verdict.WITHIN
    low_leg = with_entries(made, {"service.supply_voltage": {**volts, "l2_l3": "180.0 V"}})
    assert judge(low_leg, "service.supply_voltage").verdict is Verdict.OUTSIDE
    assert (
        judge(
            with_entries(visit(), {"service.supply_voltage": volts}), "service.supply_voltage"
        ).verdict
        is Verdict.OUTSIDE
    )


def test_the_supply_starts_the_voltage_staircase():
    made = with_entries(visit(), {"service.supply_voltage": VOLTS})
    steps = judge(made, "service.supply_voltage").steps
    assert [(s.label, s.no_load_v) for s in steps] == [("Service", "241.2")]


def test_the_supplys_range_is_in_view_before_it_is_measured():
    found = judge(visit(), "service.supply_voltage")
    assert found.verdict is Verdict.NOT_MEASURED
    assert [limit.value for limit in found.limits] == [228.0, 252.0, 114.0, 126.0]
    inspects = visit(role=Role.INSPECTS)
    assert judge(inspects, "service.supply_voltage").verdict is Verdict.NOT_APPLICABLE


SOLAR = {
    "is_present": True,
    "place": "opposite end",
    "bus_a": "200 A",
    "device_a": "200 A",
    "output_a": "30 A",
}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        # NEC 705.12(B), from memory: 200 + 1.25 × 30 = 237.5 A on 1.2 × 200 = 240 A; a limit
        # from memory never yields within
        ({}, Verdict.BORDERLINE),
        ({"output_a": "40 A"}, Verdict.OUTSIDE),
        ({"place": "elsewhere"}, Verdict.OUTSIDE),  # 237.5 A on 200 A
        ({"place": "ahead"}, Verdict.BORDERLINE),
    ],
)
def test_another_source_on_the_bus(change: dict[str, Any], verdict: Verdict):
    made = with_entries(visit(), {"service.other_sources": {**SOLAR, **change}})
    assert judge(made, "service.other_sources").verdict is verdict


def test_no_other_source_is_within():
    made = with_entries(visit(), {"service.other_sources": {"is_present": False}})
    assert judge(made, "service.other_sources").verdict is Verdict.WITHIN


def test_an_empty_service_is_not_measured():
    for check in ("rating", "load", "supply_voltage", "other_sources"):
        assert judge(visit(), f"service.{check}").verdict is Verdict.NOT_MEASURED, check
