"""The run: conductors, length, grounding, sharing, dead tests, protection."""

import re
from typing import Any

import pytest

from checks.codes import PROFILES
from checks.record import ChargingPoint, Role, Visit
from checks.stations.all import BY_ID, CHECKS
from checks.stations.run.wiring import INSULATION_OPTIONS
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import POINT, entry, hard_wired, judge, level_1, visit, with_entries

# A 48 A charger on a 60 A breaker, 6 AWG copper THWN-2 in EMT, terminals 75 °C: the line
# 48 A, 60 A, 6 AWG (65) of the standard circuits; NEC 2023 table 310.16, 210.19(A), 240.4.
CIRCUIT: dict[str, dict[str, Any]] = {
    "charger.configuration": {"configured_a": "48 A"},
    "breaker.rating": {"rated_a": "60 A", "poles": "2"},
    "run.conductor": {
        "size": "6 AWG",
        "material": "copper",
        "insulation": "THWN-2",
        "method": "EMT",
        "is_wet": False,
        "terminals": "75",
        "ambient": "30 °C",
        "carrying": 2,
    },
    "run.length": {"basis": "measured", "length": "30.00 m"},
    "run.grounding_conductor": {"kind": "wire", "size": "10 AWG", "material": "copper"},
    "run.dedicated": {"is_alone": True},
    "run.protective_conductor": {
        "place": "panel",
        "are_leads_nulled": True,
        "reading": "value",
        "ohm": "0.11 Ω",
    },
    "run.insulation": {
        "place": "panel",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "550 MΩ",
        "second_ground": "550 MΩ",
        "between": "550 MΩ",
    },
    "run.polarity": {
        "place": "panel",
        "is_line_right": True,
        "is_second_right": True,
        "is_ground_right": True,
    },
    "outlet.configuration": {"kind": "6-50", "count": "single"},
    "run.protection": {
        "is_protected": True,
        "is_supported": True,
        "has_bushings": True,
        "is_buried": False,
    },
    "run.damage": {"is_damaged": False},
}


def circuit(made: Visit | None = None, **changes: dict[str, Any] | None) -> Visit:
    """The sound circuit with some answers changed, or a whole entry left out (``None``)."""
    entries = {}
    for check, answers in CIRCUIT.items():
        change = changes.get(check.replace(".", "_"), {})
        if change is not None:
            entries[check] = {**answers, **change}
    return with_entries(made or visit(), entries)


def conductor(**changes: Any) -> Visit:
    return circuit(run_conductor=changes)


@pytest.mark.parametrize("check", [c for c in CIRCUIT if c.startswith("run.")])
def test_a_sound_circuit_is_within(check: str):
    found = judge(circuit(), check)
    assert found.verdict is Verdict.WITHIN, found


def test_the_limits_are_in_view_before_the_jacket_is_read():
    found = judge(circuit(run_conductor=None), "run.conductor")
    assert found.verdict is Verdict.NOT_MEASURED
    assert [limit.value for limit in found.limits] == [48.0, 60.0]


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # NEC 2023 334.80: NM at the 60 °C column, 6 AWG 55 A < 60 A = 1.25 × 48 A
        ({"insulation": "NM", "method": "NM"}, Verdict.OUTSIDE),
        ({"insulation": "NM", "method": "NM", "size": "4 AWG"}, Verdict.WITHIN),  # 70 A
        # NEC 2023 110.14(C)(1)(a): unmarked terminals, 60 °C column, 55 A
        ({"terminals": "unmarked"}, Verdict.OUTSIDE),
        ({"size": "8 AWG"}, Verdict.OUTSIDE),  # 50 A at 75 °C
        # 75 × 0.87 × 0.80 = 52.2 A (43 °C, six conductors): carries 48 A, and the next standard
        # size up from 52.2 is 60: NEC 2023 240.4(B)
        ({"ambient": "43 °C", "carrying": 6}, Verdict.WITHIN),
        # 75 × 0.82 × 0.80 = 49.2 A at 50 °C: the next standard size up is 50, not 60
        ({"ambient": "50 °C", "carrying": 6}, Verdict.OUTSIDE),
        # 4 AWG aluminum at 75 °C: 65 A
        ({"size": "4 AWG", "material": "aluminum", "is_marked_al": True}, Verdict.WITHIN),
        ({"size": "4 AWG", "material": "aluminum", "is_marked_al": False}, Verdict.OUTSIDE),
        ({"size": "4 AWG", "material": "aluminum"}, Verdict.NOT_MEASURED),
        # NEC 2023 table 310.4(A): THHN alone has no wet rating
        ({"insulation": "THHN", "is_wet": True}, Verdict.OUTSIDE),
        ({"is_wet": True}, Verdict.WITHIN),
        # table 310.16 has no 14 AWG aluminum; the ambient table ends
        ({"size": "14 AWG", "material": "aluminum", "is_marked_al": True}, Verdict.BORDERLINE),
        ({"ambient": "99 °C"}, Verdict.BORDERLINE),
    ],
)
def test_the_conductor_against_load_and_breaker(changes: dict[str, Any], verdict: Verdict):
    found = judge(conductor(**changes), "run.conductor")
    assert found.verdict is verdict, found.explanation


