"""The cables of either code: what is asked of each, what it carries, and where it may lie."""

from typing import Any, Final

import pytest

from checks.check import Choice, Situation
from checks.codes import profile
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import POINT, conductor, entry, judge, visit, with_entries
from tests.unit.stations.run_entries import circuit

CHECK: Final = BY_ID["run.conductor"]
# 6 AWG aluminum SER on 50 A, a charger set to 40 A: 50 A at 75 °C, NEC 2023 table 310.16
SER: Final[dict[str, Any]] = {
    "size": "6 AWG",
    "material": "aluminum",
    "is_marked_al": True,
    "method": "SE",
    "insulation": "XHHW-2",
    "is_in_insulation": False,
}


def by_charger(amps: str, rated: str, code: str = "nec_2023", **run: Any) -> Judgement:
    made = circuit(
        breaker_rating={"rated_a": rated},
        charger_configuration={"configured_a": amps},
        run_conductor=run,
    )
    return judge(made, "run.conductor", code=code)


@pytest.mark.parametrize(
    ("code", "cables"),
    [
        ("nec_2023", ["NM", "UF", "MC", "SE", "AC"]),
        ("cec_2021", ["NMD90", "NMWU", "AC90", "ACWU90", "TECK90"]),
    ],
)
def test_the_cables_of_the_visits_code_are_offered_and_no_other(code: str, cables: list[str]):
    asked = CHECK.at(Situation(visit(), profile(code), POINT)).input("method")
    assert isinstance(asked, Choice)
    raceways = ["RMC", "EMT", "PVC", "FMC", "LFMC", "LFNC", "ENT"]
    assert [option.value for option in asked.options] == [*cables, *raceways]


@pytest.mark.parametrize(
    ("method", "asked"),
    [
        ("EMT", {"insulation"}),
        ("NM", {"insulation"}),
        ("SE", {"insulation", "is_in_insulation"}),
        ("AC", {"insulation", "is_in_insulation"}),
        # the name says what table 19 rates
        ("NMD90", set()),
        ("TECK90", set()),
    ],
)
def test_a_cable_is_asked_what_its_name_does_not_say(method: str, asked: set[str]):
    begun = entry("run.conductor", POINT, 1, method=method)
    names = {each.name for each in CHECK.asked(begun)}
    assert names & {"insulation", "is_in_insulation"} == asked


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        # 50 A / 1.25 = 40 A; NEC 2023 338.10(B)(4)(a)(3) caps 10 AWG and smaller alone
        ({}, Verdict.WITHIN),
        ({"is_in_insulation": True}, Verdict.WITHIN),
        ({"is_in_insulation": None}, Verdict.NOT_MEASURED),
        # 110.14(C)(1)(a): unmarked terminals, 40 A at 60 °C
        ({"terminals": "unmarked"}, Verdict.OUTSIDE),
        ({"size": "8 AWG"}, Verdict.OUTSIDE),  # 40 A at 75 °C
        # table 310.4(1): XHHW-2 is for wet places as well; 338.10(B)(4)(b) lets SE be outdoors
        ({"is_wet": True}, Verdict.WITHIN),
        # UL guide TYLZ: no THHN in SE
        ({"insulation": "THHN"}, Verdict.BORDERLINE),
    ],
)
def test_ser_feeds_a_charger(changes: dict[str, Any], verdict: Verdict):
    run = {name: answer for name, answer in {**SER, **changes}.items() if answer is not None}
    found = by_charger("40 A", "50 A", **run)
    assert found.verdict is verdict, found.explanation


@pytest.mark.parametrize(
    ("is_in_insulation", "verdict"),
    [
        # 10 AWG aluminum: 30 A at 75 °C / 1.25 = 24 A; 25 A at 60 °C / 1.25 = 20 A
        (False, Verdict.WITHIN),
        (True, Verdict.OUTSIDE),
    ],
)
def test_small_service_cable_in_insulation_has_the_60_degree_column(
    is_in_insulation: bool, verdict: Verdict
):
    small = {**SER, "size": "10 AWG", "is_in_insulation": is_in_insulation}
    found = by_charger("24 A", "25 A", **small)
    assert found.verdict is verdict, found.explanation
    assert ("338.10(B)(4)(a)(3)" in " ".join(found.working)) is is_in_insulation


