"""Laws of the physics over their whole range: monotony, inverses, and a refusal outside."""

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.electrical import (
    breaker,
    conductor,
    drop,
    ground_fault,
    leakage,
    pilot,
    pilot_circuit,
    sharing,
)
from checks.electrical.pilot import PilotState
from checks.errors import OutOfRangeError

brief = settings(max_examples=60, deadline=None)
sizes = st.sampled_from(conductor.SIZES)
lengths = st.floats(0.5, 300)
amps = st.floats(1, 80)
temperatures = st.floats(conductor.COLDEST_C, conductor.HOTTEST_C)
metals = st.sampled_from(sorted(conductor.METALS))


@brief
@given(sizes, metals, lengths, temperatures, st.floats(1.01, 3))
def test_resistance_grows_with_length_and_temperature_and_falls_with_size(
    size: str, metal: str, length_m: float, temp_c: float, factor: float
) -> None:
    found = conductor.resistance_ohm(size, metal, length_m, temp_c)
    warmer_c = min(conductor.HOTTEST_C, temp_c + factor)
    thicker = conductor.SIZES[min(len(conductor.SIZES) - 1, conductor.SIZES.index(size) + 1)]

    assert conductor.resistance_ohm(size, metal, factor * length_m, temp_c) == pytest.approx(
        factor * found
    )
    assert conductor.resistance_ohm(size, metal, length_m, warmer_c) >= found
    assert conductor.resistance_ohm(thicker, metal, length_m, temp_c) <= found


@brief
@given(st.floats(-300, 300).filter(lambda c: not -40 <= c <= 120))
def test_a_temperature_outside_the_linear_range_is_refused(temp_c: float) -> None:
    with pytest.raises(OutOfRangeError):
        conductor.resistance_ohm("6 AWG", "copper", 1.0, temp_c)


@brief
@given(lengths, amps, st.floats(2, 12))
def test_the_smallest_size_is_the_one_whose_longest_run_reaches(
    length_m: float, current_a: float, limit_v: float
) -> None:
    table = {size: conductor.resistance_ohm(size, "copper", 1.0, 75.0) for size in conductor.SIZES}
    longest_m = {size: limit_v / (2 * current_a * per_m) for size, per_m in table.items()}
    reaching = [size for size, most_m in longest_m.items() if most_m >= length_m]

    if reaching:
        found = drop.smallest_size(limit_v, current_a, length_m * (1 - 1e-12), table)
        assert found == reaching[0]


@brief
@given(st.floats(0, 100))
def test_every_duty_cycle_has_one_band_and_an_offer_between_0_and_80_a(duty_pct: float) -> None:
    found = pilot.offered(duty_pct)

    assert 0 <= found.current_a <= pilot.MOST_A
    if 10 <= duty_pct <= 85 or 85 < duty_pct <= 96:
        assert pilot.duty_for(found.current_a) == pytest.approx(duty_pct, abs=1e-9)


@brief
@given(st.sampled_from([PilotState.B, PilotState.C, PilotState.D]), st.floats(0, 5000))
def test_contact_resistance_is_found_again_from_the_positive_peak(
    state: PilotState, ohm: float
) -> None:
    # the divider by hand: 12 V, 1 kΩ, a diode of 0.7 V, the vehicle's resistor and the contact
    vehicle_ohm = pilot_circuit.VEHICLE_OHM[state] + ohm
    positive_v = 0.7 + 11.3 * vehicle_ohm / (vehicle_ohm + 1000.0)

    assert pilot_circuit.series_ohm(positive_v, state) == pytest.approx(ohm, abs=1e-6)


@brief
@given(st.floats(100, 1e6))
def test_a_leak_is_found_again_from_the_negative_peak(ohm: float) -> None:
    # the divider by hand; the vehicle's diode blocks
    assert pilot_circuit.leak_ohm(-12.0 * ohm / (ohm + 1000.0)) == pytest.approx(ohm)


@brief
@given(st.floats(6, 264), st.floats(6, 264))
def test_a_larger_fault_is_interrupted_no_later(one_ma: float, other_ma: float) -> None:
    less, more = sorted((one_ma, other_ma))

    assert ground_fault.trip_time_limit_s(more) <= ground_fault.trip_time_limit_s(less)


@brief
@given(st.floats(0.1, 5), st.floats(0.1, 5), st.floats(-20, 70), st.floats(0, 40))
def test_a_breaker_trips_no_later_with_more_current_or_more_heat(
    one: float, other: float, air_c: float, local_k: float
) -> None:
    less, more = sorted((one, other))
    cool = breaker.trip_spread_s(20, [20 * less], air_c=air_c)
    hot = breaker.trip_spread_s(20, [20 * less], air_c=air_c, local_heat_k=local_k)
    loaded = breaker.trip_spread_s(20, [20 * more], air_c=air_c)

    for cold_s, hot_s, loaded_s in zip(cool, hot, loaded, strict=True):
        assert hot_s <= cold_s
        assert loaded_s <= cold_s


@brief
@given(st.floats(0, 30), st.floats(0, 30))
def test_a_device_that_must_open_must_at_any_larger_fault(one_ma: float, other_ma: float) -> None:
    less, more = sorted((one_ma, other_ma))
    pair = (leakage.CLASS_A_DEVICE, leakage.CCID20)

    for small, large in zip(
        leakage.in_series(*pair, less)[:2], leakage.in_series(*pair, more)[:2], strict=True
    ):
        assert small.must <= large.must
        assert small.may <= large.may


@brief
@given(st.floats(0, 300), st.lists(st.floats(6, 80), max_size=12))
def test_shares_keep_limit_wish_and_floor_and_are_as_even_as_can_be(
    limit_a: float, wishes_a: list[float]
) -> None:
    shares = sharing.fair_share_a(limit_a, wishes_a)
    served = [pair for pair in zip(shares, wishes_a, strict=True) if pair[0] > 0]

    assert sum(shares) <= limit_a + 1e-6
    assert all(pilot.LEAST_A - 1e-6 <= share <= wish for share, wish in served)
    held = [share for share, wish in served if share < wish - 1e-6]
    largest = max((share for share, _ in served), default=inf)
    # who gets less than it wants gets as much as anybody
    assert all(share == pytest.approx(largest, abs=1e-6) for share in held)
