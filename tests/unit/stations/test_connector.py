"""The connector: seating weighed from several observations, pins, temperature."""

from typing import Any

import pytest

from checks.record import Coupler
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
SEATED = {"is_held": True, "has_clicked": True, "is_rocking": False, "gap": "0.5 mm"}
CLEAN = {"has_burn_marks": False, "is_pitted": False, "has_debris": False, "is_cracked": False}


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


def seating(**answers: Any) -> Any:
    return found("connector.seating", {"connector.seating": answers})


def test_all_good_observations_together_are_within():
    assert seating(**SEATED).verdict is Verdict.WITHIN


@pytest.mark.parametrize("only", list(SEATED))
def test_no_single_observation_is_enough(only: str):
    judged = seating(**{only: SEATED[only]})
    assert judged.verdict is Verdict.NOT_MEASURED
    assert [x.value for x in judged.limits] == [0.0015]  # own judgement, in view


@pytest.mark.parametrize(
    "bad", [{"is_held": False}, {"has_clicked": False}, {"is_rocking": True}, {"gap": "4.0 mm"}]
)
def test_one_bad_observation_is_enough(bad: dict[str, Any]):
    judged = seating(**bad)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "under load" in judged.remedy
    assert seating(**{**SEATED, **bad}).verdict is Verdict.OUTSIDE


def test_a_gap_at_the_limit_is_borderline():
    assert seating(**{**SEATED, "gap": "1.5 mm"}).verdict is Verdict.BORDERLINE


@pytest.mark.parametrize(
    ("latched", "pressed", "verdict"),
    [
        # 150 Ω and 480 Ω: SAE J1772; ±10 % from memory, so it may only speak against
        ("151 Ω", "478 Ω", Verdict.WITHIN),
        ("478 Ω", "479 Ω", Verdict.OUTSIDE),  # the latch switch stays open
        ("150 Ω", "151 Ω", Verdict.OUTSIDE),  # the button opens nothing
        ("210 Ω", "480 Ω", Verdict.OUTSIDE),  # a corroded contact
    ],
)
def test_proximity_may_only_speak_against(latched: str, pressed: str, verdict: Verdict):
    assert seating(**SEATED, latched_ohm=latched, pressed_ohm=pressed).verdict is verdict


def test_good_proximity_alone_is_not_seating():
    assert seating(latched_ohm="150 Ω", pressed_ohm="480 Ω").verdict is Verdict.NOT_MEASURED


def test_proximity_of_another_coupler_is_information():
    entries = {"connector.seating": {**SEATED, "latched_ohm": "900 Ω"}}
    other = point(connector=Coupler.J3400, inlet=Coupler.J3400)
    assert found("connector.seating", entries, points=(other,)).verdict is Verdict.WITHIN


def test_without_vehicle_there_is_nothing_to_seat_it_in():
    judged = found("connector.seating", {}, points=(point(inlet=None),))
    assert judged.verdict is Verdict.NOT_APPLICABLE
    assert "vehicle" in judged.explanation


@pytest.mark.parametrize(
    ("sign", "severity"),
    [
        ("has_burn_marks", Severity.DANGER),
        ("is_pitted", Severity.WARNING),
        ("has_debris", Severity.CAUTION),
    ],
)
def test_bad_pins_are_found(sign: str, severity: Severity):
    assert found("connector.pins", {"connector.pins": CLEAN}).verdict is Verdict.WITHIN
    judged = found("connector.pins", {"connector.pins": {**CLEAN, sign: True}})
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)


SOUND: Entries = {"connector.seating": SEATED, "connector.pins": CLEAN}


def warm(sound: Entries, **answers: str) -> Any:
    measured = {
        "sign": "none",
        "method": "contact",
        "surface": "32.0 °C",
        "ambient": "22.0 °C",
        "current": "32.0 A",
        **answers,
    }
    load = {"charger.configuration": {"configured_a": "32 A"}}
    return found("connector.temperature", {**load, **sound, "connector.temperature": measured})


def test_a_cool_handle_proves_nothing_alone():
    judged = warm({})
    assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)


def test_a_cool_handle_on_a_seated_clean_connector_is_within():
    judged = warm(SOUND)
    assert (judged.verdict, judged.telling) == (Verdict.WITHIN, "32 °C")


def test_a_cool_handle_on_a_loose_connector_is_not():
    loose = {**SOUND, "connector.seating": {**SEATED, "is_rocking": True}}
    assert warm(loose).verdict is Verdict.BORDERLINE


@pytest.mark.parametrize(
    ("surface", "severity"),
    [
        ("45.0 °C", Severity.CAUTION),  # 23 K: over 20 K, own judgement
        ("66.0 °C", Severity.DANGER),  # 44 K: over 40 K, NETA ATS 2003 table 100.18
    ],
)
def test_a_hot_handle_is_outside(surface: str, severity: Severity):
    judged = warm(SOUND, surface=surface)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)
    assert "pull" in judged.remedy or "charger lower" in judged.remedy


@pytest.mark.parametrize(
    ("check", "says"), [("outlet.temperature", True), ("connector.temperature", False)]
)
def test_the_standard_of_receptacles_is_not_held_against_a_coupler(check: str, says: bool):
    # UL 498 is for attachment plugs and receptacles, UL 2251 for EV couplers (their titles)
    answers = {"sign": "none", "method": "contact", "ambient": "22.0 °C", "current": "32.0 A"}
    load = {"charger.configuration": {"configured_a": "32 A"}}
    judged = found(check, {**load, check: {**answers, "surface": "56.0 °C"}})
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert ("UL 498" in judged.explanation) is says


def test_on_a_hot_day_the_touch_limit_speaks():
    # 60 °C where it is grasped: IEC 61851-1, from memory; 10 K at 24 A is 16 K to 18 K at 32 A
    judged = warm(SOUND, surface="58.0 °C", ambient="48.0 °C", current="24.0 A")
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "hand" in judged.explanation


def test_smell_is_danger_whatever_the_number():
    assert warm(SOUND, sign="smell").severity is Severity.DANGER


def test_little_current_proves_nothing():
    # under 40 % of the circuit's current: NFPA 70B 2023 7.4.5
    assert warm(SOUND, current="10.0 A", surface="22.5 °C").verdict is Verdict.NOT_MEASURED