@pytest.mark.parametrize(
    ("is_in_insulation", "verdict"),
    [
        # NEC 2023 320.80: 6 AWG copper 65 A at 75 °C, in thermal insulation 55 A: 48 A need 60 A
        (False, Verdict.WITHIN),
        (True, Verdict.OUTSIDE),
    ],
)
def test_armored_cable_in_insulation_has_the_60_degree_column(
    is_in_insulation: bool, verdict: Verdict
):
    found = by_charger(
        "48 A", "60 A", method="AC", insulation="THHN", is_in_insulation=is_in_insulation
    )
    assert found.verdict is verdict
    assert ("320.80" in " ".join(found.working)) is is_in_insulation


def test_armored_cable_in_insulation_has_conductors_for_90_degrees():
    # NEC 2023 320.80(A); 6 AWG copper carries 55 A / 1.25 = 44 A at 60 °C
    here = {"method": "AC", "is_in_insulation": True}
    assert by_charger("40 A", "50 A", **here, insulation="THHN").verdict is Verdict.WITHIN
    found = by_charger("40 A", "50 A", **here, insulation="THWN")
    assert found.verdict is Verdict.OUTSIDE
    assert "conductors of 90 °C; THWN has 75 °C" in found.explanation


@pytest.mark.parametrize(
    ("method", "amps", "verdict"),
    [
        # CE Code 2021 tables 2, 4-006: 6 AWG copper at 75 °C 65 A, of which 8-104 6) lets 80 % be
        # continuous: 52 A. Table 19 is from memory, which proves nothing good
        ("NMD90", "48 A", Verdict.BORDERLINE),
        ("TECK90", "48 A", Verdict.BORDERLINE),
        ("AC90", "48 A", Verdict.BORDERLINE),
        ("ACWU90", "48 A", Verdict.BORDERLINE),
        # 55 A at the 60 °C of NMWU, 80 %: 44 A
        ("NMWU", "44 A", Verdict.BORDERLINE),
        ("NMWU", "48 A", Verdict.OUTSIDE),
        ("NMD90", "56 A", Verdict.OUTSIDE),
    ],
)
def test_canadian_cables_carry_what_table_19_and_the_terminals_let_them(
    method: str, amps: str, verdict: Verdict
):
    answers = {k: v for k, v in conductor("6 AWG").items() if k != "insulation"}
    made = circuit(run_conductor=None, charger_configuration={"configured_a": amps})
    made = with_entries(made, {"run.conductor": {**answers, "method": method}})
    found = judge(made, "run.conductor", code="cec_2021")
    assert found.verdict is verdict, found.explanation


@pytest.mark.parametrize(("method", "code"), [("NM", "cec_2021"), ("TECK90", "nec_2023")])
def test_a_cable_of_the_other_code_is_left_open(method: str, code: str):
    found = by_charger("48 A", "60 A", code, method=method, size="3 AWG")
    assert found.verdict is Verdict.BORDERLINE
    assert f"{method} is no cable or raceway of the code" in found.explanation


@pytest.mark.parametrize(
    ("method", "code", "verdict"),
    [
        # NEC 2023 320.12(2): AC not where damp or wet; 338.12(A)(2): SE not underground, yet in
        # the weather; 334.12(B)(4)
        ("NM", "nec_2023", Verdict.OUTSIDE),
        ("AC", "nec_2023", Verdict.OUTSIDE),
        ("SE", "nec_2023", Verdict.WITHIN),
        ("FMC", "nec_2023", Verdict.OUTSIDE),  # NEC 2011 348.12(1): not in wet locations
        # CE Code table 19, from memory
        ("NMD90", "cec_2021", Verdict.OUTSIDE),
        ("AC90", "cec_2021", Verdict.OUTSIDE),
        ("NMWU", "cec_2021", Verdict.WITHIN),
        ("ACWU90", "cec_2021", Verdict.WITHIN),
        ("TECK90", "cec_2021", Verdict.WITHIN),
    ],
)
def test_which_cable_may_be_wet(method: str, code: str, verdict: Verdict):
    made = circuit(run_conductor={"method": method, "is_wet": True})
    found = judge(made, "run.protection", code=code)
    assert found.verdict is verdict, found.explanation


