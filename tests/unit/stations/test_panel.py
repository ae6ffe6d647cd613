"""The panel: numbers, looks, working space, spaces, and its bus proved dead."""

from typing import Any

import pytest

from checks.check import REPAIR, Choice, Situation
from checks.codes import profile
from checks.record import SITE, Panel, Role, SupplySystem, Visit, VisitKind
from checks.stations.all import BY_ID, CHECKS
from checks.stations.observing import BESIDE_BUS, INSIDE
from checks.verdict import Severity, Verdict
from tests.builders import PANEL, judge, level_1, point, visit, with_entries
from tests.unit.stations.panel_entries import feeder_fed, one


@pytest.mark.parametrize(
    ("main", "verdict"),
    # NEC 408.36: at or below the bus rating
    [("200 A", Verdict.WITHIN), ("150 A", Verdict.WITHIN), ("225 A", Verdict.OUTSIDE)],
)
def test_the_bus_is_protected_at_its_rating(main: str, verdict: Verdict):
    assert one("panel.rating", bus_a="200 A", main_a=main).verdict is verdict


def test_the_bus_rating_is_the_limit_before_the_main_is_read():
    found = one("panel.rating", bus_a="200 A")
    assert found.verdict is Verdict.NOT_MEASURED
    assert found.limits[0].value == 200.0


SERVICE = {"service.rating": {"service_a": "200 A", "main_a": "200 A"}}


@pytest.mark.parametrize(
    ("panel_main", "verdict"),
    # common practice, no source: the service equipment has one main, and one handle to read
    [
        ({}, Verdict.WITHIN),
        ({"main_a": "200 A"}, Verdict.WITHIN),
        ({"main_a": "100 A"}, Verdict.BORDERLINE),
    ],
)
def test_the_main_of_the_service_equipment_is_one(panel_main: dict[str, str], verdict: Verdict):
    made = with_entries(visit(), {**SERVICE, "panel.rating": {"bus_a": "200 A", **panel_main}})
    found, service = judge(made, "panel.rating"), judge(made, "service.rating")
    assert found.verdict is verdict
    is_sound = verdict is Verdict.WITHIN
    assert service.verdict is (Verdict.WITHIN if is_sound else Verdict.NOT_MEASURED)
    for told in (found, service):
        assert is_sound is not all(n in told.explanation for n in ("200 A at", "100 A at"))
    # NEC 408.36: a bus of 125 A is not protected by that main, wherever it was read
    small = with_entries(visit(), {**SERVICE, "panel.rating": {"bus_a": "125 A"}})
    assert judge(small, "panel.rating").verdict is Verdict.OUTSIDE


AT_PANEL = {"panel.rating": {"bus_a": "200 A", "main_a": "200 A"}}
BEHIND = {"panel.rating": {"bus_a": "200 A", "ahead": "feeder", "main_a": "100 A"}}
NEW_BUS = {"surroundings.repair": {"replaced": "bus"}}
TWO = (Panel(id=PANEL, name="Panel A"), Panel(id="p2", name="Panel B"))


@pytest.mark.parametrize(
    ("made", "at_service", "at_panel"),
    # common practice, no source: a fed panel has a device of its own ahead of it, as has each
    # of several panels at the service, and a new panel a new main
    [
        (visit(), True, True),
        (with_entries(visit(), SERVICE), True, False),
        (with_entries(visit(), AT_PANEL), False, True),
        (with_entries(visit(), {**SERVICE, **BEHIND}), True, True),
        (with_entries(feeder_fed(), {**SERVICE, **AT_PANEL}), True, True),
        (with_entries(visit(panels=TWO), {**SERVICE, **AT_PANEL}), True, True),
        (with_entries(visit(), {**SERVICE, **NEW_BUS}), True, True),
    ],
)
def test_a_main_is_asked_for_once(made: Visit, at_service: bool, at_panel: bool):
    for check, subject, is_asked in (
        ("service.rating", SITE, at_service),
        ("panel.rating", PANEL, at_panel),
    ):
        here = BY_ID[check].at(Situation(made, profile("nec_2023"), subject))
        assert (here.input("main_a") is not None) is is_asked


