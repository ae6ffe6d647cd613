import pytest

from checks.electrical import drop, hidden_resistance
from checks.electrical.conductor import resistance_ohm
from checks.errors import OutOfRangeError, OutOfTableError


def test_two_phases_are_no_circuit() -> None:
    with pytest.raises(OutOfTableError, match="Use 1 for a two-wire circuit or 3"):
        drop.drop_v(10.0, 0.1, phases=2)


def test_a_percentage_needs_a_nominal_voltage() -> None:
    with pytest.raises(OutOfRangeError, match="120, 208 or 240 V"):
        drop.percent_of_nominal(3.0, 0.0)


def test_the_metal_of_a_run_explains_the_drop_of_its_loop() -> None:
    run = ("6 AWG", "copper", 30.0, 40.0)

    metal_v = drop.drop_v(40.0, resistance_ohm(*run))
    assert metal_v == pytest.approx(40.0 * hidden_resistance.metal_loop_ohm(*run))


# 8 and 6 AWG copper, NEC 2023 chapter 9 table 8: 0.778 and 0.491 Ω/1000 ft, 304.8 m
COPPER = {"8 AWG": 0.778 / 304.8, "6 AWG": 0.491 / 304.8}


@pytest.mark.parametrize(
    ("length_m", "size"),
    # 7.2 V, 3 % of 240 V, at 32 A: 7.2 / (2 × 32 × 0.778 / 304.8) = 44.07 m; 69.8 m of 6 AWG
    [(44.0, "8 AWG"), (44.2, "6 AWG"), (69.8, "6 AWG")],
)
def test_the_smallest_size_keeps_the_limit_and_the_next_smaller_does_not(
    length_m: float, size: str
) -> None:
    assert drop.smallest_size(7.2, 32.0, length_m, COPPER) == size


def test_a_run_that_no_size_serves_is_refused() -> None:
    with pytest.raises(OutOfTableError, match=r"keeps 32 A over 70 m within 7.2 V"):
        drop.smallest_size(7.2, 32.0, 70.0, COPPER)
