"""Insulation and polarity of the run, from the panel and with the panel closed."""

from typing import Any

import pytest

from checks.record import ChargingPoint, Role, Visit, VisitKind
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import hard_wired, judge, level_1, visit, with_entries
from tests.unit.stations.run_entries import CIRCUIT, circuit


@pytest.mark.parametrize(
    ("kind", "right", "verdict"),
    [
        (None, None, Verdict.NOT_MEASURED),  # it may be a four-wire receptacle
        (None, True, Verdict.WITHIN),
        ("14-50", None, Verdict.NOT_MEASURED),
        ("L14-30", None, Verdict.NOT_MEASURED),
        ("14-50", True, Verdict.WITHIN),
        ("14-50", False, Verdict.OUTSIDE),
        ("6-50", None, Verdict.WITHIN),  # no neutral contact: ANSI/NEMA WD 6
    ],
)
def test_the_neutral_beside_two_lines(kind: str | None, right: bool | None, verdict: Verdict):
    made = circuit(
        outlet_configuration=None if kind is None else {"kind": kind},
        run_polarity={} if right is None else {"is_neutral_right": right},
    )
    assert judge(made, "run.polarity").verdict is verdict


@pytest.mark.parametrize("here", [hard_wired(), level_1()])
def test_no_neutral_beside_two_lines_without_a_receptacle_or_at_120_volts(here: ChargingPoint):
    made = circuit(visit(points=(here,)), outlet_configuration=None)
    assert judge(made, "run.polarity").verdict is Verdict.WITHIN


def test_an_insulation_reading_without_its_test_voltage_is_not_judged():
    # IEC 60364-6 table 6A: 1 MΩ goes with 500 V DC
    made = circuit(run_insulation=None)
    answers = {k: v for k, v in CIRCUIT["run.insulation"].items() if k != "test_v"}
    made = with_entries(made, {"run.insulation": answers})
    found = judge(made, "run.insulation")
    assert found.verdict is Verdict.NOT_MEASURED
    assert "test voltage" in found.explanation


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # IEC 60364-6 table 6A: 500 V DC, at least 1.0 MΩ
        ({"line_ground": "0.60 MΩ"}, Verdict.OUTSIDE),
        ({"between": "1.01 MΩ"}, Verdict.BORDERLINE),
        ({"second_ground": "2.5 MΩ"}, Verdict.WITHIN),
        ({"test_v": "250"}, Verdict.BORDERLINE),  # texts differ: it may not prove
        ({"is_disconnected": False}, Verdict.NOT_MEASURED),
    ],
)
def test_insulation_of_every_pair(changes: dict[str, Any], verdict: Verdict):
    assert judge(circuit(run_insulation=changes), "run.insulation").verdict is verdict


def test_a_crossed_ground_is_danger():
    made = circuit(run_polarity={"is_ground_right": False})
    assert judge(made, "run.polarity").severity is Severity.DANGER


def test_insulation_shows_the_lowest_of_its_readings_for_that_is_nearest_to_the_limit():
    changes = {"line_ground": "310 MΩ", "second_ground": "290 MΩ", "between": "420 MΩ"}
    found = judge(circuit(run_insulation=changes), "run.insulation")
    assert found.verdict is Verdict.WITHIN
    assert found.measured is not None
    assert float(found.measured.value) == 290
    assert found.margin is not None
    assert float(found.margin.value) == 289  # at least 1 MΩ


@pytest.mark.parametrize("check", ["run.protective_conductor", "run.insulation", "run.polarity"])
def test_who_inspects_takes_nothing_apart(check: str):
    assert judge(visit(role=Role.INSPECTS), check).verdict is Verdict.NOT_APPLICABLE


CLOSED_PANEL = {
    "run.insulation": {
        "place": "outlet",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "550 MΩ",
        "line2_ground": "550 MΩ",
        "between": "550 MΩ",
    },
    "run.polarity": {"place": "closed", "is_line_open": True, "is_ground_reaching": True},
}


def closed(check: str, made: Visit | None = None, **over: Any) -> Judgement:
    """What is judged of one test that is made with the panel closed."""
    base = circuit(made, **{check.replace(".", "_"): None})
    return judge(with_entries(base, {check: {**CLOSED_PANEL[check], **over}}), check)


