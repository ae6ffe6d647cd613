"""Room at the service for the chargers: by measured demand, by calculation, by management."""

from typing import Any

import pytest

from checks.record import Occupancy, Panel, Visit, VisitKind
from checks.verdict import Judgement, Verdict
from tests.builders import PANEL, entry, judge, point, visit, with_entries


def service(rating: str = "100 A", charger: str = "32 A", **load: Any) -> Visit:
    answers = {"method": "year", "demand_a": "40 A", "is_included": False, "is_managed": False}
    entries = {
        "service.rating": {"service_a": rating, "main_a": rating},
        "charger.configuration": {"configured_a": charger},
        "service.load": {**answers, **load},
    }
    return with_entries(visit(), entries)


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


@pytest.mark.parametrize(
    ("demand", "small", "other", "verdict", "of_other"),
    [
        # NEC 2023 220.57: 7,200 VA at the least, 30 A at 240 V. By the charger's own load,
        # 75 + 16 × 1.25 = 95 A fits on 100 A; 75 + 30 × 1.25 does not, nor does 75 + 30
        ("75 A", "16 A", "32 A", Verdict.BORDERLINE, Verdict.OUTSIDE),
        # 60 + 30 × 1.25 = 97.5 A
        ("60 A", "16 A", "32 A", Verdict.WITHIN, Verdict.WITHIN),
    ],
)
def test_a_small_charger_counts_its_least_beside_a_calculated_load(
    demand: str, small: str, other: str, verdict: Verdict, of_other: Verdict
):
    made = service(charger=small, demand_a=demand, method="calculated")
    assert judge(made, "service.load").verdict is verdict
    # a dwelling may have been calculated by part IV, where it is in doubt; nothing else may
    site = made.site.model_copy(update={"occupancy": Occupancy.OTHER})
    assert judge(made.model_copy(update={"site": site}), "service.load").verdict is of_other
    # measured demand knows no such least
    assert judge(service(charger=small, demand_a="60 A"), "service.load").verdict is Verdict.WITHIN


def test_a_limit_names_the_clause_of_its_method():
    for method, clause in (("year", "220.87"), ("calculated", "220 parts III and IV")):
        limit = judge(service(method=method), "service.load").limits[0]
        assert clause in str(limit.source)


def test_chargers_that_are_in_the_demand_are_not_counted_twice():
    # 1.25 × 75 = 93.75 A
    made = service(demand_a="75 A", is_included=True)
    recorded = made.model_copy(update={"kind": VisitKind.SITE_RECORD})
    assert judge(recorded, "service.load").verdict is Verdict.WITHIN
    # 93.75 + 32 A, which no record of the time before its first charge holds
    found = judge(made, "service.load")
    assert (found.verdict, "125.75 A" in str(found.working)) == (Verdict.BORDERLINE, True)
    # 1.25 × 40 + 32 × 1.25 = 90 A fits whether it is held or not
    assert judge(service(is_included=True), "service.load").verdict is Verdict.WITHIN


def test_a_source_that_was_recorded_generates_whatever_is_said_of_the_record():
    # NEC 2023 220.87 exception: no short record beside generation
    made = service(method="month", is_generating=False)
    solar = with_entries(made, {"service.other_sources": {"is_present": True, "place": "ahead"}})
    assert judge(solar, "service.load").verdict is Verdict.BORDERLINE


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


# 1500 ft², a 12 kW range, a 5.5 kW dryer: NEC informative annex D1(a); here with a charger
DWELLING: dict[str, Any] = {
    "method": "dwelling",
    "is_new": False,
    "floor_area": "1500 ft²",
    "basement_area": "0 m²",
    "appliance_circuits": 2,
    "laundry_circuits": 1,
    "range_va": "12 kVA",
    "dryer_va": "5.5 kVA",
    "water_heater_va": "0 VA",
    "heated_water_va": "0 VA",
    "other_va": "0 VA",
    "heating_va": "0 VA",
    "heating_units": 0,
    "heat_pump_va": "0 VA",
    "cooling_va": "0 VA",
    "is_interlocked": True,
    "adds_climate": False,
    "is_managed": False,
}


def dwelling(
    rating: str = "100 A", charger: str = "40 A", code: str = "nec_2023", **over: Any
) -> Judgement:
    entries = {
        "service.rating": {"service_a": rating, "main_a": rating},
        "charger.configuration": {"configured_a": charger},
        "service.load": {**DWELLING, **over},
    }
    return judge(with_entries(visit(), entries), "service.load", code=code)