def test_12_awg_is_capped_at_20_a_whatever_its_ampacity():
    # 20 A charger on a 25 A breaker, 12 AWG copper 75 °C: 25 A, capped at 20 A, NEC 2023 240.4(D)
    made = circuit(
        charger_configuration={"configured_a": "20 A"},
        breaker_rating={"rated_a": "25 A"},
        run_conductor={"size": "12 AWG"},
    )
    found = judge(made, "run.conductor")
    assert found.verdict is Verdict.OUTSIDE
    assert "20 A at most" in found.explanation


def test_the_next_size_up_is_not_for_a_shared_circuit():
    # NEC 2023 240.4(B): 75 × 0.87 × 0.80 = 52.2 A is 60 A for an individual circuit, 50 A shared
    hot = {"ambient": "43 °C", "carrying": 6}
    shared = {"is_alone": False, "other_a": "1 A"}
    found = judge(circuit(run_conductor=hot, run_dedicated=shared), "run.conductor")
    assert found.verdict is Verdict.OUTSIDE
    assert "50 A at most" in found.explanation


def test_the_finding_names_the_size_that_would_do():
    found = judge(conductor(insulation="NM", method="NM"), "run.conductor")
    assert "4 AWG copper" in found.remedy  # 70 A at 60 °C, table 310.16


@pytest.mark.parametrize(
    ("letters", "is_wet", "verdict"),
    [
        # CE Code 2021 table 19: RW90 wet or dry, NMD90 dry; 6 AWG copper at 75 °C 65 A (table 2)
        ("RW90", True, Verdict.BORDERLINE),  # unmarked values of this code are from memory
        ("NMD90", True, Verdict.OUTSIDE),
    ],
)
def test_the_letters_of_the_other_code_are_known(letters: str, is_wet: bool, verdict: Verdict):
    made = conductor(insulation=letters, is_wet=is_wet)
    assert judge(made, "run.conductor", code="cec_2021").verdict is verdict


def test_every_insulation_of_every_code_may_be_picked():
    offered = {option.value for option in INSULATION_OPTIONS}
    for code in PROFILES.values():
        assert set(code.conductors.insulation_c) <= offered


@pytest.mark.parametrize(
    ("length", "basis", "verdict", "volts"),
    [
        # 2 × 48 A × 0.491 Ω/kFT × 150 ft = 7.07 V, 2.95 %: NEC 2023 chapter 9 table 8
        ("150.0 ft", "measured", Verdict.BORDERLINE, "7.07 V"),  # a tape is ±2 % here
        ("100.0 ft", "measured", Verdict.WITHIN, "4.71 V"),
        ("100.0 ft", "estimated", Verdict.WITHIN, "4.71 V"),
        ("143 ft", "measured", Verdict.WITHIN, "6.74 V"),
        # the marks on a jacket 2 %, a plan 10 %, an estimate 20 % (own judgement)
        ("140 ft", "jacket marks", Verdict.WITHIN, "6.60 V"),
        ("140 ft", "plan", Verdict.BORDERLINE, "6.60 V"),
        ("125 ft", "plan", Verdict.WITHIN, "5.89 V"),
        ("125 ft", "estimated", Verdict.BORDERLINE, "5.89 V"),
        ("180.0 ft", "measured", Verdict.OUTSIDE, "8.48 V"),
    ],
)
def test_the_drop_that_the_copper_explains(length: str, basis: str, verdict: Verdict, volts: str):
    name = "length" if basis == "measured" else "stated"
    made = with_entries(circuit(run_length=None), {"run.length": {"basis": basis, name: length}})
    found = judge(made, "run.length")
    assert found.verdict is verdict, found.explanation
    assert volts in found.explanation
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.NOTICE  # an informational note, never a violation


