"""The run: conductors, length, protection, damage, and what one change moves."""

import re
from typing import Any

import pytest

from checks.codes import PROFILES
from checks.stations.all import BY_ID, CHECKS
from checks.stations.run.wiring import INSULATION_OPTIONS
from checks.verdict import Severity, Verdict
from tests.builders import POINT, entry, judge, level_1, visit, with_entries
from tests.unit.stations.run_entries import CIRCUIT, circuit, conductor


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
    ("load", "breaker", "changes", "asked"),
    [
        # NEC 2023 240.4(D)(3): 14 AWG copper on 15 A at most; 15 A / 1.25 = 12 A, 210.20(A)
        ("16 A", "20 A", {"size": "14 AWG"}, ("at most 15 A", "to 12 A or less", "12 AWG copper")),
        # 8 AWG copper, unmarked terminals: 40 A at 60 °C, 110.14(C)(1)(a); 40 A / 1.25 = 32 A
        (
            "40 A",
            "50 A",
            {"size": "8 AWG", "terminals": "unmarked"},
            ("at most 40 A", "to 32 A or less", "6 AWG copper"),
        ),
        # the load alone: 10 AWG carries 35 A / 1.25 = 28 A, and its 30 A breaker 24 A
        ("32 A", "30 A", {"size": "10 AWG"}, ("Set the charger to 24 A or less", "8 AWG copper")),
        # 240.4(D)(7): 10 AWG on 30 A at most, which is not for the 28 A that the copper carries
        ("28 A", "40 A", {"size": "10 AWG"}, ("at most 30 A", "to 24 A or less", "8 AWG copper")),
        # the device alone
        ("12 A", "20 A", {"size": "14 AWG"}, ("at most 15 A, or pull 12 AWG copper",)),
    ],
)
def test_the_remedy_mends_load_and_breaker_both(
    load: str, breaker: str, changes: dict[str, Any], asked: tuple[str, ...]
):
    made = circuit(
        charger_configuration={"configured_a": load},
        breaker_rating={"rated_a": breaker},
        run_conductor=changes,
    )
    found = judge(made, "run.conductor")
    assert found.verdict is Verdict.OUTSIDE
    assert [words for words in asked if words not in found.remedy] == [], found.remedy
    assert ("breaker" in found.remedy) is (load != "32 A")


BURIED = {"is_buried": True, "above": "general", "cover": "0.80 m"}


@pytest.mark.parametrize(
    ("method", "letters", "check", "verdict"),
    [
        # NEC 2023 300.5(B): inside a raceway under ground it is wet; THHN has no wet rating
        ("PVC", "THHN", "run.conductor", Verdict.OUTSIDE),
        ("PVC", "THWN-2", "run.conductor", Verdict.WITHIN),
        # 334.12(B)(4): nonmetallic-sheathed cable stays in dry places
        ("NM", "NM", "run.protection", Verdict.OUTSIDE),
    ],
)
def test_what_is_buried_is_wet_whatever_is_said(
    method: str, letters: str, check: str, verdict: Verdict
):
    run = {"method": method, "insulation": letters, "is_wet": False}
    found = judge(circuit(run_conductor=run, run_protection=BURIED), check)
    assert found.verdict is verdict
    assert ("buried" in found.explanation) is (verdict is Verdict.OUTSIDE)


@pytest.mark.parametrize(
    ("size", "marked", "verdict"),
    [
        # 44 A on 60 A: NEC 2023 table 310.16, 8 AWG copper has 50 A at 75 °C and 55 A at 90 °C, of
        # which 240.4(B) makes 50 A and 60 A; breakers for 90 °C are not made: common practice
        ("8 AWG", "75", Verdict.OUTSIDE),
        ("8 AWG", "90", Verdict.BORDERLINE),
        ("6 AWG", "90", Verdict.WITHIN),
    ],
)
def test_terminals_for_90_degrees_are_not_taken_on_trust(size: str, marked: str, verdict: Verdict):
    made = circuit(
        charger_configuration={"configured_a": "44 A"},
        run_conductor={"size": size, "terminals": marked},
    )
    found = judge(made, "run.conductor")
    assert found.verdict is verdict
    assert ("AL9CU" in found.settles) is (verdict is Verdict.BORDERLINE)


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