def test_the_service_is_held_against_the_main_that_its_panel_told():
    # NEC 230.90: a main above the rating protects nothing; common practice, no source: one main
    read = {**AT_PANEL, "service.rating": {"service_a": "150 A"}}
    assert judge(with_entries(visit(), read), "service.rating").verdict is Verdict.OUTSIDE
    fed = judge(with_entries(feeder_fed(), read), "service.rating")
    assert fed.verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize(
    ("answers", "verdict"),
    [
        # NEC 2023 110.9: 9.9 kA available, a 10 kA breaker complies
        ({"available": "9.9 kA", "rating": "10 kA", "basis": "utility"}, Verdict.WITHIN),
        ({"available": "12 kA", "rating": "10 kA", "basis": "utility"}, Verdict.OUTSIDE),
        ({"available": "8 kA", "rating": "10 kA", "basis": "estimated"}, Verdict.BORDERLINE),
        ({"available": "12 kA"}, Verdict.NOT_MEASURED),
    ],
)
def test_the_interrupting_rating(answers: dict[str, Any], verdict: Verdict):
    assert one("panel.interrupting", **answers).verdict is verdict


@pytest.mark.parametrize(
    ("answers", "verdict"),
    [
        # NEC 110.22, 240.86(B): breakers that were tested together, as marked, hold up
        # to the rating that is marked
        ({"combined": "22 kA", "is_named": True}, Verdict.WITHIN),
        ({"combined": "14 kA", "is_named": True}, Verdict.WITHIN),
        ({"combined": "10 kA", "is_named": True}, Verdict.OUTSIDE),
        ({"combined": "22 kA", "is_named": False}, Verdict.OUTSIDE),
        ({"combined": "22 kA"}, Verdict.NOT_MEASURED),
        ({"is_named": True}, Verdict.NOT_MEASURED),
        ({}, Verdict.NOT_MEASURED),  # as earlier records have it
        ({"combined": "22 kA", "is_named": True, "basis": "estimated"}, Verdict.BORDERLINE),
    ],
)
def test_a_series_rating_is_that_of_the_marked_pair(answers: dict[str, Any], verdict: Verdict):
    weak = {"available": "14 kA", "rating": "10 kA", "basis": "label", "is_series_rated": True}
    found = one("panel.interrupting", **{**weak, **answers})
    assert found.verdict is verdict
    assert [limit.value for limit in found.limits] == [14e3]
    assert ("Keep the new circuit off" in found.remedy) is (verdict is Verdict.OUTSIDE)


@pytest.mark.parametrize(
    ("bad", "severity"),
    [
        ("has_heat_marks", Severity.DANGER),
        ("is_wet", Severity.DANGER),
        ("is_corroded", Severity.WARNING),
        ("has_openings", Severity.WARNING),
    ],
)
def test_the_worst_sign_decides_the_condition(bad: str, severity: Severity):
    good = {"has_heat_marks": False, "is_wet": False, "is_corroded": False, "has_openings": False}
    assert one("panel.condition", **good).verdict is Verdict.WITHIN
    found = one("panel.condition", **{**good, bad: True})
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, severity)


def test_one_bad_sign_is_a_finding_though_the_others_are_still_open():
    found = one("panel.condition", has_heat_marks=True)
    assert found.verdict is Verdict.OUTSIDE


def test_double_taps_are_seen_by_who_opens():
    found = one(
        "panel.terminals", has_heat_marks=False, is_double_tapped=True, is_neutral_shared=False
    )
    assert found.severity is Severity.CAUTION
    inspects = visit(role=Role.INSPECTS)
    assert judge(inspects, "panel.terminals").verdict is Verdict.NOT_APPLICABLE


