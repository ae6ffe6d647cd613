from dataclasses import replace

import pytest

from checks.codes import profile
from checks.codes.ampacity import Wiring, conductor_ampacity, termination_column_c
from checks.codes.circuit import next_standard_a, required_circuit_a
from checks.codes.grounding import grounding_size
from checks.codes.sizing import largest_continuous_load_a, minimum_size, overcurrent_allowed_a
from checks.errors import OutOfTableError
from checks.source import Basis

NEC = profile("nec_2023")
THWN_2 = Wiring("6 AWG", "copper", "THWN-2", marked_c=75)

# Output, breaker, least copper at 60 and 75 °C, least aluminum at 60 and 75 °C, grounding
# conductor; worked by hand from NEC 2023 tables 310.16, 240.6(A), 240.4(D), 250.122.
CIRCUITS = [
    (12, 15, "14", "14", "12", "12", "14"),
    (16, 20, "12", "12", "10", "10", "12"),
    (20, 25, "10", "10", "10", "10", "10"),
    (24, 30, "10", "10", "8", "8", "10"),
    (28, 35, "8", "8", "8", "8", "10"),
    (30, 40, "8", "8", "6", "8", "10"),
    (32, 40, "8", "8", "6", "8", "10"),
    (36, 45, "6", "8", "4", "6", "10"),
    (40, 50, "6", "8", "4", "6", "10"),
    (44, 60, "6", "6", "4", "4", "10"),
    (48, 60, "4", "6", "3", "4", "10"),
    (56, 70, "4", "4", "2", "3", "8"),
    (64, 80, "3", "4", "1", "2", "8"),
    (72, 90, "2", "3", "1/0", "2", "8"),
    (80, 100, "1", "3", "1/0", "1", "8"),
]


@pytest.mark.parametrize("circuit", CIRCUITS, ids=lambda circuit: f"{circuit[0]} A")
def test_the_circuit_of_each_charger_size(
    circuit: tuple[int, int, str, str, str, str, str],
) -> None:
    output_a, breaker_a, *sizes, grounding = circuit
    columns = [("copper", 60), ("copper", 75), ("aluminum", 60), ("aluminum", 75)]

    needed_a = required_circuit_a(NEC, output_a).value

    assert next_standard_a(NEC, needed_a).value == breaker_a
    for (material, marked_c), size in zip(columns, sizes, strict=True):
        wiring = Wiring("", material, "THWN-2", marked_c=marked_c)
        found = minimum_size(NEC, wiring, output_a, breaker_a).size
        assert found == f"{size} AWG", (material, marked_c)
    assert grounding_size(NEC, breaker_a, "copper").size == f"{grounding} AWG"


def test_the_working_names_each_factor_and_its_clause() -> None:
    wiring = replace(THWN_2, ambient_c=43.0, current_carrying=6)

    lines = conductor_ampacity(NEC, wiring, 50).final_a.working

    assert "terminals marked 75 °C: 75 °C column (NEC (NFPA 70) 2023 110.14(C)(1)(a))" in lines
    assert "ambient 43 °C: × 0.87 (NEC (NFPA 70) 2023 table 310.15(B)(1)(1))" in lines
    assert "6 current-carrying: × 0.80 (NEC (NFPA 70) 2023 table 310.15(C)(1))" in lines
    assert lines[-1] == "ampacity here: the lesser, 52.2 A"


def test_insulation_weaker_than_the_terminals_decides_the_column() -> None:
    weak = replace(THWN_2, insulation="TW")

    assert conductor_ampacity(NEC, weak, 50).termination_a.value == 55


def test_an_ampacity_that_rests_on_memory_says_so() -> None:
    recalled = conductor_ampacity(NEC, replace(THWN_2, insulation="TW"), 50).final_a
    read = conductor_ampacity(NEC, THWN_2, 50).final_a

    assert recalled.source.basis is Basis.FROM_MEMORY
    assert read.source.can_prove


def test_conductors_for_dry_places_are_refused_in_wet_ones() -> None:
    with pytest.raises(OutOfTableError, match="THHN has no rating for a wet location"):
        conductor_ampacity(NEC, replace(THWN_2, insulation="THHN", is_wet=True), 50)


def test_a_wet_place_lowers_the_column_of_the_insulation() -> None:
    dry = conductor_ampacity(NEC, replace(THWN_2, insulation="XHHW"), 50)
    wet = conductor_ampacity(NEC, replace(THWN_2, insulation="XHHW", is_wet=True), 50)

    assert (dry.corrected_a.value, wet.corrected_a.value) == (75, 65)


@pytest.mark.parametrize(
    "wiring",
    [
        replace(THWN_2, insulation="ABC"),
        replace(THWN_2, material="steel"),
        replace(THWN_2, size="5 AWG"),
        replace(THWN_2, ambient_c=86.0),
        replace(THWN_2, material="aluminum", size="14 AWG"),
        replace(THWN_2, marked_c=50),
    ],
)
def test_outside_the_tables_there_is_no_ampacity(wiring: Wiring) -> None:
    with pytest.raises(OutOfTableError, match=r"Use one of|beyond the table|marking again"):
        conductor_ampacity(NEC, wiring, 50)


def test_terminals_marked_between_two_columns_take_the_lower() -> None:
    assert termination_column_c(NEC, 50, 80).value == 75


def test_equal_to_the_limit_carries_the_load() -> None:
    ampacity = conductor_ampacity(NEC, replace(THWN_2, size="8 AWG"), 50)

    assert largest_continuous_load_a(NEC, ampacity).value == 40


def test_next_size_up_is_not_for_circuits_with_several_receptacles() -> None:
    ampacity = conductor_ampacity(NEC, THWN_2, 60)

    assert overcurrent_allowed_a(NEC, THWN_2, ampacity).value == 70
    shared = overcurrent_allowed_a(NEC, THWN_2, ampacity, is_shared_by_receptacles=True)
    assert shared.value == 60


def test_no_conductor_of_the_table_is_large_enough() -> None:
    with pytest.raises(OutOfTableError, match="carries 300 A on a 400 A breaker"):
        minimum_size(NEC, THWN_2, 300, 400)


def test_no_standard_rating_beyond_the_list() -> None:
    with pytest.raises(OutOfTableError, match="up to 400 A"):
        next_standard_a(NEC, 401)


def test_a_grounding_conductor_is_never_larger_than_the_circuit_conductors() -> None:
    # a 15 A circuit in 14 AWG aluminum does not exist; a 60 A breaker on 12 AWG does, wrongly
    found = grounding_size(NEC, 60, "copper", installed_size="12 AWG", required_size="6 AWG")

    assert found.size == "12 AWG"
    assert found.working[-1].startswith("never larger")


def test_a_breaker_beyond_the_grounding_table_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="ends at 400"):
        grounding_size(NEC, 450, "copper")