def test_a_tape_is_asked_for_only_where_the_length_is_measured():
    check, asked = BY_ID["run.length"], {}
    for basis in (None, "measured", "jacket marks", "plan", "estimated"):
        begun = None if basis is None else entry("run.length", POINT, 1, basis=basis)
        asked[basis] = [i.name for i in check.asked(begun)]
    assert asked.pop(None) == ["basis"]
    assert asked.pop("measured") == ["basis", "length"]
    assert set(map(tuple, asked.values())) == {("basis", "stated")}


def test_the_longest_run_is_in_view_before_the_length_is_typed():
    found = judge(circuit(run_length=None), "run.length")
    # 7.2 V / (2 × 48 A × 0.491 Ω/kFT) = 152.7 ft = 46.6 m
    assert "Up to 47 m" in found.explanation
    assert found.limits[0].value == 3.0


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # NEC 2023 table 250.122: 60 A, 10 AWG copper or 8 AWG aluminum
        ({}, Verdict.WITHIN),
        ({"size": "12 AWG"}, Verdict.OUTSIDE),
        ({"size": "10 AWG", "material": "aluminum"}, Verdict.OUTSIDE),
        ({"size": "8 AWG", "material": "aluminum"}, Verdict.WITHIN),
    ],
)
def test_the_grounding_conductor_by_the_breaker(changes: dict[str, Any], verdict: Verdict):
    made = circuit(run_grounding_conductor=changes)
    assert judge(made, "run.grounding_conductor").verdict is verdict


@pytest.mark.parametrize("check", ["run.grounding_conductor", "run.protective_conductor"])
def test_without_the_conductors_the_size_of_the_ground_is_not_known(check: str):
    # NEC 2023 250.122(B): it grows with conductors that were enlarged
    raceway = {"kind": "raceway"} if check == "run.protective_conductor" else {}
    made = circuit(run_conductor=None, run_grounding_conductor=raceway)
    found = judge(made, check)
    assert found.verdict is Verdict.NOT_MEASURED
    assert "Record the conductors first" in found.explanation
    # 50 A and 60 A: 10 AWG copper by table 250.122
    assert "10 AWG copper" in found.explanation


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


def test_the_grounding_conductor_grows_with_conductors_enlarged_for_drop():
    # 60 A, 6 → 3 AWG: 52 620/26 240 × 10 380 = 20 815 circular mils, 6 AWG: NEC 2023 250.122(B)
    made = circuit(run_conductor={"size": "3 AWG"})
    assert judge(made, "run.grounding_conductor").verdict is Verdict.OUTSIDE
    made = circuit(run_conductor={"size": "3 AWG"}, run_grounding_conductor={"size": "6 AWG"})
    assert judge(made, "run.grounding_conductor").verdict is Verdict.WITHIN


def test_a_ground_that_only_rounding_makes_too_small_is_left_to_the_authority():
    # 60 A, 6 → 4 AWG: 41 740/26 240 × 10 380 = 16 511.5, 8 AWG is printed with 16 510 (NEC 2023
    # chapter 9 table 8); by ASTM B258 both grew by two gauge numbers
    enlarged = {"size": "4 AWG"}
    found = judge(
        circuit(run_conductor=enlarged, run_grounding_conductor={"size": "8 AWG"}),
        "run.grounding_conductor",
    )
    assert found.verdict is Verdict.BORDERLINE
    assert "ask for 6 AWG copper" in found.explanation
    assert "authority" in found.settles
    for size, verdict in (("10 AWG", Verdict.OUTSIDE), ("6 AWG", Verdict.WITHIN)):
        made = circuit(run_conductor=enlarged, run_grounding_conductor={"size": size})
        assert judge(made, "run.grounding_conductor").verdict is verdict