def test_the_breaker_is_on_the_panels_label():
    assert one("panel.breaker_listed", is_on_label=True).verdict is Verdict.WITHIN
    assert one("panel.breaker_listed", is_on_label=False).verdict is Verdict.OUTSIDE
    tandem = one("panel.breaker_listed", is_on_label=True, is_tandem_allowed=False)
    assert tandem.verdict is Verdict.OUTSIDE


def test_the_directory_names_every_charger():
    found = one("panel.directory", is_named=True, is_legible=True)
    assert found.verdict is Verdict.WITHIN
    assert one("panel.directory", is_named=False, is_legible=True).verdict is Verdict.OUTSIDE


SPACE = {
    "opposite": "1",
    "depth": "1.10 m",
    "width": "0.90 m",
    "height": "2.30 m",
    "is_clear": True,
}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        # NEC 2023 table 110.26(A)(1), 110.26(A)(2), (3): 0.9 m, 762 mm, 6 1/2 ft
        ({}, Verdict.WITHIN),
        ({"depth": "0.80 m"}, Verdict.OUTSIDE),
        ({"depth": "0.90 m"}, Verdict.BORDERLINE),  # the tape's own error reaches below
        ({"width": "24 in"}, Verdict.OUTSIDE),
        ({"height": "1.80 m"}, Verdict.OUTSIDE),
        ({"equipment_width": "1.20 m"}, Verdict.OUTSIDE),  # width follows the equipment
        ({"is_clear": False}, Verdict.OUTSIDE),
    ],
)
def test_the_working_space(change: dict[str, Any], verdict: Verdict):
    assert one("panel.working_space", **{**SPACE, **change}).verdict is verdict


@pytest.mark.parametrize(
    ("depth", "verdict"), [("0.95 m", Verdict.OUTSIDE), ("1.20 m", Verdict.BORDERLINE)]
)
def test_the_working_space_has_its_own_depth_in_canada(depth: str, verdict: Verdict):
    """CE Code 2021 2-308 1): 1 m; its width and height were not read, so that none is within."""
    made = with_entries(visit(), {"panel.working_space": {**SPACE, "depth": depth}})
    assert judge(made, "panel.working_space", code="cec_2021").verdict is verdict


def test_the_space_is_known_before_it_is_measured():
    found = judge(visit(), "panel.working_space")
    assert found.verdict is Verdict.NOT_MEASURED
    assert [limit.value for limit in found.limits] == pytest.approx([0.9, 0.762, 1.9812])


@pytest.mark.parametrize(
    ("spare", "verdict"), [(3, Verdict.WITHIN), (2, Verdict.OUTSIDE), (4, Verdict.WITHIN)]
)
def test_spare_spaces_against_the_poles_to_come(spare: int, verdict: Verdict):
    # one two-pole and one single-pole circuit to come: three spaces
    points = (point(), level_1(id="bay-2", name="Bay 2"))
    made = visit(kind=VisitKind.SITE_RECORD, points=points)
    assert one("panel.spaces", made, spare=spare).verdict is verdict


def test_a_breaker_that_is_there_needs_no_space_any_more():
    made = with_entries(visit(), {"breaker.rating": {"rated_a": "60 A", "poles": "2"}})
    assert one("panel.spaces", made, spare=0).verdict is Verdict.WITHIN
    called = visit(kind=VisitKind.SERVICE_CALL)
    assert judge(called, "panel.spaces").verdict is Verdict.NOT_APPLICABLE


def test_room_on_a_feeder_fed_panel_is_its_own_question():
    assert judge(visit(), "panel.load").verdict is Verdict.NOT_APPLICABLE
    entries = {
        "panel.rating": {"bus_a": "125 A", "main_a": "100 A"},
        "charger.configuration": {"configured_a": "32 A"},
        "panel.load": {
            "method": "year",
            "demand_a": "40 A",
            "is_included": False,
            "is_managed": False,
        },
    }
    made = with_entries(feeder_fed(), entries)
    # 1.25 × 40 + 32 = 82 A, or 90 A: both fit 100 A (NEC 2023 220.87)
    assert judge(made, "panel.load").verdict is Verdict.WITHIN


