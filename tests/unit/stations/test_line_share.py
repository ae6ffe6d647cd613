"""Several chargers on a three-phase supply: the most loaded line, known, or between two bounds.

Kirchhoff's current law: two currents into one line from its two pairs stand 60° apart, so by the
law of cosines a line with A and B on its pairs carries √(A² + B² + A·B).
"""

from math import sqrt
from typing import Any

import pytest

from checks.record import Occupancy, Site, SupplySystem
from checks.verdict import Judgement, Verdict
from tests.builders import entry, judge, level_1, point, visit, with_entries

WYE = SupplySystem.WYE_208
SPREAD = ["l1_l2", "l2_l3", "l3_l1", "l1_l2", "l2_l3", "l3_l1", "l1_l2", "l2_l3"]  # 3, 3, 2
ROOM = {"demand_a": "40 A", "method": "year", "is_included": False, "is_managed": False}


def garage(service_a: str, lines: list[str], amps: str = "48 A", **room: Any) -> Judgement:
    """Judge the room for eight chargers of 48 A at 208 V beside a demand of 40 A."""
    bays = tuple(point(id=f"c{i}", name=f"Bay {i}", nominal_v=208) for i in range(1, 9))
    site = Site(name="Invented garage", occupancy=Occupancy.OTHER)
    made = with_entries(
        visit(system=WYE, points=bays, site=site),
        {
            "service.rating": {"service_a": service_a, "main_a": service_a},
            "service.load": {**ROOM, **room},
        },
    )
    number, entries = 100, list(made.entries)
    for i, bay in enumerate(bays):
        entries.append(entry("charger.configuration", bay.id, number, configured_a=amps))
        breaker = {"rated_a": "60 A", "poles": "2"} | ({"lines": lines[i]} if lines else {})
        entries.append(entry("breaker.rating", bay.id, number + 1, **breaker))
        number += 2
    return judge(made.model_copy(update={"entries": tuple(entries)}), "service.load")


@pytest.mark.parametrize(
    ("service_a", "lines", "verdict"),
    [
        # 3, 3 and 2 chargers: 144 A and 144 A meet in one line, √3 × 144 = 249 A; with 125 % of
        # 40 A and of the chargers 50 + 312 = 362 A
        ("400 A", SPREAD, Verdict.WITHIN),
        # all on one pair: 384 A, 125 % of it alone is more than 400 A
        ("400 A", ["l1_l2"] * 8, Verdict.OUTSIDE),
        # not recorded: between 384/√3 = 222 A and 384 A
        ("400 A", [], Verdict.BORDERLINE),
        # even at best 50 + 222 = 272 A
        ("250 A", [], Verdict.OUTSIDE),
        # even at worst 50 + 480 = 530 A
        ("600 A", [], Verdict.WITHIN),
    ],
)
def test_chargers_count_on_the_lines_they_take(
    service_a: str, lines: list[str], verdict: Verdict
) -> None:
    found = garage(service_a, lines)
    assert found.verdict is verdict, found.explanation


def test_the_current_of_the_most_loaded_line_is_said() -> None:
    found = garage("400 A", SPREAD)
    assert f"{sqrt(144**2 + 144**2 + 144 * 144):.4g} A of 384 A" in " ".join(found.working)
    open_ones = garage("400 A", [])
    assert f"between {384 / sqrt(3):.4g} A and 384 A" in open_ones.explanation


def test_load_management_holds_the_line_too() -> None:
    # 50 + 1.25 × 100 = 175 A, whatever the lines
    assert garage("200 A", [], is_managed=True, managed_a="100 A").verdict is Verdict.WITHIN


def test_one_line_chargers_of_a_split_supply_spread_over_two() -> None:
    """16 A on each of two lines is 16 A, not 32 A: Kirchhoff."""
    bays = (level_1(id="c1", name="Bay 1"), level_1(id="c2", name="Bay 2"))
    rating = {"service_a": "30 A", "main_a": "30 A"}
    made = with_entries(
        visit(points=bays),
        {"service.rating": rating, "service.load": {**ROOM, "demand_a": "8 A"}},
    )
    plates = [entry("charger.nameplate", b.id, 100 + i, rated_a="12 A") for i, b in enumerate(bays)]

    def on(lines: tuple[str, str]) -> Judgement:
        breakers = [
            entry("breaker.rating", b.id, 200 + i, rated_a="20 A", poles="1", lines=lines[i])
            for i, b in enumerate(bays)
        ]
        told = (*made.entries, *plates, *breakers)
        return judge(made.model_copy(update={"entries": told}), "service.load")

    # 1.25 × 8 + 1.25 × 12 = 25 A; on one line 1.25 × 8 + 1.25 × 24 = 40 A
    assert on(("l1", "l2")).verdict is Verdict.WITHIN
    assert on(("l1", "l1")).verdict is Verdict.OUTSIDE