@pytest.mark.parametrize(
    ("over", "words", "verdict"),
    [
        # general load 4500 + 4500 + 12 000 + 5500 + 40 A × 240 V = 36 100 VA; 220.83(A): 8000 VA
        # and 40 % of the rest, 19 240 VA, 80.2 A; a new one by 220.82(B): 20 440 VA, 85.2 A
        ({}, "19240 VA is 80.2 A", Verdict.WITHIN),
        ({"is_new": True}, "20440 VA is 85.2 A", Verdict.WITHIN),
        ({"rating": "80 A"}, "80.2 A on 80 A", Verdict.OUTSIDE),
        # 20 A held for all chargers: 4800 VA, 17 320 VA, 72.2 A; 625.42(A)
        (
            {"rating": "80 A", "is_managed": True, "manages": "chargers", "managed_a": "20 A"},
            "72.2 A on 80 A",
            Verdict.WITHIN,
        ),
        # 15 kW of cooling that is new: 220.83(B) and 220.82 count it in full, 34 240 VA at least
        ({"cooling_va": "15 kVA", "adds_climate": True}, "VA is 14", Verdict.OUTSIDE),
        # CE Code 2021 8-200 1) b): not less than 24 000 VA from 80 m² on
        ({"code": "cec_2021"}, "24000 VA is 100.0 A", Verdict.WITHIN),
    ],
)
def test_a_dwelling_is_calculated_from_what_it_has(
    over: dict[str, Any], words: str, verdict: Verdict
):
    found = dwelling(**over)
    assert found.verdict is verdict, found.explanation
    assert words in found.explanation
    assert any("general" in line or "basic" in line for line in found.working)


def test_a_dwelling_counts_what_its_subpanel_holds():
    # as held at the service: 4800 VA of the charger, 17 320 VA in all, 72.2 A; 625.42(A)
    entries = {
        "service.rating": {"service_a": "80 A", "main_a": "80 A"},
        "charger.configuration": {"configured_a": "40 A"},
        "service.load": DWELLING,
        "panel.load": {"is_managed": True, "manages": "chargers", "managed_a": "20 A"},
        "panel.management": {
            "device_a": "50 A",
            "set_a": "20 A",
            "set_on": "invented",
            "is_listed": True,
            "is_restricted": True,
            "is_marked": True,
        },
    }
    below = Panel(id=PANEL, name="Garage", is_service_equipment=False)
    found = judge(with_entries(visit(panels=(below,)), entries), "service.load")
    assert found.verdict is Verdict.WITHIN
    assert "72.2 A on 80 A" in found.explanation


def test_a_dwelling_that_is_full_is_told_what_load_management_would_do():
    found = dwelling(rating="80 A")
    # 80 A × 240 V = 19 200 VA; (19 200 − 8000)/0.4 + 8000 − 26 500 = 9500 VA, 39.58 A
    assert "39.5 A" in found.explanation  # what is allowed is rounded down
    assert "holds the chargers to 39.5 A" in found.remedy
    assert any(line.startswith("largest charger") for line in found.working)


@pytest.mark.parametrize("name", [n for n in DWELLING if n != "method"])
def test_a_calculation_with_a_gap_is_not_made(name: str):
    entries = {
        "service.rating": {"service_a": "100 A", "main_a": "100 A"},
        "charger.configuration": {"configured_a": "40 A"},
        "service.load": {k: v for k, v in DWELLING.items() if k != name},
    }
    found = judge(with_entries(visit(), entries), "service.load")
    assert found.verdict is Verdict.NOT_MEASURED
    assert found.limits


@pytest.mark.parametrize(
    ("setpoint", "verdict"),
    # NEC 2023 220.70, 750.30, 625.42: a setpoint counts as a continuous load, 100 A / 1.25
    [("80 A", Verdict.WITHIN), ("85 A", Verdict.OUTSIDE)],
)
def test_management_of_the_whole_service_counts_its_setpoint(setpoint: str, verdict: Verdict):
    held = {"is_managed": True, "manages": "service", "managed_a": setpoint}
    assert dwelling(**held).verdict is verdict


@pytest.mark.parametrize(
    ("charger", "verdict"),
    # NEC 2023 625.41, 230.42: 125 % of a continuous load, whatever else there is; 80 A are 100 A
    [("80 A", Verdict.BORDERLINE), ("81 A", Verdict.OUTSIDE)],
)
def test_chargers_alone_may_be_more_than_a_service_bears(charger: str, verdict: Verdict):
    # with 10 A of demand: 12.5 + 80 = 92.5 A by one reading of 220.87, 112.5 A by the other
    found = judge(service(charger=charger, demand_a="10 A"), "service.load")
    assert found.verdict is verdict
    assert ("101.25 A" in found.explanation) is (verdict is Verdict.OUTSIDE)


def test_a_short_record_is_none_by_the_other_code():
    # NEC 2023 220.87 exception: 30 days; CE Code 2021 8-106 8): 12 months
    made = service(demand_a="40 A", method="month", is_generating=False)
    assert judge(made, "service.load").verdict is Verdict.WITHIN
    found = judge(made, "service.load", code="cec_2021")
    assert found.verdict is Verdict.BORDERLINE
    assert "365" in found.explanation
