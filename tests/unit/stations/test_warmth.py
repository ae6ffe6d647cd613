"""A surface watched under load: what a series says, what ends the test, what is never said."""

from collections.abc import Callable
from math import exp
from typing import Any

import pytest

from checks.verdict import Judgement, Severity, Verdict
from tests.builders import judge, visit, with_entries

Shape = Callable[[float], float]
CHECK = "outlet.temperature"
AIR_C = 22.0
UNDAMAGED = {"has_heat_marks": False, "is_cracked": False, "is_wet": False}
SOUND: dict[str, dict[str, Any]] = {
    "breaker.rating": {"rated_a": "50 A", "poles": "2"},
    "charger.configuration": {"configured_a": "40 A"},
    "run.conductor": {"terminals": "75"},
    "outlet.configuration": {"kind": "14-50"},
    "outlet.damage": UNDAMAGED,
    "outlet.retention": {"feel": "firm"},
    "outlet.terminal_torque": {
        "occasion": "tightening",
        "label": "8.0 N·m",
        "applied": "8.0 N·m",
        "are_all_done": True,
    },
}


def contact(end_k: float, tau_min: float = 9.0) -> Shape:
    """A first-order step response (textbook)."""
    return lambda t: end_k * (1 - exp(-t / tau_min))


def read(shape: Shape, until_min: int) -> list[str]:
    """Readings every two minutes."""
    return [f"{AIR_C + shape(t):.1f} °C" for t in range(0, until_min + 1, 2)]


def heated(surface: list[str], *, over: Any = None, **answers: Any) -> Judgement:
    said = {
        "method": "contact",
        "ambient": [f"{AIR_C} °C"],
        "current": ["40.0 A"],
        "surface": surface,
        "sign": "none",
        **answers,
    }
    entries = {**SOUND, **(over or {}), CHECK: {k: v for k, v in said.items() if v is not None}}
    return judge(with_entries(visit(), entries), CHECK)


# -- where it ends ---------------------------------------------------------------------------------
def test_a_rise_that_ends_well_below_its_limits_is_within():
    judged = heated(read(contact(9), 40))

    assert judged.verdict is Verdict.WITHIN
    assert judged.heating is not None
    low, high = (float(x) for x in (judged.heating.ends[0].low, judged.heating.ends[0].high))
    assert low < AIR_C + 9 < high < AIR_C + 20


def test_a_rise_that_ends_above_the_limit_is_outside_before_it_is_there():
    # 34 K in the end; after 16 min 28 K. Over 20 K: NETA ATS 2003 table 100.18
    judged = heated(read(contact(34), 16))

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)


def test_a_limit_inside_the_interval_is_borderline_and_says_what_settles_it():
    judged = heated(read(contact(19), 24))

    assert judged.verdict is Verdict.BORDERLINE
    assert "longer" in judged.settles


@pytest.mark.parametrize("until_min", [2, 6, 10])
def test_while_the_readings_cannot_say_it_says_how_long_to_go_on(until_min: int):
    judged = heated(read(contact(9, 18), until_min))

    assert (judged.verdict, judged.severity) == (Verdict.NOT_MEASURED, None)
    assert "keep measuring about" in judged.explanation
    assert judged.heating is not None
    assert not judged.heating.is_settled
    assert all(not end.high for end in judged.heating.ends)  # open upward


def test_at_less_than_full_current_the_end_is_scaled_by_1_6_and_2():
    # rise scales with current to the power 1.6 to 2.0: thermography practice after IEEE
    judged = heated(read(contact(10), 40), current=["20.0 A"])

    assert judged.heating is not None
    test, full = judged.heating.ends
    assert (test.label, full.label) == ("20 A", "40 A")
    for bound, power in ((full.low, 1.6), (full.high, 2.0)):
        at_test = test.low if power < 2 else test.high
        assert float(bound) - AIR_C == pytest.approx(2**power * (float(at_test) - AIR_C), abs=0.1)
    assert judged.verdict is Verdict.OUTSIDE  # 10 K is 30 K or more


def test_what_the_exponent_leaves_open_is_settled_at_full_current_not_by_more_time():
    # 9 K at 28 A are 16 K to 18 K at 40 A, and the end is known to a kelvin or two
    judged = heated(read(contact(9.6), 40), current=["28.0 A"])

    assert judged.verdict is Verdict.BORDERLINE
    assert judged.settles.startswith("Repeat at full current")


# -- readings that say nothing, or cannot be -------------------------------------------------------
@pytest.mark.parametrize("until_min", [4, 10, 40])
@pytest.mark.parametrize("amps", ["4.0 A", "15.9 A"])
def test_under_40_percent_of_full_current_no_end_at_full_current_is_told(until_min: int, amps: str):
    # NFPA 70B 2023 7.4.5 (facts, looked up): load at least 40 % of normal. 4 K of standby heat at
    # 4 A, scaled by the square, would be 400 K at 40 A
    judged = heated(read(contact(4), until_min), current=[amps])

    assert (judged.verdict, judged.severity) == (Verdict.NOT_MEASURED, None)
    assert "too little current to tell" in judged.explanation
    assert judged.heating is not None
    assert [end.label for end in judged.heating.ends if end.label.startswith("40")] == []


