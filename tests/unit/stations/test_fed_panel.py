"""A panel that a feeder supplies: the size of the ground that comes with it, and its building."""

from typing import Any

import pytest

from checks.assess import assess
from checks.check import Situation
from checks.codes import profile
from checks.record import Panel, Visit
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import PANEL, judge, visit, with_entries
from tests.sound_visits import built

NEC = profile("nec_2023")

BY_WIRE = {"panel.neutral_bond": {"bond": "absent", "fed": "feeder", "ground": "wire"}}
RATING = {"panel.rating": {"bus_a": "125 A", "ahead": "feeder", "main_a": "100 A"}}
SIZED = {"size": "8 AWG", "material": "copper", "is_enlarged": False}


def fed(**over: dict[str, Any]) -> Visit:
    """A fed panel with these entries beside the ground that comes with its feeder."""
    panel = Panel(id=PANEL, name="Garage panel", is_service_equipment=False)
    entries = {**BY_WIRE, **RATING, **{k.replace("__", "."): v for k, v in over.items()}}
    return with_entries(visit(panels=(panel,)), entries)


def ground(**changes: Any) -> Judgement:
    return judge(fed(panel__feeder_ground={**SIZED, **changes}), "panel.feeder_ground")


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # NEC 2023 table 250.122: 100 A, 8 AWG copper or 6 AWG aluminum
        ({}, Verdict.WITHIN),
        ({"size": "10 AWG"}, Verdict.OUTSIDE),
        ({"material": "aluminum"}, Verdict.OUTSIDE),
        ({"size": "6 AWG", "material": "aluminum"}, Verdict.WITHIN),
        # 250.122(B): in proportion to lines that were enlarged, whose areas are not asked
        ({"is_enlarged": True}, Verdict.BORDERLINE),
        ({"is_enlarged": True, "size": "10 AWG"}, Verdict.OUTSIDE),
    ],
)
def test_the_ground_of_a_feeder_by_its_breaker(changes: dict[str, Any], verdict: Verdict):
    found = ground(**changes)
    assert found.verdict is verdict
    assert ("remove no bond here" in found.remedy) is (verdict is Verdict.OUTSIDE)
    assert found.limits[0].amount.of in ("8 AWG copper", "6 AWG aluminum")


def test_a_main_in_the_panel_says_nothing_of_the_breaker_ahead_of_its_feeder():
    # a 60 A main behind a feeder of 200 A: table 250.122 asks 6 AWG copper
    main = {"bus_a": "125 A", "ahead": "main", "main_a": "60 A"}
    for breaker, verdict in (({}, Verdict.NOT_MEASURED), ({"breaker_a": "200 A"}, Verdict.OUTSIDE)):
        made = fed(panel__rating=main, panel__feeder_ground={**SIZED, **breaker})
        assert judge(made, "panel.feeder_ground").verdict is verdict
    check = BY_ID["panel.feeder_ground"]
    for rating, is_asked in ((main, True), (RATING["panel.rating"], False)):
        here = check.at(Situation(fed(panel__rating=rating), profile("nec_2023"), PANEL))
        assert (here.input("breaker_a") is not None) is is_asked


def test_what_is_ahead_of_the_panel_is_said_before_its_ground_is_sized():
    made = fed(panel__rating={"bus_a": "125 A"}, panel__feeder_ground=SIZED)
    found = judge(made, "panel.feeder_ground")
    assert (found.verdict, "panel's rating" in found.explanation) == (Verdict.NOT_MEASURED, True)


def test_a_ground_that_comes_with_a_transformer_does_not_go_by_a_breaker():
    # NEC 250.30(A)(2)(1) and 250.102(C), as quoted in a trade forum: by the derived conductors
    behind = {**BY_WIRE["panel.neutral_bond"], "fed": "transformer"}
    made = fed(panel__neutral_bond=behind, panel__feeder_ground=SIZED)
    found = judge(made, "panel.feeder_ground")
    assert (found.verdict, "supply-side" in found.settles) == (Verdict.BORDERLINE, True)


def test_a_raceway_is_no_wire_and_the_service_no_feeder():
    raceway = {**BY_WIRE["panel.neutral_bond"], "ground": "raceway"}
    made = fed(panel__neutral_bond=raceway)
    assert judge(made, "panel.feeder_ground").verdict is Verdict.NOT_APPLICABLE
    for check in ("panel.feeder_ground", "panel.separate_building"):
        assert judge(visit(), check).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("answers", "verdict"),
    [
        # NEC 250.32(A), 225.31, 225.32: electrode and disconnect at the building
        ({"is_separate": False}, Verdict.WITHIN),
        ({"is_separate": True, "has_electrode": True, "has_disconnect": True}, Verdict.WITHIN),
        ({"is_separate": True, "has_electrode": False, "has_disconnect": True}, Verdict.OUTSIDE),
        ({"is_separate": True, "has_electrode": True, "has_disconnect": False}, Verdict.OUTSIDE),
        ({"is_separate": True, "has_electrode": True}, Verdict.NOT_MEASURED),
        ({}, Verdict.NOT_MEASURED),
    ],
)
def test_a_separate_building_has_an_electrode_and_a_disconnect(
    answers: dict[str, bool], verdict: Verdict
):
    found = judge(fed(panel__separate_building=answers), "panel.separate_building")
    assert found.verdict is verdict
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.CAUTION


# -- a panel that stays on and closed ------------------------------------------------------------
CLOSED = {
    "panel.neutral_bond": {"bond": "closed"},
    "run.protective_conductor": {"place": "closed"},
    "run.polarity": {
        "place": "closed",
        "is_line_open": True,
        "is_ground_reaching": True,
        "is_neutral_reaching": True,
    },
    "run.insulation": {"place": "outlet", "line2_ground": "550 MΩ"},
    "outlet.ground_fault": {"device": "receptacle"},
}
LOST = {"l1_ground": "3.0 V", "l2_ground": "2.0 V"}
LOAD = "outlet.no_load_voltage"


def waits(over: dict[str, Any], *without: str) -> list[set[str]]:
    """Return what a fed panel's circuit waits for before it is energised, and before its load."""
    made = built("receptacle", {**CLOSED, **over})
    panel = Panel(id=PANEL, name="Garage panel", is_service_equipment=False)
    kept = tuple(e for e in made.entries if e.check not in ("panel.absence_of_voltage", *without))
    found = assess(made.model_copy(update={"panels": (panel,), "entries": kept}), NEC)
    return [set(g.waiting) for g in found.points[0].gates[1:]]


def test_a_closed_panel_gets_its_load_by_the_volts_to_ground_that_its_outlet_shows():
    """The path back is seen dead up to the enclosure, and beyond it live: common practice."""
    assert waits({}) == [set(), set()]
    assert waits({}, "panel.neutral_bond")[0] == {"panel.neutral_bond"}
    assert waits({}, "run.protective_conductor")[0] == {"run.protective_conductor"}
    assert waits({}, LOAD) == [set(), {LOAD}]
    assert LOAD in waits({LOAD: LOST})[1], "no volts to ground, no path back"


def test_a_closed_panel_on_a_feeder_says_that_its_ground_was_not_seen_either():
    fed_panel = Panel(id=PANEL, name="Garage panel", is_service_equipment=False)
    for panel, words in ((fed_panel, "the ground that comes with the feeder"), (None, "")):
        panels = {} if panel is None else {"panels": (panel,)}
        made = with_entries(visit(**panels), {"panel.neutral_bond": {"bond": "closed"}})
        judged = judge(made, "panel.neutral_bond")
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
        assert words in judged.explanation
        assert ("feeder" in judged.explanation) is bool(words)
