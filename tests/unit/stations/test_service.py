"""The service: rating, conductors, other sources."""

from typing import Any

import pytest

from checks.record import SupplySystem
from checks.verdict import Verdict
from tests.builders import judge, visit, with_entries


@pytest.mark.parametrize(
    ("main", "verdict"), [("100 A", Verdict.WITHIN), ("125 A", Verdict.OUTSIDE)]
)
def test_the_main_is_not_above_the_service(main: str, verdict: Verdict):
    made = with_entries(visit(), {"service.rating": {"service_a": "100 A", "main_a": main}})
    assert judge(made, "service.rating").verdict is verdict


@pytest.mark.parametrize(
    ("main", "size", "metal", "verdict"),
    [
        # NEC 2023 table 310.12(A): 200 A, 2/0 AWG copper or 4/0 AWG aluminum; 400 A, 400 kcmil
        ("200 A", "2/0 AWG", "copper", Verdict.WITHIN),
        ("200 A", "1/0 AWG", "copper", Verdict.OUTSIDE),
        ("200 A", "4/0 AWG", "aluminum", Verdict.WITHIN),
        ("200 A", "2/0 AWG", "aluminum", Verdict.OUTSIDE),
        ("400 A", "400 kcmil", "copper", Verdict.WITHIN),
        ("400 A", "4/0 AWG", "copper", Verdict.OUTSIDE),
        ("600 A", "4/0 AWG", "copper", Verdict.WITHIN),  # beyond the table: not judged by it
    ],
)
def test_the_conductors_of_a_dwelling_bear_its_main(
    main: str, size: str, metal: str, verdict: Verdict
):
    read = {"service_a": main, "main_a": main, "conductor": size, "metal": metal}
    made = with_entries(visit(), {"service.rating": read})
    found = judge(made, "service.rating")
    assert found.verdict is verdict
    assert found.telling == main
    # that table was not read in the other code: nothing is said of them
    assert size not in judge(made, "service.rating", code="cec_2021").explanation
    # 310.12 is of single-phase services: 208Y/120 V goes by ampacity
    wye = made.model_copy(update={"system": SupplySystem.WYE_208})
    assert size not in judge(wye, "service.rating").explanation


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
        # NEC 2023 705.12(B)(2), as pages on it tell: 200 + 1.25 × 30 = 237.5 A on 1.2 × 200 = 240 A
        ({}, Verdict.WITHIN),
        ({"output_a": "40 A"}, Verdict.OUTSIDE),
        ({"place": "elsewhere"}, Verdict.OUTSIDE),  # NEC 2020 705.12(B)(3)(1): 237.5 A on 200 A
        ({"place": "ahead"}, Verdict.BORDERLINE),
    ],
)
def test_another_source_on_the_bus(change: dict[str, Any], verdict: Verdict):
    made = with_entries(visit(), {"service.other_sources": {**SOLAR, **change}})
    found = judge(made, "service.other_sources")
    assert found.verdict is verdict
    # trade forum on 705.12(B): the sum of all breakers but the main is another way, a listed power
    # control system by 705.13 one more
    assert ("sum of all breakers" in found.remedy) is (verdict is Verdict.OUTSIDE)


def test_no_other_source_is_within():
    made = with_entries(visit(), {"service.other_sources": {"is_present": False}})
    assert judge(made, "service.other_sources").verdict is Verdict.WITHIN


def test_an_empty_service_is_not_measured():
    for check in ("rating", "load", "supply_voltage", "other_sources"):
        assert judge(visit(), f"service.{check}").verdict is Verdict.NOT_MEASURED, check
