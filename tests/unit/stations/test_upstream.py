"""Chargers held at their subpanel: what counts of them at the service and the transformer.

NEC 2023 220.87, from memory: 125 % of a year's highest demand, and the new load; 625.42: a managed
load counts as it is held. The new load is taken as continuous too, by one reading, at 125 %.
"""

from typing import Any, Final

import pytest

from checks.check import Situation
from checks.codes import profile
from checks.record import Attachment, Occupancy, Panel, Site
from checks.stations.upstream import held_va
from checks.verdict import Judgement, Verdict
from tests.builders import PANEL, entry, judge, level_1, point, visit

Plain = dict[str, Any]
BAYS: Final = ("bay-1", "bay-2", "bay-3")
SIGNS: Final = {"is_listed": True, "is_restricted": True, "is_marked": True}
SET: Final = {"device_a": "100 A", "set_a": "40 A", "set_on": "invented", **SIGNS}
ROOM: Final = {"is_managed": True, "manages": "chargers", "managed_a": "40 A"}
DEMAND: Final = {"method": "year", "demand_a": "100 A", "is_included": False, "is_managed": False}


def site(
    check: str, bays: int = 2, service_a: str = "200 A", *said: tuple[str, str, Plain]
) -> Judgement:
    """Bays of 48 A: the first two at a subpanel that holds them to 40 A, the third at another."""
    panels = tuple(
        Panel(id=p, name=p, is_service_equipment=False) for p in (PANEL, "panel-b")[: 1 + bays // 3]
    )
    points = tuple(
        point(id=b, name=b, attachment=Attachment.HARD_WIRED, panel=panels[i // 2].id)
        for i, b in enumerate(BAYS[:bays])
    )
    told = (
        ("service.rating", "site", {"service_a": service_a, "main_a": service_a}),
        ("service.load", "site", DEMAND),
        ("panel.load", PANEL, ROOM),
        ("panel.management", PANEL, SET),
        *(("charger.nameplate", p.id, {"rated_a": "48 A"}) for p in points),
        *said,
    )
    made = visit(
        points=points,
        panels=panels,
        site=Site(name="Invented depot", occupancy=Occupancy.OTHER),
        entries=tuple(entry(c, at, n, **plain) for n, (c, at, plain) in enumerate(told, start=1)),
    )
    return judge(made, check)


def test_chargers_held_at_their_subpanel_count_as_they_are_held():
    # 1.25 × 100 + 1.25 × 40 = 175 A; with 2 × 48 A in full at least 125 + 96 = 221 A
    found = site("service.load")
    assert found.verdict is Verdict.WITHIN
    assert "count 175 A on 200 A" in found.explanation


def test_a_group_of_level_1_on_two_lines_draws_what_both_lines_bear():
    # by hand: four at 12 A and 120 V are 5760 VA; two lines at 24 A each bear 2 × 24 × 120 = 5760
    points = tuple(level_1(id=f"bay-{n}", name=f"Bay {n}") for n in range(4))
    here = Situation(visit(points=points), profile("nec_2023"), "site")
    loads = [(one, 12.0) for one in here.points]
    assert held_va(here, loads, 24.0) == pytest.approx(5760)
    assert held_va(here, loads, 12.0) == pytest.approx(2880)


TOGETHER: Final = {"is_held": False, "with_all": "46 A", "alone": "46 A"}
AT_WORK: Final = {"charging": 2, "drawn": "60 A", "is_reduced": True, "is_restored": True}


@pytest.mark.parametrize(
    "said",
    [
        ("panel.load", PANEL, {"is_managed": False}),
        ("panel.load", PANEL, {"is_managed": True, "managed_a": "40 A"}),  # what is held, not said
        ("panel.management", PANEL, {**SET, "is_listed": False}),
        ("panel.management", PANEL, {"device_a": "100 A", **SIGNS}),  # its setting is not read
        ("panel.management", PANEL, {**SET, "set_a": "60 A"}),  # more than was counted
        ("charger.together", "bay-2", TOGETHER),  # one charger is not held
        ("panel.management_limit", PANEL, AT_WORK),  # it was seen not to hold
    ],
)
def test_what_is_not_recorded_or_not_within_counts_in_full(said: tuple[str, str, Plain]):
    found = site("service.load", 2, "200 A", said)
    assert found.verdict is Verdict.OUTSIDE
    assert "count 221 A on 200 A" in found.explanation


@pytest.mark.parametrize(
    ("service_a", "verdict"),
    [
        # 125 + 1.25 × (40 + 48) = 235 A; at 1 × as the other reading has it 125 + 88 = 213 A
        ("235 A", Verdict.WITHIN),
        ("234 A", Verdict.BORDERLINE),
        ("212 A", Verdict.OUTSIDE),
    ],
)
def test_a_charger_at_another_panel_counts_in_full_beside_them(service_a: str, verdict: Verdict):
    assert site("service.load", 3, service_a).verdict is verdict


@pytest.mark.parametrize(
    ("other", "bays", "verdict"),
    [
        # 40 A × 240 V = 9.6 kVA; with a third of 48 A × 240 V = 11.52 kVA they are 21.12 kVA
        ("40.4 kVA", 2, Verdict.WITHIN),
        ("40.5 kVA", 2, Verdict.OUTSIDE),
        ("28.88 kVA", 3, Verdict.WITHIN),
        ("28.89 kVA", 3, Verdict.OUTSIDE),
    ],
)
def test_the_transformer_bears_what_the_subpanel_lets_through(
    other: str, bays: int, verdict: Verdict
):
    plate = {"is_present": True, "rated": "50 kVA", "other": other}
    said = ("service.transformer", "site", plate)
    assert site("service.transformer", bays, "200 A", said).verdict is verdict


def test_a_limit_above_what_the_chargers_draw_adds_nothing():
    # 2 × 48 A × 240 V = 23.04 kVA, though 80 A × 240 V = 19.2 kVA is less and 120 A more
    high = {**SET, "device_a": "150 A", "set_a": "120 A"}
    plate = {"is_present": True, "rated": "50 kVA", "other": "26.96 kVA"}
    said = (
        ("panel.load", PANEL, {**ROOM, "managed_a": "120 A"}),
        ("panel.management", PANEL, high),
        ("service.transformer", "site", plate),
    )
    found = site("service.transformer", 2, "200 A", *said)
    assert found.verdict is Verdict.WITHIN
    assert "23.04 kVA" in found.explanation
