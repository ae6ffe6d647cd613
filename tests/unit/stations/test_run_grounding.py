"""The grounding conductor of the run: its size, and its ohms with the circuit dead."""

from typing import Any

import pytest

from checks.codes.nec_2023.wiring import METHODS
from checks.verdict import Severity, Verdict
from tests.builders import judge, with_entries
from tests.unit.stations.run_entries import circuit


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


def test_the_grounding_conductor_grows_with_conductors_enlarged_for_drop():
    # 60 A, 6 → 3 AWG: 52 620/26 240 × 10 380 = 20 815 circular mils, 6 AWG: NEC 2023 250.122(B)
    made = circuit(run_conductor={"size": "3 AWG"})
    assert judge(made, "run.grounding_conductor").verdict is Verdict.OUTSIDE
    made = circuit(run_conductor={"size": "3 AWG"}, run_grounding_conductor={"size": "6 AWG"})
    assert judge(made, "run.grounding_conductor").verdict is Verdict.WITHIN


@pytest.mark.parametrize(
    ("size", "verdict"), [("6 AWG", Verdict.OUTSIDE), ("4 AWG", Verdict.WITHIN)]
)
def test_conductors_that_are_too_small_were_not_enlarged(size: str, verdict: Verdict):
    # 4/0 AWG has 230 A at 75 °C, of which 240.4(B) makes 250 A: no size of table 310.16 here is
    # enough for 300 A, which table 250.122 grounds by 4 AWG copper
    made = circuit(
        breaker_rating={"rated_a": "300 A"},
        run_conductor={"size": "4/0 AWG"},
        run_grounding_conductor={"size": size},
    )
    assert judge(made, "run.grounding_conductor").verdict is verdict


def test_a_ground_that_only_enlarged_conductors_outgrew_may_be_shown_to_be_enough():
    # NEC 2023 250.122(B): a qualified person may size by 250.4(A)(5) instead; 10 AWG is what table
    # 250.122 asks on 60 A, 12 AWG is not
    enlarged = {"size": "3 AWG"}
    found = judge(circuit(run_conductor=enlarged), "run.grounding_conductor")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.CAUTION)
    assert "qualified person" in found.remedy
    assert "250.122(B)" in str(found.limits[0].source)
    small = {"size": "12 AWG"}
    found = judge(
        circuit(run_conductor=enlarged, run_grounding_conductor=small), "run.grounding_conductor"
    )
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "qualified person" not in found.remedy


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


@pytest.mark.parametrize(
    ("kind", "method", "verdict"),
    [
        # NEC 2023 250.118(A): rigid and intermediate metal conduit and metallic tubing serve;
        # flexible conduit and the armor of a cable within limits; nothing nonmetallic is listed
        ("raceway", "RMC", Verdict.WITHIN),
        ("raceway", "MC", Verdict.BORDERLINE),
        ("raceway", "LFMC", Verdict.OUTSIDE),  # 30 m of it; (A)(6), from memory: 6 ft
        ("raceway", "PVC", Verdict.OUTSIDE),
        ("raceway", "NM", Verdict.OUTSIDE),
        ("flexible", "LFNC", Verdict.OUTSIDE),
        # (A)(8), 320.100: the armor of type AC with its bonding strip serves; armor without it, and
        # armor that is no AC, is left open; the jacket of SE and NM is no metal
        ("armor", "AC", Verdict.WITHIN),
        ("flexible", "AC", Verdict.BORDERLINE),
        ("armor", "MC", Verdict.BORDERLINE),
        ("armor", "SE", Verdict.OUTSIDE),
        ("raceway", "SE", Verdict.OUTSIDE),
    ],
)
def test_what_is_not_metal_grounds_nothing(kind: str, method: str, verdict: Verdict):
    made = circuit(run_conductor={"method": method}, run_grounding_conductor=None)
    found = judge(
        with_entries(made, {"run.grounding_conductor": {"kind": kind}}), "run.grounding_conductor"
    )
    assert found.verdict is verdict
    if verdict is Verdict.OUTSIDE and method != "LFMC":
        assert found.severity is Severity.DANGER
        assert f"{METHODS[method].words} along the run" in found.explanation