def test_heat_marks_behind_the_cover_are_danger():
    found = one(
        "panel.terminals", has_heat_marks=True, is_double_tapped=False, is_neutral_shared=False
    )
    assert found.severity is Severity.DANGER
    assert "dead" in found.remedy


def test_an_empty_panel_is_not_measured():
    for check in ("rating", "interrupting", "condition", "directory", "neutral_bond", "spaces"):
        assert judge(visit(), f"panel.{check}").verdict is Verdict.NOT_MEASURED, check


@pytest.mark.parametrize(
    ("system", "depth", "verdict"),
    [
        # NEC 2023 table 110.26(A)(1), condition 2: 900 mm up to 150 V to ground, 1.0 m (3 ft 6 in,
        # 1.07 m) above; the high leg of a delta has 208 V
        (SupplySystem.SPLIT_PHASE, "0.95 m", Verdict.WITHIN),
        (SupplySystem.WYE_208, "0.95 m", Verdict.WITHIN),
        (SupplySystem.HIGH_LEG_DELTA, "0.95 m", Verdict.OUTSIDE),
        (SupplySystem.HIGH_LEG_DELTA, "1.20 m", Verdict.WITHIN),
    ],
)
def test_working_space_grows_with_the_volts_to_ground(
    system: SupplySystem, depth: str, verdict: Verdict
):
    made = visit(system=system, points=(point(nominal_v=system.level_2_v),))
    found = one("panel.working_space", made, **{**SPACE, "opposite": "2", "depth": depth})
    assert found.verdict is verdict, found.explanation


def test_a_limit_is_shown_in_the_unit_that_was_typed():
    found = one("panel.working_space", **{**SPACE, "width": "24 in"})
    # 762 mm is 30 in: NEC 2023 110.26(A)(2)
    assert "at least 30.00 in" in [str(limit) for limit in found.limits]


BUS: dict[str, Any] = {
    "is_off": True,
    "are_sources_off": True,
    "is_line_guarded": True,
    "known_before": "120.4 V",
    "is_every_pair": True,
    "highest": "0.1 V",
    "known_after": "120.3 V",
}


@pytest.mark.parametrize(
    ("over", "verdict"),
    [
        # prove, test, prove with one meter, on a bus that is off from every side: common practice
        ({}, Verdict.WITHIN),
        ({"is_off": False}, Verdict.OUTSIDE),
        ({"are_sources_off": False}, Verdict.OUTSIDE),
        ({"is_line_guarded": False}, Verdict.OUTSIDE),  # the line side ahead of the main is live
        ({"highest": "119.8 V"}, Verdict.OUTSIDE),
        ({"known_after": "0.2 V"}, Verdict.OUTSIDE),
        ({"is_every_pair": False}, Verdict.OUTSIDE),
    ],
)
def test_the_bus_is_proved_dead_or_nothing_goes_in(over: dict[str, Any], verdict: Verdict):
    found = one("panel.absence_of_voltage", **{**BUS, **over})
    assert found.verdict is verdict, found.explanation
    assert (found.telling == "dead") is (verdict is Verdict.WITHIN)
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.DANGER


@pytest.mark.parametrize("name", list(BUS))
def test_a_bus_with_a_step_left_out_is_not_proved(name: str):
    found = one("panel.absence_of_voltage", **{k: v for k, v in BUS.items() if k != name})
    assert found.verdict is Verdict.NOT_MEASURED


def test_what_goes_into_the_panel_waits_for_its_bus():
    into = {c.id for c in CHECKS if BESIDE_BUS in c.cautions}
    at_the_panel = {
        c.id
        for c in CHECKS
        for i in c.inputs
        if isinstance(i, Choice) and any(INSIDE in o.needs for o in i.options)
        if c.id != REPAIR  # it tells of what was done there
    }
    assert into == {c.id for c in CHECKS if INSIDE in c.needs} | at_the_panel
    assert len(into) == 9