def test_from_40_percent_of_full_current_on_the_end_is_told():
    judged = heated(read(contact(2), 40), current=["16.0 A"])

    assert judged.heating is not None
    assert [end.label for end in judged.heating.ends] == ["16 A", "40 A"]
    assert "too little" not in judged.explanation


@pytest.mark.parametrize(
    ("end_k", "severity"),
    # NETA ATS 2003 table 100.18: over 20 K, over 40 K; the test ends there
    [(25, Severity.WARNING), (36, Severity.WARNING), (60, Severity.DANGER)],
)
def test_what_is_too_hot_as_read_stays_found_at_little_current(end_k: float, severity: Severity):
    judged = heated(read(contact(end_k), 40), current=["6.0 A"])
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)


# Joule: a contact warms at least as its current does, and what stands without load is no part of
# that; so the end lies between nothing and the whole rise scaled.
@pytest.mark.parametrize(("end_k", "amps"), [(18, 15.9), (14, 8.0)])
def test_a_part_that_is_warm_already_is_not_loaded_more_to_see(end_k: float, amps: float):
    judged = heated(read(contact(end_k), 40), current=[f"{amps} A"])

    assert judged.verdict is Verdict.OUTSIDE
    assert "Repeat" not in judged.remedy + judged.settles
    assert judged.measured is not None
    assert 20 < float(judged.measured.value) < end_k * 40 / amps


@pytest.mark.parametrize("until_min", [0, 10, 40])
@pytest.mark.parametrize("is_like_part", [False, True])
def test_a_part_that_reads_colder_than_its_air_is_doubted(until_min: int, is_like_part: bool):
    # what carries current cannot be colder than the air around it (second law)
    cold, sound = read(lambda t: -27.0, until_min), read(contact(6), until_min)
    judged = heated(sound, like_part=cold) if is_like_part else heated(cold)

    assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
    assert "27 K under the air" in judged.explanation
    assert "unit" in judged.settles


def test_a_part_as_cool_as_its_air_within_the_readings_errors_is_no_contradiction():
    assert heated(read(lambda t: -0.5, 40)).verdict is Verdict.WITHIN


@pytest.mark.parametrize(("end_k", "verdict"), [(23, Verdict.OUTSIDE), (8, Verdict.BORDERLINE)])
def test_more_current_than_the_charger_draws_makes_no_rise_smaller(end_k: float, verdict: Verdict):
    # 23 K at 60 A is over 20 K (NETA ATS 2003 table 100.18); at 40 A it would be 10 K to 12 K
    judged = heated(read(contact(end_k, 5), 40), current=["60.0 A"])

    assert judged.verdict is verdict
    assert judged.heating is not None
    assert [end.label for end in judged.heating.ends] == ["60 A"]
    assert ("60 A flowed" in judged.explanation) is (verdict is Verdict.BORDERLINE)


def test_a_little_more_than_full_current_is_an_error_of_the_meter():
    assert heated(read(contact(8), 40), current=["41.0 A"]).verdict is Verdict.WITHIN


def test_terminals_bear_no_more_than_their_marking():
    # 60 °C terminals, NEC 2023 110.14(C); 15 K over air of 44 °C stays below the stop at 60 °C
    warm = [f"{44 + contact(15)(t):.1f} °C" for t in range(0, 41, 2)]
    hot_day = {"ambient": ["44.0 °C"]}
    marked_60 = {"run.conductor": {"terminals": "60"}}

    assert heated(warm, **hot_day).verdict is Verdict.WITHIN
    judged = heated(warm, over=marked_60, **hot_day)
    assert judged.verdict is Verdict.BORDERLINE
    assert "59 °C" in judged.explanation or "60 °C" in judged.explanation


def test_cooling_is_called_so_and_proves_nothing():
    judged = heated(read(lambda t: 15 * exp(-t / 12), 16))

    assert judged.verdict is Verdict.NOT_MEASURED
    assert "cools" in judged.explanation


def test_what_was_too_warm_stays_found_when_the_current_is_turned_down():
    judged = heated(read(lambda t: 30 * exp(-t / 30), 16))

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)


def test_a_reading_that_stands_out_and_a_late_start_are_named():
    texts = read(lambda t: contact(12)(t + 6), 30)
    texts[5] = "49.0 °C"
    judged = heated(texts)

    assert judged.heating is not None
    assert "reading 6 stands out" in judged.heating.says
    assert "begun late" in judged.heating.says
    assert [p.is_left_out for p in judged.heating.readings].index(True) == 5


def test_a_last_reading_that_stands_out_is_read_again():
    texts = read(contact(12), 30)
    judged = heated([*texts[:-1], "40.5 °C"])

    assert judged.verdict is Verdict.NOT_MEASURED
    assert "the last reading stands out: read it again" in judged.explanation