@pytest.mark.parametrize(
    ("method", "wetness", "verdict"),
    [
        # NEC 2023 334.12(B)(4), 320.12(2): neither where wet nor where damp; 348.12(1), from
        # memory: not where wet. What is said to lie dry may end inside a dry wall: left to a look
        ("NM", "damp", Verdict.BORDERLINE),
        ("NM", "dry", Verdict.WITHIN),
        ("AC", "wet", Verdict.BORDERLINE),
        ("FMC", "damp", Verdict.WITHIN),
        ("FMC", "wet", Verdict.BORDERLINE),
        ("SE", "wet", Verdict.WITHIN),
    ],
)
def test_a_cable_that_must_lie_dry_is_asked_where_it_comes_to_a_place_that_is_not(
    method: str, wetness: str, verdict: Verdict
):
    run = circuit(run_conductor={"method": method, "is_wet": False})
    place = {"surroundings.place": {"location": "outdoors", "wetness": wetness}}
    found = judge(with_entries(run, place), "run.protection")
    assert found.verdict is verdict, found.explanation


@pytest.mark.parametrize(
    ("method", "code", "above", "cover", "verdict"),
    [
        # NEC 2023 338.12(A)(2): not underground, with or without a raceway, however deep
        ("SE", "nec_2023", "general", "0.90 m", Verdict.OUTSIDE),
        ("AC", "nec_2023", "general", "0.90 m", Verdict.OUTSIDE),
        # CE Code table 53, from memory: 600 mm without armor, 450 mm with; 900 and 600 mm where
        # vehicles go. What is from memory proves nothing good
        ("NMWU", "cec_2021", "general", "0.50 m", Verdict.OUTSIDE),
        ("NMWU", "cec_2021", "general", "0.70 m", Verdict.BORDERLINE),
        ("NMWU", "cec_2021", "driveway", "0.70 m", Verdict.OUTSIDE),
        ("TECK90", "cec_2021", "general", "0.50 m", Verdict.BORDERLINE),
        ("TECK90", "cec_2021", "driveway", "0.50 m", Verdict.OUTSIDE),
        ("PVC", "cec_2021", "general", "0.30 m", Verdict.OUTSIDE),
        ("NMD90", "cec_2021", "general", "0.90 m", Verdict.OUTSIDE),
    ],
)
def test_which_cable_may_be_buried_and_how_deep(
    method: str, code: str, above: str, cover: str, verdict: Verdict
):
    buried = {"is_buried": True, "above": above, "cover": cover}
    made = circuit(run_conductor={"method": method}, run_protection=buried)
    found = judge(made, "run.protection", code=code)
    assert found.verdict is verdict, found.explanation


@pytest.mark.parametrize(
    ("method", "code", "verdict"),
    [
        # UL guide TYLZ: SE is for the sun as it is; AC and NM are for dry places
        ("SE", "nec_2023", Verdict.WITHIN),
        ("AC", "nec_2023", Verdict.OUTSIDE),
        ("UF", "nec_2023", Verdict.NOT_MEASURED),  # 340.12(9): where so marked
        ("NMD90", "cec_2021", Verdict.OUTSIDE),
        ("TECK90", "cec_2021", Verdict.NOT_MEASURED),
    ],
)
def test_which_cable_may_lie_in_the_sun(method: str, code: str, verdict: Verdict):
    passage = {"is_in_sun": True, "is_through_rated": False, "crosses_joint": False}
    made = with_entries(circuit(run_conductor={"method": method}), {"run.passage": passage})
    assert judge(made, "run.passage", code=code).verdict is verdict


def test_the_bare_conductor_of_ser_is_a_wire():
    # NEC 2023 338.10(B)(2), table 250.122: 60 A, 8 AWG aluminum
    wire = {"kind": "wire", "material": "aluminum", "size": "8 AWG"}
    made = circuit(run_conductor=SER, run_grounding_conductor=wire)
    assert judge(made, "run.grounding_conductor").verdict is Verdict.WITHIN


def test_armor_that_grounds_is_asked_about_where_the_code_knows_it():
    asked = {}
    for code in ("nec_2023", "cec_2021"):
        here = BY_ID["run.grounding_conductor"].at(Situation(visit(), profile(code), POINT))
        kind = here.input("kind")
        assert isinstance(kind, Choice)
        asked[code] = "armor" in {option.value for option in kind.options}
    assert asked == {"nec_2023": True, "cec_2021": False}


def test_armor_alone_is_no_bonding_conductor_of_a_canadian_cable():
    # common practice, no source: these cables hold a bonding conductor for it
    made = circuit(run_conductor={"method": "AC90"}, run_grounding_conductor=None)
    made = with_entries(made, {"run.grounding_conductor": {"kind": "flexible"}})
    found = judge(made, "run.grounding_conductor", code="cec_2021")
    assert (found.verdict, found.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
    assert "the one that the cable holds" in found.remedy