@pytest.mark.parametrize(
    ("kind", "verdict"),
    [
        ("raceway", Verdict.WITHIN),  # NEC 250.118: EMT, RMC, IMC
        ("flexible", Verdict.BORDERLINE),
        ("none", Verdict.OUTSIDE),
    ],
)
def test_grounding_without_a_wire(kind: str, verdict: Verdict):
    made = with_entries(
        circuit(run_grounding_conductor=None), {"run.grounding_conductor": {"kind": kind}}
    )
    found = judge(made, "run.grounding_conductor")
    assert found.verdict is verdict
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.DANGER


def test_level_1_adds_up_what_hangs_on_the_circuit():
    # 12 A at 120 V need no circuit of their own (NEC 2023 625.40: above 16 A or 120 V);
    # 1.25 × 12 + 6 = 21 A on 20 A: too much, though 18 A do not trip it at once
    cord_set = visit(points=(level_1(),))
    changes: dict[str, dict[str, Any]] = {
        "charger_configuration": {"configured_a": "12 A"},
        "breaker_rating": {"rated_a": "20 A", "poles": "1"},
    }
    shared = {"is_alone": False, "what": "freezer", "other_a": "6 A"}
    found = judge(circuit(cord_set, **changes, run_dedicated=shared), "run.dedicated")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.CAUTION)
    heavy = {**shared, "other_a": "9 A"}
    found = judge(circuit(cord_set, **changes, run_dedicated=heavy), "run.dedicated")
    assert found.severity is Severity.WARNING
    assert "draw 21 A on 20 A" in found.explanation
    light = {**shared, "other_a": "5 A"}  # 15 + 5 = 20 A
    found = judge(circuit(cord_set, **changes, run_dedicated=light), "run.dedicated")
    assert found.verdict is Verdict.WITHIN


def beside_level_1(rated: str, other: str) -> Judgement:
    entries = {
        "charger.configuration": {"configured_a": "12 A"},
        "breaker.rating": {"rated_a": rated, "poles": "1"},
        "run.dedicated": {"is_alone": False, "other_a": other},
    }
    return judge(with_entries(visit(points=(level_1(),)), entries), "run.dedicated")


def test_level_1_names_the_loads_that_trip_its_breaker_and_how_soon():
    # facts of the trade: a 1500 W heater or kettle (12.5 A at 120 V) beside 12 A trips 15 A; on
    # 20 A it is 122 %, which a breaker may hold for hours (UL 489: 135 % within the hour)
    small, large = beside_level_1("15 A", "1 A"), beside_level_1("20 A", "1 A")
    assert any("kettle" in line and "trips after" in line for line in small.working)
    assert not any("kettle" in line for line in large.working)
    assert not any("lighting" in line or "freezer" in line for line in small.working)
    assert "trips soonest on: hair dryer" in small.explanation
    # UL 489: 100 % is carried, 200 % trips a breaker up to 30 A within two minutes
    full = beside_level_1("15 A", "3 A")
    assert "no breaker of this rating is expected to trip" in full.explanation
    double = beside_level_1("15 A", "18 A")
    assert re.search(
        r"an early one after \d+ s, a late one after (\d+ s|[12] min)", double.explanation
    )


def test_level_2_is_never_shared():
    # NEC 2023 625.40
    shared = {"is_alone": False, "other_a": "1 A"}
    found = judge(circuit(run_dedicated=shared), "run.dedicated")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    unknown = circuit(run_dedicated=shared, charger_configuration=None)
    assert judge(unknown, "run.dedicated").verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("ohm", "verdict"),
    [
        # 30 m of 10 AWG: 30 × 3.26 mΩ/m × 1.02 lay = 0.100 Ω, and 0.05 Ω for joints
        ("0.11 Ω", Verdict.WITHIN),
        ("0.14 Ω", Verdict.BORDERLINE),
        ("0.40 Ω", Verdict.OUTSIDE),
    ],
)
def test_the_protective_conductor_by_its_length(ohm: str, verdict: Verdict):
    made = circuit(run_protective_conductor={"ohm": ohm})
    found = judge(made, "run.protective_conductor")
    assert found.verdict is verdict
    assert found.limits[0].value == pytest.approx(0.150, abs=0.002)


def test_a_longer_run_allows_more_ohms():
    made = circuit(run_length={"length": "90.00 m"}, run_protective_conductor={"ohm": "0.30 Ω"})
    assert judge(made, "run.protective_conductor").verdict is Verdict.WITHIN