def test_degrees_fahrenheit_are_drawn_as_they_were_read():
    texts = [f"{32 + 1.8 * (AIR_C + contact(9)(t)):.1f} °F" for t in range(0, 41, 2)]
    judged = heated(texts)

    assert judged.verdict is Verdict.WITHIN
    assert judged.heating is not None
    assert judged.heating.unit == "°F"
    assert float(judged.heating.lines[0].value) == pytest.approx(71.6)  # 22 °C


# -- what ends the test ----------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("shape", "words"),
    [
        (contact(70, 12), "stop"),  # past 60 °C and 40 K
        (lambda t: contact(10)(t) + exp(max(t - 12, 0) / 4) - 1, "faster"),
    ],
)
def test_stop_temperature_and_a_faster_rise_are_danger_at_once(shape: Shape, words: str):
    judged = heated(read(shape, 22), sign=None)

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "safe point" in judged.remedy
    assert "keep measuring" not in judged.explanation
    assert words in judged.explanation or "ends at" in judged.explanation


@pytest.mark.parametrize("until_min", range(2, 20, 2))
@pytest.mark.parametrize("end_k", [45, 60])
def test_no_danger_ever_says_to_go_on(until_min: int, end_k: int):
    judged = heated(read(contact(end_k, 20), until_min), current=["30.0 A"])

    assert judged.heating is not None
    if judged.severity is Severity.DANGER:
        assert "keep measuring" not in judged.explanation + judged.heating.says
        assert judged.heating.is_settled
    else:
        assert until_min < 12


@pytest.mark.parametrize("sign", ["smell", "discoloration", "smoke", "accelerating"])
@pytest.mark.parametrize("surface", [None, read(contact(9), 6), read(contact(9), 40)])
def test_a_stop_sign_is_danger_whatever_the_numbers(sign: str, surface: list[str] | None):
    judged = heated(surface or [], sign=sign)

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "keep measuring" not in judged.explanation


@pytest.mark.parametrize("until_min", [0, 4, 10, 40])
def test_a_part_seen_damaged_is_never_measured_on(until_min: int):
    burnt = {"outlet.damage": {**UNDAMAGED, "has_heat_marks": True}}
    judged = heated(read(contact(9), until_min), over=burnt)

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "Heat marks" in judged.explanation
    assert judged.heating is not None
    assert "keep measuring" not in judged.explanation + judged.heating.says
    assert judged.heating.is_settled


# -- what a cool surface does not show -------------------------------------------------------------
def test_a_cool_part_beside_a_cooler_one_is_found():
    # over 3 K between like parts under the same load: NETA ATS 2003 table 100.18
    part = read(contact(14), 40)
    like = [f"{AIR_C + contact(6)(t):.1f} °C" for t in range(0, 41, 2)]
    judged = heated(part, like_part=like)

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)
    assert "like part" in judged.explanation


def test_like_parts_that_end_alike_are_within():
    judged = heated(read(contact(9), 40), like_part=read(contact(8.8), 40))
    assert judged.verdict is Verdict.WITHIN


def test_a_hotter_like_part_is_found_while_the_end_is_still_open():
    judged = heated(read(contact(18), 10), like_part=read(contact(4), 10))
    assert judged.verdict is Verdict.OUTSIDE


def test_a_like_part_that_is_the_hotter_one_is_found_as_well():
    # either contact may be the bad one: 8 K in the end, over 3 K by NETA ATS 2003 table 100.18
    judged = heated(read(contact(6), 40), like_part=read(contact(14), 40))

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)
    assert "like part is" in judged.explanation
    assert "hotter than the outlet" in judged.explanation


@pytest.mark.parametrize("end_k", [70, 95])
@pytest.mark.parametrize("until_min", [10, 30])
def test_a_like_part_too_hot_ends_the_test_too(end_k: float, until_min: int):
    judged = heated(read(contact(6), until_min), like_part=read(contact(end_k, 5), until_min))

    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "The like part is" in judged.explanation
    assert judged.heating is not None
    assert judged.heating.is_settled
    assert judged.heating.ends == ()
    assert "keep measuring" not in judged.explanation + judged.heating.says


def test_without_the_last_question_nothing_is_within():
    assert heated(read(contact(9), 40), sign=None).verdict is Verdict.NOT_MEASURED


def test_where_it_ends_is_said_once():
    loose = {"outlet.retention": {"feel": "loose"}}
    judged = heated(read(contact(19), 24), over=loose)

    assert judged.verdict is Verdict.BORDERLINE
    assert judged.explanation.count("over the air") == 1


def test_contacts_that_nobody_looked_at_keep_a_cool_surface_from_being_believed():
    loose = {"outlet.retention": {"feel": "loose"}}
    judged = heated(read(contact(9), 40), over=loose)

    assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
    assert judged.explanation.startswith("The outlet ends")
    assert "does not show" in judged.explanation
