import pytest

from checks.codes import profile
from checks.codes.answer import Outcome
from checks.codes.circuit import supply_band
from checks.codes.dwelling import DwellingLoad, Service
from checks.codes.grounding import ground_fault_required
from checks.codes.headroom import dwelling_room
from checks.codes.load import (
    headroom_a,
    largest_charger_that_fits_a,
    measured_demand,
)
from checks.codes.place import supply_cord_m, working_space
from checks.codes.receptacle import (
    configuration,
    cover_required,
    is_voltage_served,
    receptacle_against_circuit,
    receptacle_permitted,
)
from checks.errors import OutOfRangeError, OutOfTableError
from checks.source import Basis

NEC = profile("nec_2023")


@pytest.mark.parametrize(
    ("name", "nominal_v", "is_served"),
    [
        ("14-50", 120, True),
        ("14-50", 240, True),
        ("6-50", 240, True),
        ("6-50", 208, True),
        ("6-50", 120, False),
        ("5-20", 120, True),
        ("5-20", 240, False),
        ("TT-30", 240, False),
    ],
)
def test_a_configuration_brings_its_own_voltages(
    name: str, nominal_v: int, is_served: bool
) -> None:
    # NEMA WD 6: 125 V class for 120 V; 250 V class for 208 V and 240 V
    assert is_voltage_served(NEC, name, nominal_v) is is_served


def test_an_unknown_configuration_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="no row for receptacle 14-51"):
        configuration(NEC, "14-51")


def test_a_receptacle_without_ground_is_refused_with_the_reason() -> None:
    ruling = receptacle_permitted(NEC, "10-50", is_fastened=True)

    assert ruling.outcome is Outcome.NO
    assert "no adapter can make one" in ruling.why


def test_a_permission_that_was_not_read_in_this_edition_proves_nothing() -> None:
    ruling = receptacle_permitted(NEC, "14-60", is_fastened=False)

    assert ruling.outcome is Outcome.YES
    assert ruling.source.basis is Basis.DOUBTFUL


def test_two_receptacles_on_a_circuit_without_a_row_are_refused() -> None:
    with pytest.raises(OutOfTableError, match="no row for circuit, A 60"):
        receptacle_against_circuit(NEC, "14-50", 60, is_single=False)


def test_a_dry_place_needs_no_weatherproof_cover() -> None:
    assert cover_required(NEC, "dry", 50).outcome is Outcome.NO


def test_only_small_receptacles_are_of_the_weather_resistant_type() -> None:
    assert "weather-resistant" not in cover_required(NEC, "wet", 50).why
    assert "weather-resistant" in cover_required(NEC, "wet", 20).why


def test_a_place_that_is_none_of_the_three_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="Use one of dry, damp, wet"):
        cover_required(NEC, "moist", 50)


def test_every_clause_that_asks_for_ground_fault_protection_is_named() -> None:
    ruling = ground_fault_required(
        NEC,
        is_receptacle=True,
        place="garage",
        is_dwelling=True,
        volts_to_ground_v=120,
        breaker_a=50,
    )

    assert [source.clause for source in ruling.sources] == ["625.54", "210.8(A)"]


@pytest.mark.parametrize(
    ("place", "is_dwelling", "breaker_a", "outcome"),
    [
        ("outdoors", True, 50, Outcome.READ_TWO_WAYS),
        ("garage", True, 40, Outcome.READ_TWO_WAYS),
        ("outdoors", True, 60, Outcome.NO),
        ("dry indoors", True, 50, Outcome.NO),
        ("outdoors", False, 50, Outcome.NO),
    ],
)
def test_only_the_disputed_rule_reaches_hard_wired_chargers(
    place: str, is_dwelling: bool, breaker_a: float, outcome: Outcome
) -> None:
    ruling = ground_fault_required(
        NEC,
        is_receptacle=False,
        place=place,
        is_dwelling=is_dwelling,
        volts_to_ground_v=120,
        breaker_a=breaker_a,
    )

    assert ruling.outcome is outcome
    if outcome is Outcome.READ_TWO_WAYS:
        assert not ruling.source.can_prove


def test_a_large_panel_widens_its_working_space() -> None:
    space = working_space(NEC, 120, equipment_width_m=0.9, equipment_height_m=2.2)

    assert (space.depth_m.value, space.width_m.value, space.height_m.value) == (0.9, 0.9, 2.2)


def test_a_working_space_has_three_conditions() -> None:
    with pytest.raises(OutOfTableError, match="condition 1, 2 or 3"):
        working_space(NEC, 120, condition=4)


def test_an_unknown_kind_of_cord_is_refused() -> None:
    assert supply_cord_m(NEC, "portable").value == pytest.approx(0.3, abs=0.005)
    with pytest.raises(OutOfTableError, match="Use one of portable, fastened"):
        supply_cord_m(NEC, "loose")


def test_a_supply_that_has_no_band_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="no row for supply voltage"):
        supply_band(NEC, 230)


def test_a_full_panel_has_negative_room_and_no_charger_fits() -> None:
    assert headroom_a(NEC, 100, 90).value == -12.5
    assert [each.value for each in largest_charger_that_fits_a(NEC, 100, 90)] == [0.0, 0.0]


@pytest.mark.parametrize(("rating_a", "demand_a"), [(0, 10), (100, -1)])
def test_an_impossible_panel_is_refused(rating_a: float, demand_a: float) -> None:
    with pytest.raises(OutOfRangeError, match="Enter the rating"):
        headroom_a(NEC, rating_a, demand_a)


def test_where_the_readings_differ_both_totals_are_shown_and_nothing_is_proved() -> None:
    found = measured_demand(NEC, 100, 40, 48)

    assert found.ruling.outcome is Outcome.READ_TWO_WAYS
    assert not found.ruling.source.can_prove
    assert "new load 48 A × 1 + 50 A = 98 A, fits 100 A" in found.working
    assert "new load 48 A × 1.25 + 50 A = 110 A, exceeds 100 A" in found.working


def test_where_the_readings_agree_the_clause_decides() -> None:
    found = measured_demand(NEC, 100, 40, 32)

    assert found.ruling.outcome is Outcome.YES
    assert found.ruling.source.can_prove


def test_a_small_charger_counts_the_floor_and_says_that_it_is_doubtful() -> None:
    dwelling = DwellingLoad(100.0, 2, 1, (), charger_va=2_880.0)
    results = dwelling_room(NEC, dwelling, Service(100.0)).results
    with_floor = next(each for each in results if each.title == "optional calculation").cautious

    assert any(
        "EV supply equipment: 2880 VA, not less than 7200 VA: 7200 VA" in line
        for line in with_floor.working
    )
    assert with_floor.source.basis is Basis.DOUBTFUL