def test_from_the_outlet_lines_are_tested_and_a_bonded_neutral_is_said_not_to_be():
    # common practice, no source: with the breaker open the lines are free, the neutral is bonded
    plain = {"outlet.ground_fault": {"device": "none"}}
    assert (
        closed("run.insulation", with_entries(visit(), plain)).verdict is Verdict.WITHIN
    )  # 6-50: no neutral
    assert closed("run.insulation", line2_ground="0.60 MΩ").verdict is Verdict.OUTSIDE
    one = closed("run.insulation", with_entries(visit(points=(level_1(),)), plain))
    assert (one.verdict, one.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
    assert "neutral to ground is not testable" in one.explanation


@pytest.mark.parametrize(
    ("lowest", "verdict"),
    [
        # UL 943: a Class A device must trip at 6 mA; 120 V / 6 mA = 20 kΩ
        ("15.0 kΩ", Verdict.OUTSIDE),
        ("19.9 kΩ", Verdict.BORDERLINE),
        ("900 kΩ", Verdict.BORDERLINE),  # no short, yet never proof of insulation
    ],
)
def test_through_an_electronic_breaker_ohms_find_a_short_and_prove_nothing(
    lowest: str, verdict: Verdict
):
    answers = {"place": "electronic", "is_disconnected": True, "lowest": lowest}
    made = with_entries(circuit(run_insulation=None), {"run.insulation": answers})
    assert judge(made, "run.insulation").verdict is verdict


@pytest.mark.parametrize(
    ("low", "verdict"), [({}, Verdict.NOT_MEASURED), ({"between": "20 kΩ"}, Verdict.OUTSIDE)]
)
def test_what_the_breaker_is_has_to_be_known_before_pairs_are_sound_but_low_is_low(
    low: dict[str, str], verdict: Verdict
):
    # common practice, no source: electronics between the conductors make any reading doubtful
    answers = {**CLOSED_PANEL["run.insulation"], **low}
    made = with_entries(circuit(run_insulation=None), {"run.insulation": answers})
    assert judge(made, "run.insulation").verdict is verdict


def test_a_ground_fault_breaker_is_not_tested_through():
    made = with_entries(visit(), {"outlet.ground_fault": {"device": "breaker"}})
    found = closed("run.insulation", made)
    assert found.verdict is Verdict.NOT_MEASURED
    assert "electronics" in found.explanation


def test_what_the_outlet_tells_of_polarity_with_the_panel_closed():
    assert closed("run.polarity").verdict is Verdict.WITHIN  # 6-50: two lines may swap
    assert closed("run.polarity", is_line_open=False).severity is Severity.DANGER
    one = visit(points=(level_1(),))
    assert closed("run.polarity", one).verdict is Verdict.NOT_MEASURED
    # neutral and ground are one upstream: which is which is not told
    assert closed("run.polarity", one, is_neutral_reaching=True).verdict is Verdict.BORDERLINE


# -- the run by itself -----------------------------------------------------------------------------
LOW: dict[str, Any] = {"line_ground": "0.08 MΩ"}


def alone(lowest: dict[str, Any], low: dict[str, Any] = LOW, **over: Any) -> Judgement:
    call = visit(kind=VisitKind.SERVICE_CALL, role=Role.SERVES, **over)
    made = circuit(call, run_insulation=low)
    return judge(with_entries(made, {"run.insulation_alone": lowest}), "run.insulation_alone")


@pytest.mark.parametrize(
    ("lowest", "verdict"),
    [
        # IEC 60364-6 table 6A: 500 V DC, at least 1.0 MΩ
        ({"is_off": True, "lowest": "0.09 MΩ"}, Verdict.OUTSIDE),
        ({"is_off": True, "lowest": "350 MΩ"}, Verdict.WITHIN),
        ({"is_off": False, "lowest": "350 MΩ"}, Verdict.NOT_MEASURED),
        ({"lowest": "350 MΩ"}, Verdict.NOT_MEASURED),
        ({"is_off": True}, Verdict.NOT_MEASURED),
    ],
)
def test_a_run_is_judged_by_itself_once_the_receptacle_is_off(
    lowest: dict[str, Any], verdict: Verdict
) -> None:
    assert alone(lowest).verdict is verdict


def test_through_electronics_ohms_say_whether_the_run_by_itself_draws_a_trip() -> None:
    """A Class A device must trip at 6 mA (UL 943): 120 V over 20 kΩ."""
    low = {"place": "electronic", "lowest": "9.0 kΩ"}
    assert alone({"is_off": True, "lowest_ohm": "9.0 kΩ"}, low).verdict is Verdict.OUTSIDE
    assert alone({"is_off": True, "lowest_ohm": "800 kΩ"}, low).verdict is Verdict.WITHIN


def test_only_what_was_low_through_a_receptacle_is_read_without_it() -> None:
    assert alone({}, {}).verdict is Verdict.NOT_APPLICABLE
    assert alone({}, points=(hard_wired(),)).verdict is Verdict.NOT_APPLICABLE
    assert "take the receptacle off" in judge(circuit(run_insulation=LOW), "run.insulation").remedy