@pytest.mark.parametrize(
    ("method", "breaker", "length", "verdict"),
    [
        # NEC 2023 250.118(A)(5), (6): FMC grounds up to 20 A, LFMC up to 20 A in trade
        # sizes 3/8 and 1/2 and up to 60 A in 3/4 to 1 1/4, each over 6 ft (1.8 m) of the path
        ("FMC", "60 A", {"length": "1.50 m"}, Verdict.OUTSIDE),
        ("FMC", "25 A", {"length": "1.50 m"}, Verdict.OUTSIDE),
        ("FMC", "20 A", {"length": "1.50 m"}, Verdict.BORDERLINE),
        ("FMC", "20 A", {"length": "3.00 m"}, Verdict.OUTSIDE),
        ("LFMC", "60 A", {"length": "1.50 m"}, Verdict.BORDERLINE),
        ("LFMC", "70 A", {"length": "1.50 m"}, Verdict.OUTSIDE),
        ("LFMC", "20 A", {"basis": "estimated", "stated": "1.85 m"}, Verdict.BORDERLINE),
        ("MC", "60 A", {"length": "30.00 m"}, Verdict.BORDERLINE),
    ],
)
def test_flexible_metal_grounds_no_more_than_the_code_lets_it(
    method: str, breaker: str, length: dict[str, str], verdict: Verdict
):
    made = circuit(
        breaker_rating={"rated_a": breaker},
        run_conductor={"method": method, "is_in_insulation": False},
        run_grounding_conductor=None,
        run_length=length,
    )
    made = with_entries(made, {"run.grounding_conductor": {"kind": "flexible"}})
    found = judge(made, "run.grounding_conductor")
    assert found.verdict is verdict, found.explanation
    assert "Pull a wire-type grounding conductor" in found.remedy
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.WARNING


def test_a_raceway_that_is_not_recorded_yet_grounds_nothing_yet():
    made = circuit(run_conductor=None, run_grounding_conductor=None)
    found = judge(
        with_entries(made, {"run.grounding_conductor": {"kind": "raceway"}}),
        "run.grounding_conductor",
    )
    assert found.verdict is Verdict.NOT_MEASURED


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


@pytest.mark.parametrize(
    ("kind", "method", "verdict"),
    [
        # 0.40 Ω on 30 m, of which 10 AWG copper and joints explain 0.15 Ω: a raceway is no worse
        # than that wire; armor with its strip may be, and its maker says by how much
        ("raceway", "EMT", Verdict.OUTSIDE),
        ("armor", "AC", Verdict.BORDERLINE),
    ],
)
def test_the_ohms_of_armor_are_its_makers(kind: str, method: str, verdict: Verdict):
    made = circuit(
        run_conductor={"method": method, "is_in_insulation": False},
        run_grounding_conductor=None,
        run_protective_conductor={"ohm": "0.40 Ω"},
    )
    made = with_entries(made, {"run.grounding_conductor": {"kind": kind}})
    found = judge(made, "run.protective_conductor")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.limits[0].value == pytest.approx(0.150, abs=0.002)


@pytest.mark.parametrize(
    ("method", "ohm", "verdict"),
    [
        # 60 m of 10 AWG: 60 × 3.28 mΩ/m = 0.197 Ω at 20 °C (NEC 2023 chapter 9 table 8, uncoated
        # 3.94 mΩ/m at 75 °C); at -20 °C copper has 84 % of that, 0.166 Ω (0.393 % a kelvin)
        ("PVC", "0.205 Ω", Verdict.WITHIN),
        ("PVC", "0.175 Ω", Verdict.WITHIN),  # a cold run
        ("PVC", "0.100 Ω", Verdict.BORDERLINE),
        ("PVC", "0.005 Ω", Verdict.BORDERLINE),
        # 60 m of 1 in EMT, 128 mm² of steel at 6 MS/m: 0.078 Ω beside the wire, 0.056 Ω together
        ("EMT", "0.056 Ω", Verdict.WITHIN),
        ("EMT", "0.005 Ω", Verdict.BORDERLINE),
    ],
)
def test_a_path_that_reads_less_than_its_own_metal_proves_nothing(
    method: str, ohm: str, verdict: Verdict
):
    made = circuit(
        run_conductor={"method": method},
        run_length={"length": "60.00 m"},
        run_protective_conductor={"ohm": ohm},
    )
    found = judge(made, "run.protective_conductor")
    assert found.verdict is verdict, found.explanation
    assert ("another path" in found.explanation) is (verdict is Verdict.BORDERLINE)
    assert ("looped" in found.settles) is (verdict is Verdict.BORDERLINE)


def test_a_raceway_alone_reads_no_less_than_its_steel():
    # 60 m of 2 in EMT, 281 mm² of steel at 6 MS/m: 0.036 Ω
    for ohm, verdict in (("0.036 Ω", Verdict.WITHIN), ("0.005 Ω", Verdict.BORDERLINE)):
        made = circuit(
            run_grounding_conductor=None,
            run_length={"length": "60.00 m"},
            run_protective_conductor={"ohm": ohm},
        )
        made = with_entries(made, {"run.grounding_conductor": {"kind": "raceway"}})
        assert judge(made, "run.protective_conductor").verdict is verdict


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
