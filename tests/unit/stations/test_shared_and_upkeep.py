"""Shared sites, what the run passes through, and how soon it is looked at again."""

from typing import Any

import pytest

from checks.record import Occupancy, Role, Site
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import hard_wired, judge, visit, with_entries

Answers = dict[str, Any]
DECK = Site(name="Invented deck", occupancy=Occupancy.OTHER)


def found(
    check: str, answers: Answers, others: dict[str, Answers] | None = None, **over: Any
) -> Judgement:
    return judge(with_entries(visit(**over), {**(others or {}), check: answers}), check)


# U.S. Access Board, design recommendations of 2022: stall 11 ft by 20 ft, aisle 5 ft, what is
# operated at most 48 in high. A tape's own error keeps a value at the limit from being proved.
ROOMY: Answers = {
    "is_accessible": True,
    "reach": "46 in",
    "aisle": "5.5 ft",
    "width": "12.0 ft",
    "length": "21.0 ft",
    "is_route_clear": True,
}


@pytest.mark.parametrize(
    "tight", [{"reach": "50 in"}, {"aisle": "4.5 ft"}, {"width": "10.0 ft"}, {"length": "19.0 ft"}]
)
def test_a_measure_beyond_the_advice_is_a_recommendation_missed(tight: Answers):
    assert found("surroundings.access", ROOMY, site=DECK).verdict is Verdict.WITHIN
    judged = found("surroundings.access", {**ROOMY, **tight}, site=DECK)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.NOTICE)


def test_another_stall_may_be_the_accessible_one_and_a_dwelling_is_not_asked():
    answers = {"is_accessible": False}
    judged = found("surroundings.access", answers, site=DECK)
    assert judged.verdict is Verdict.WITHIN
    assert "Another stall" not in judged.explanation  # nobody said that there is one
    assert found("surroundings.access", answers).verdict is Verdict.NOT_APPLICABLE


def test_a_route_that_is_barred_is_found():
    judged = found("surroundings.access", {**ROOMY, "is_route_clear": False}, site=DECK)
    assert judged.severity is Severity.CAUTION


def test_a_charger_that_does_not_name_its_breaker_is_found():
    good = {"is_signed": True, "is_cable_kept": True, "is_sheltered": True, "is_linked": True}
    assert found("surroundings.public", good, site=DECK).verdict is Verdict.WITHIN
    judged = found("surroundings.public", {**good, "is_linked": False}, site=DECK)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)


# Intervals: 36 months, halved for each reason (own judgement, no source).
@pytest.mark.parametrize(
    ("over", "others", "months"),
    [
        ({"points": (hard_wired(),)}, {}, 36),
        ({}, {}, 18),  # by receptacle
        ({}, {"surroundings.place": {"wetness": "damp"}}, 9),
        # one fleet at a depot is no public bay
        ({"points": (hard_wired(),), "site": DECK}, {}, 36),
        ({"points": (hard_wired(),)}, {"connector.pins": {"is_pitted": True}}, 18),
    ],
)
def test_the_next_inspection_comes_sooner_for_each_reason(
    over: Answers, others: dict[str, Answers], months: int
):
    def agreed(count: int) -> Verdict:
        answers = {"use": "few", "months": f"{count} months", "is_plan_left": True}
        return found("handover.upkeep", answers, others, **over).verdict

    assert agreed(months) is Verdict.WITHIN
    assert agreed(months + 1) is Verdict.OUTSIDE


def test_the_next_inspection_comes_sooner_for_many_users():
    answers = {"use": "many", "months": "19 months", "is_plan_left": True}
    judged = found("handover.upkeep", answers, points=(hard_wired(),), site=DECK)
    assert (judged.verdict, judged.limits[0].value) == (Verdict.OUTSIDE, 18)


def test_a_plan_that_is_not_left_is_a_notice():
    answers = {"use": "few", "months": "12 months", "is_plan_left": False}
    assert found("handover.upkeep", answers).severity is Severity.NOTICE


QUIET: Answers = {"is_in_sun": False, "is_through_rated": False, "crosses_joint": False}


@pytest.mark.parametrize(
    ("answers", "severity"),
    [
        ({"is_in_sun": True, "is_sun_marked": False}, Severity.CAUTION),
        ({"is_through_rated": True, "is_sealed": False}, Severity.WARNING),  # NEC 300.21
        ({"crosses_joint": True, "has_expansion": False}, Severity.CAUTION),
    ],
)
def test_what_the_run_passes_through_unprotected_is_found(answers: Answers, severity: Severity):
    plastic = {"run.conductor": {"method": "PVC"}}
    assert found("run.passage", QUIET, plastic).verdict is Verdict.WITHIN
    judged = found("run.passage", {**QUIET, **answers}, plastic)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)


def test_sun_asks_no_marking_of_metal_and_forbids_nonmetallic_cable():
    sunny = {**QUIET, "is_in_sun": True}
    by = lambda method: found("run.passage", sunny, {"run.conductor": {"method": method}})  # noqa: E731
    assert by("EMT").verdict is Verdict.WITHIN
    assert by("PVC").verdict is Verdict.NOT_MEASURED
    assert by("NM").verdict is Verdict.OUTSIDE


# NEC 200.6(A), (B) and 250.119: marks at the ends will do from 4 AWG on.
@pytest.mark.parametrize(("size", "verdict"), [("6 AWG", "outside"), ("4 AWG", "within")])
def test_marks_at_the_ends_will_do_for_large_conductors(size: str, verdict: str):
    answers = {"neutral": "ends", "ground": "color"}
    judged = found("run.identification", answers, {"run.conductor": {"size": size}})
    assert judged.verdict == verdict


def test_a_wire_that_is_not_there_is_not_said_to_have_a_color():
    answers = {"neutral": "none", "ground": "none"}
    judged = found("run.identification", answers)
    assert judged.verdict is Verdict.WITHIN
    assert judged.explanation == "Neutral: no such wire here. Ground: no such wire here"


def test_colors_behind_a_cover_are_not_for_who_opens_nothing():
    judged = found("run.identification", {}, role=Role.INSPECTS)
    assert judged.verdict is Verdict.NOT_APPLICABLE
