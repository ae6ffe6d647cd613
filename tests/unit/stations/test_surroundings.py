"""The surroundings: place, guard against vehicles, way of the cable."""

from typing import Any

import pytest

from checks.assess import assess
from checks.check import CircuitState
from checks.codes import profile
from checks.stations.surroundings import HAZARDS, LOCATIONS
from checks.verdict import Severity, Verdict
from tests.builders import hard_wired, judge, level_1, point, visit, with_entries
from tests.sound_visits import HARD_WIRED, with_answers

Entries = dict[str, dict[str, Any]]


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


@pytest.mark.parametrize(
    ("location", "wetness", "hazard", "verdict"),
    [
        ("garage", "dry", "none", Verdict.WITHIN),
        ("outdoors", "wet", "none", Verdict.WITHIN),
        ("outdoors", "dry", "none", Verdict.BORDERLINE),  # common practice, no source
    ],
)
def test_place(location: str, wetness: str, hazard: str, verdict: Verdict):
    answers = {"location": location, "wetness": wetness, "hazard": hazard}
    assert found("surroundings.place", {"surroundings.place": answers}).verdict is verdict


# NEC 2023 articles 500, 511 and 514, from memory: in a classified space only equipment that is
# identified for it; how far the space reaches is said by who decides on it, never by the eye.
@pytest.mark.parametrize("hazard", ["fuel", "gas", "vapor"])
@pytest.mark.parametrize(
    ("space", "found_as", "is_open"),
    [
        ({}, (Verdict.OUTSIDE, Severity.WARNING), False),
        ({"space": "unknown"}, (Verdict.OUTSIDE, Severity.WARNING), False),
        ({"space": "inside"}, (Verdict.OUTSIDE, Severity.WARNING), False),
        ({"space": "outside"}, (Verdict.WITHIN, None), True),
    ],
)
def test_nothing_flammable_is_near_a_live_circuit_unless_it_is_known_to_lie_outside(
    hazard: str, space: dict[str, str], found_as: tuple[Verdict, Severity | None], is_open: bool
):
    answers = {"location": "garage", "wetness": "dry", "hazard": hazard, **space}
    sound = with_answers(HARD_WIRED, {"surroundings.place": answers})
    made = with_entries(visit(points=(hard_wired(),)), sound)
    judged = judge(made, "surroundings.place")
    assert (judged.verdict, judged.severity) == found_as
    assert HAZARDS[hazard] in judged.explanation
    gates = {g.state: g for g in assess(made, profile("nec_2023")).points[0].gates}
    for state in (CircuitState.ENERGISED, CircuitState.UNDER_LOAD):
        assert ("surroundings.place" not in gates[state].waiting) is is_open


def test_a_place_without_its_hazards_is_not_done():
    answers = {"location": "garage", "wetness": "dry"}
    judged = found("surroundings.place", {"surroundings.place": answers})
    assert judged.verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize("location", [option.value for option in LOCATIONS])
def test_every_place_is_known_to_the_ground_fault_rules(location: str):
    # NEC 2023 625.54 asks for it at every receptacle, wherever it is
    entries = {
        "breaker.rating": {"rated_a": "50 A", "poles": "2"},
        "surroundings.place": {"location": location, "wetness": "wet", "hazard": "none"},
        "outlet.ground_fault": {"device": "none"},
    }
    assert found("outlet.ground_fault", entries).verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("answers", "verdict"),
    [
        ({"is_exposed": False}, Verdict.WITHIN),
        ({"is_exposed": True}, Verdict.NOT_MEASURED),
        ({"is_exposed": True, "guard": "bollard"}, Verdict.WITHIN),
        ({"is_exposed": True, "guard": "none"}, Verdict.OUTSIDE),
    ],
)
def test_vehicle_impact(answers: dict[str, Any], verdict: Verdict):
    entries = {"surroundings.vehicle_impact": answers}
    assert found("surroundings.vehicle_impact", entries).verdict is verdict


def test_a_cord_set_stands_in_nobodys_way():
    judged = found("surroundings.vehicle_impact", {}, points=(level_1(),))
    assert judged.verdict is Verdict.NOT_APPLICABLE


def test_reach():
    good = {"is_reached": True, "is_crossing": False, "is_coiled": False}
    assert found("surroundings.reach", {"surroundings.reach": good}).verdict is Verdict.WITHIN
    across = {"surroundings.reach": {**good, "is_crossing": True}}
    judged = found("surroundings.reach", across)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)


def test_without_vehicle_reach_is_not_asked():
    answers = {"surroundings.reach": {"is_crossing": False, "is_coiled": False}}
    judged = found("surroundings.reach", answers, points=(point(inlet=None),))
    assert judged.verdict is Verdict.WITHIN