def test_no_continuity_is_danger_and_leads_must_be_nulled():
    broken = {
        "run.protective_conductor": {"place": "panel", "are_leads_nulled": True, "reading": "open"}
    }
    made = with_entries(circuit(run_protective_conductor=None), broken)
    assert judge(made, "run.protective_conductor").severity is Severity.DANGER
    made = circuit(run_protective_conductor={"are_leads_nulled": False})
    assert judge(made, "run.protective_conductor").verdict is Verdict.NOT_MEASURED


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


@pytest.mark.parametrize(
    ("method", "above", "cover", "verdict"),
    [
        # NEC 2023 table 300.5(A): PVC 450 mm, metal conduit 150 mm; 600 mm under a street
        ("PVC", "general", "0.50 m", Verdict.WITHIN),
        ("PVC", "general", "0.30 m", Verdict.OUTSIDE),
        ("RMC", "general", "0.30 m", Verdict.WITHIN),
        ("RMC", "street", "0.30 m", Verdict.OUTSIDE),
        ("UF", "general", "0.50 m", Verdict.OUTSIDE),
        ("UF", "driveway", "0.50 m", Verdict.WITHIN),
        ("MC", "general", "0.90 m", Verdict.BORDERLINE),  # no column here
    ],
)
def test_depth_by_wiring_method_and_surface(method: str, above: str, cover: str, verdict: Verdict):
    buried = {"is_buried": True, "above": above, "cover": cover}
    made = circuit(run_conductor={"method": method}, run_protection=buried)
    assert judge(made, "run.protection").verdict is verdict


def test_a_nicked_run_stays_dead():
    # common practice, no source: nothing that is seen damaged is energised
    made = circuit(run_damage={"is_damaged": True})
    found = judge(made, "run.damage")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert BY_ID["run.damage"].gates


def test_sheathed_cable_stays_dry():
    # NEC 334.12(B)(4)
    made = conductor(insulation="NM", method="NM", is_wet=True)
    assert judge(made, "run.protection").verdict is Verdict.OUTSIDE


@pytest.mark.parametrize("check", ["run.protective_conductor", "run.insulation", "run.polarity"])
def test_who_inspects_takes_nothing_apart(check: str):
    assert judge(visit(role=Role.INSPECTS), check).verdict is Verdict.NOT_APPLICABLE


def test_an_empty_visit_is_not_measured_everywhere():
    for check in (c for c in CIRCUIT if c.startswith("run.")):
        assert judge(visit(), check).verdict is Verdict.NOT_MEASURED, check


MINE = ("service.", "panel.", "breaker.", "run.")


def changed(**changes: dict[str, Any] | None) -> set[str]:
    """The checks whose judgement differs from that of the sound circuit."""
    before, after = circuit(), circuit(**changes)
    ids = [c.id for c in CHECKS if c.id.startswith(MINE)]
    return {c for c in ids if judge(before, c) != judge(after, c)}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        # metal explains the drop and the ohms: both follow the length
        (
            {"run_length": {"length": "60.00 m"}},
            {"run.length", "run.protective_conductor"},
        ),
        # one size down: ampacity and drop; the grounding conductor is sized by the breaker
        ({"run_conductor": {"size": "8 AWG"}}, {"run.conductor", "run.length"}),
        # 75 A × 0.82 = 61.5 A: hotter, and still 6 AWG, so that nothing sized by it moves
        ({"run_conductor": {"ambient": "50 °C"}}, {"run.conductor"}),
        # a breaker of another rating: itself, what it protects, and what is sized by it
        (
            {"breaker_rating": {"rated_a": "50 A"}},
            {"breaker.rating", "run.conductor", "run.grounding_conductor"},
        ),
        ({"run_insulation": {"between": "0.20 MΩ"}}, {"run.insulation"}),
        ({"run_polarity": {"is_line_right": False}}, {"run.polarity"}),
    ],
)
def test_one_change_moves_the_right_judgements_and_no_others(
    changes: dict[str, Any], expected: set[str]
):
    assert changed(**changes) == expected


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
    assert closed("run.insulation").verdict is Verdict.WITHIN  # 6-50: no neutral
    assert closed("run.insulation", line2_ground="0.60 MΩ").verdict is Verdict.OUTSIDE
    one = closed("run.insulation", visit(points=(level_1(),)))
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
