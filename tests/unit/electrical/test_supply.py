import pytest

from checks.electrical.supply import (
    CORNER_GROUNDED_DELTA,
    GROUND,
    HIGH_LEG_DELTA,
    SPLIT_PHASE,
    SYSTEMS,
    TWO_OF_WYE,
    WYE_208,
    WYE_480,
    System,
    highest_to_ground_v,
    line_currents_a,
    nominal_between_v,
    serves_line_to_neutral,
)
from checks.errors import OutOfTableError


@pytest.mark.parametrize(
    ("system", "first", "second", "volts"),
    [
        # NEMA/ANSI nominal systems; high leg 120 × √3 = 208 V (common practice, no source)
        (SPLIT_PHASE, "L1", "L2", 240),
        (SPLIT_PHASE, "L1", GROUND, 120),
        (WYE_208, "L1", "L2", 208),
        (WYE_208, "L3", GROUND, 120),
        (TWO_OF_WYE, "L1", "L2", 208),
        (TWO_OF_WYE, "L2", GROUND, 120),
        (WYE_480, "L1", GROUND, 277),
        (HIGH_LEG_DELTA, "L1", "L2", 240),
        (HIGH_LEG_DELTA, "L2", "L3", 240),
        (HIGH_LEG_DELTA, "L1", "L3", 240),
        (HIGH_LEG_DELTA, "L2", GROUND, 208),
        (CORNER_GROUNDED_DELTA, "L1", "L3", 240),
        (CORNER_GROUNDED_DELTA, "L2", GROUND, 0),
    ],
)
def test_a_system_has_its_nominal_voltages(
    system: System, first: str, second: str, volts: float
) -> None:
    assert nominal_between_v(system, first, second) == pytest.approx(volts, abs=0.2)


def test_no_120_v_load_stands_on_the_high_leg_or_without_a_neutral() -> None:
    assert not serves_line_to_neutral(HIGH_LEG_DELTA, "L2")
    assert serves_line_to_neutral(HIGH_LEG_DELTA, "L1")
    assert not serves_line_to_neutral(CORNER_GROUNDED_DELTA, "L1")
    assert not serves_line_to_neutral(WYE_480, "L1")


def test_a_circuit_that_avoids_the_high_leg_stays_under_150_v_to_ground() -> None:
    assert highest_to_ground_v(HIGH_LEG_DELTA) > 150
    assert highest_to_ground_v(HIGH_LEG_DELTA, ("L1", "L3")) < 150


def test_a_leg_to_leg_charger_loads_two_lines_of_a_wye_in_full() -> None:
    found = line_currents_a(WYE_208, {("L1", "L2"): 32.0})

    assert found == pytest.approx({"L1": 32.0, "L2": 32.0, "L3": 0.0})


def test_two_chargers_on_two_pairs_load_their_common_line_less_than_their_sum() -> None:
    found = line_currents_a(WYE_208, {("L1", "L2"): 32.0, ("L2", "L3"): 32.0})

    assert found["L2"] == pytest.approx(32 * 3**0.5)


def test_a_conductor_that_the_system_does_not_have_is_refused() -> None:
    with pytest.raises(OutOfTableError, match=r"no conductor 'L3'.*Use L1, L2 or ground"):
        nominal_between_v(SPLIT_PHASE, "L3")


def test_systems_go_by_their_own_names() -> None:
    assert all(SYSTEMS[name].name == name for name in SYSTEMS)