@pytest.mark.parametrize(
    ("size", "material", "amps", "asked"),
    [
        # 2 × 48 A × 0.491 Ω/kFT × 492 ft = 23.2 V; 1 AWG 0.154: 7.27 V, 1/0 AWG 0.122: 5.76 V, of
        # which 7.2 V are 3 %: NEC 2023 chapter 9 table 8
        ("6 AWG", "copper", "48 A", "Plan 1/0 AWG copper or larger where the terminals take it"),
        # 2 × 80 A × 0.100 Ω/kFT × 492 ft = 7.87 V by the largest of the table
        ("4/0 AWG", "aluminum", "80 A", "Plan a lower charging current"),
    ],
)
def test_a_run_that_drops_too_much_asks_for_the_size_that_does_not(
    size: str, material: str, amps: str, asked: str
):
    entries = {
        "breaker.rating": {"rated_a": "100 A", "poles": "2"},
        "charger.configuration": {"configured_a": amps},
        "run.conductor": {"size": size, "material": material},
        "run.length": {"basis": "measured", "length": "492.0 ft"},
    }
    found = judge(with_entries(visit(), entries), "run.length")
    assert found.verdict is Verdict.OUTSIDE, found.explanation
    assert found.remedy.startswith(asked)


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
    # 7.2 V / (2 × 48 A × 0.491 Ω/kFT) = 152.7 ft = 46.6 m; a longer one is no longer allowed
    assert "Up to 46 m" in found.explanation
    assert found.limits[0].value == 3.0


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
        ("EMT", "general", "0.50 m", Verdict.WITHIN),
        ("MC", "general", "0.90 m", Verdict.BORDERLINE),  # no column here
    ],
)
def test_depth_by_wiring_method_and_surface(method: str, above: str, cover: str, verdict: Verdict):
    buried = {"is_buried": True, "above": above, "cover": cover}
    made = circuit(run_conductor={"method": method}, run_protection=buried)
    assert judge(made, "run.protection").verdict is verdict


@pytest.mark.parametrize(
    ("device", "rated", "verdict"),
    [
        # NEC 2023 table 300.5(A): 300 mm for a dwelling's circuit of 120 V, at most 20 A, behind a
        # ground-fault device; 600 mm for cable otherwise. A device at the outlet protects no run
        ("breaker", "20 A", Verdict.WITHIN),
        ("receptacle", "20 A", Verdict.OUTSIDE),
        ("breaker", "30 A", Verdict.OUTSIDE),
    ],
)
def test_a_small_protected_circuit_lies_less_deep(device: str, rated: str, verdict: Verdict):
    entries = {
        "breaker.rating": {"rated_a": rated, "poles": "1"},
        "outlet.ground_fault": {"device": device, "device_class": "class_a", "is_accessible": True},
        "run.conductor": {"method": "UF"},
        "run.protection": {
            "is_protected": True,
            "is_supported": True,
            "has_bushings": True,
            "is_buried": True,
            "above": "general",
            "cover": "0.35 m",
        },
    }
    made = with_entries(visit(points=(level_1(),)), entries)
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


def test_what_a_remedy_allows_is_within_once_it_is_set():
    """The number of a remedy is rounded down, never up: 48 A where 47.8 A are carried."""
    # 6 AWG at 38 °C, nine conductors: 75 A × 0.91 × 0.70 = 47.8 A; NEC 2023 table 310.15(B)(1)(1)
    crowded = {"ambient": "38 °C", "carrying": 9}
    for load_a in range(40, 60):
        made = circuit(
            breaker_rating={"rated_a": "50 A"},
            charger_configuration={"configured_a": f"{load_a} A"},
            run_conductor=crowded,
        )
        found = judge(made, "run.conductor")
        told = re.search(r"Set the charger to (\d+) A or less", found.remedy)
        if told is None:
            continue
        lower = circuit(
            breaker_rating={"rated_a": "50 A"},
            charger_configuration={"configured_a": f"{told[1]} A"},
            run_conductor=crowded,
        )
        assert judge(lower, "run.conductor").verdict is not Verdict.OUTSIDE, (load_a, told[1])
        assert int(told[1]) < load_a


@pytest.mark.parametrize(
    "length",
    [{"length": "0 m"}, {"length": "0.0 ft"}, {"basis": "estimated", "stated": "0 m"}],
)
def test_a_length_of_0_is_no_run_s_and_says_what_to_do(length: dict[str, Any]):
    made = circuit(run_length=length)
    found = judge(made, "run.length")
    assert (found.verdict, len(found.limits)) == (Verdict.NOT_MEASURED, 1)
    assert found.explanation == "No run is 0 m long: measure it again, breaker to outlet"
    dependent = judge(made, "run.protective_conductor")
    assert dependent.verdict is Verdict.NOT_MEASURED
    assert dependent.explanation == "Record the run's length first"
