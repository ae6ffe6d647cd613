"""Laws of the limits over the whole range that an installation may have, under every code.

Monotony, inverses, and an answer or a refusal for people, never anything else.
"""

from contextlib import suppress
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.codes import PROFILES, circuit, receptacle, sizing
from checks.codes.ampacity import Wiring, conductor_ampacity
from checks.electrical import conductor, drop, energy, pilot, supply
from checks.errors import ChecksError, OutOfRangeError

EVERY_CODE = pytest.mark.parametrize("name", PROFILES)
brief = settings(max_examples=40, deadline=None, derandomize=True)
sizes = st.sampled_from(conductor.SIZES)
wirings = st.builds(
    Wiring,
    size=sizes,
    material=st.sampled_from(["copper", "aluminum"]),
    insulation=st.sampled_from(sorted(PROFILES["nec_2023"].conductors.insulation_c)),
    cable=st.sampled_from(["", "NM", "UF", "MC", "SE", "AC"]),
    is_in_insulation=st.booleans(),
    is_wet=st.booleans(),
    ambient_c=st.floats(-60, 120),
    current_carrying=st.integers(0, 60),
    marked_c=st.sampled_from([None, 60, 75, 90]),
)
circuits_a = st.sampled_from([15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 100.0, 125.0])


def carried_a(name: str, wiring: Wiring, circuit_a: float) -> float | None:
    """Ampacity, or nothing where it is refused; any other error fails the test."""
    try:
        return conductor_ampacity(PROFILES[name], wiring, circuit_a).final_a.value
    except ChecksError:
        return None


@EVERY_CODE
@brief
@given(wirings, circuits_a, st.floats(0, 40), st.integers(0, 20))
def test_ampacity_is_found_or_refused_and_never_grows_with_heat_or_company(
    name: str, wiring: Wiring, circuit_a: float, warmer_k: float, more: int
) -> None:
    here_a = carried_a(name, wiring, circuit_a)
    worse = replace(
        wiring,
        ambient_c=wiring.ambient_c + warmer_k,
        current_carrying=wiring.current_carrying + more,
    )
    there_a = carried_a(name, worse, circuit_a)

    if here_a is not None:
        assert here_a > 0
    if here_a is not None and there_a is not None:
        assert there_a <= here_a


@EVERY_CODE
@brief
@given(wirings, sizes, circuits_a)
def test_a_larger_size_carries_no_less(
    name: str, wiring: Wiring, other: str, circuit_a: float
) -> None:
    smaller, larger = sorted((wiring.size, other), key=conductor.SIZES.index)
    less_a = carried_a(name, replace(wiring, size=smaller), circuit_a)
    more_a = carried_a(name, replace(wiring, size=larger), circuit_a)

    if less_a is not None and more_a is not None:
        assert less_a <= more_a


@EVERY_CODE
@brief
@given(st.floats(6, 80))
def test_the_circuit_for_a_charger_and_the_charger_for_a_circuit_are_inverse(
    name: str, charger_a: float
) -> None:
    code = PROFILES[name]
    least_a = circuit.required_circuit_a(code, charger_a).value
    breaker_a = circuit.next_standard_a(code, least_a).value

    assert circuit.largest_charger_a(code, least_a).value == pytest.approx(charger_a)
    assert circuit.largest_charger_a(code, breaker_a).value >= charger_a * (1 - 1e-12)


@EVERY_CODE
@brief
@given(st.floats(6, 48), st.sampled_from(["copper", "aluminum"]), st.floats(30, 50))
def test_the_smallest_size_carries_the_load_and_the_next_smaller_does_not(
    name: str, load_a: float, material: str, ambient_c: float
) -> None:
    code = PROFILES[name]
    breaker_a = circuit.next_standard_a(code, circuit.required_circuit_a(code, load_a).value).value
    wiring = Wiring("", material, "THWN-2", ambient_c=ambient_c, marked_c=75)
    found = sizing.minimum_size(code, wiring, load_a, breaker_a).size

    def serves(size: str) -> bool:
        sized = replace(wiring, size=size)
        ampacity = conductor_ampacity(code, sized, breaker_a)
        return (
            sizing.largest_continuous_load_a(code, ampacity).value >= load_a * (1 - 1e-12)
            and sizing.overcurrent_allowed_a(code, sized, ampacity).value >= breaker_a
        )

    assert serves(found)
    smaller = [
        size
        for size in code.conductors.ampacity_a.value[material]
        if conductor.SIZES.index(size) < conductor.SIZES.index(found)
    ]
    assert not any(serves(size) for size in smaller)


@EVERY_CODE
@brief
@given(st.text(max_size=8) | st.sampled_from(["14-50", "L6-30", "TT-30"]), st.floats(0, 200))
def test_a_receptacle_of_any_name_is_judged_or_refused(
    name: str, kind: str, breaker_a: float
) -> None:
    with suppress(ChecksError):
        assert 0 <= receptacle.plug_load_limit_a(PROFILES[name], kind, breaker_a).value <= breaker_a


@brief
@given(sizes, st.floats(1, 300), st.floats(1, 80), st.floats(-20, 90), st.floats(1, 1.2))
def test_more_is_lost_on_the_way_with_length_current_and_heat(
    size: str, length_m: float, current_a: float, temp_c: float, factor: float
) -> None:
    def lost_v(length: float, amps: float, temp: float) -> float:
        return float(drop.drop_v(amps, conductor.resistance_ohm(size, "copper", length, temp)))

    here_v = lost_v(length_m, current_a, temp_c)
    assert lost_v(length_m * factor, current_a, temp_c) >= here_v
    assert lost_v(length_m, current_a * factor, temp_c) >= here_v
    assert lost_v(length_m, current_a, temp_c + 20 * (factor - 1)) >= here_v


@brief
@given(st.floats(6, 80))
def test_every_current_between_6_and_80_a_has_its_duty_cycle_or_is_refused(
    current_a: float,
) -> None:
    try:
        duty_pct, is_in_gap = pilot.duty_for(current_a), False
    except OutOfRangeError:
        # SAE J1772: the lower slope ends with 51 A, the upper one starts above 52.5 A
        duty_pct, is_in_gap = 0.0, True

    assert is_in_gap == (51 < current_a <= 52.5)
    assert is_in_gap or pilot.offered(duty_pct).current_a == pytest.approx(current_a)


@brief
@given(st.floats(-50, 150))
def test_a_duty_cycle_has_an_offer_or_is_none(duty_pct: float) -> None:
    if 0 <= duty_pct <= 100:
        assert 0 <= pilot.offered(duty_pct).current_a <= 80
    else:
        with pytest.raises(OutOfRangeError, match="%"):
            pilot.offered(duty_pct)


@brief
@given(st.floats(10, 120), st.floats(0, 90), st.floats(1, 10), st.floats(1, 20), st.floats(1, 3))
def test_more_energy_takes_longer_and_more_power_is_faster(
    battery_kwh: float, from_pct: float, more_pct: float, slow_kw: float, factor: float
) -> None:
    to_pct, fast_kw = from_pct + more_pct, factor * slow_kw
    slow = energy.charging_time_h(battery_kwh, from_pct, to_pct, slow_kw, 2)
    fast = energy.charging_time_h(battery_kwh, from_pct, to_pct, fast_kw, 2)
    half = energy.charging_time_h(battery_kwh, from_pct, (from_pct + to_pct) / 2, slow_kw, 2)

    assert all(f <= s for f, s in zip(fast, slow, strict=True))
    assert all(h <= s for h, s in zip(half, slow, strict=True))
    # what the wall gives is never less than what the battery takes
    assert slow_kw * min(slow) >= battery_kwh * (to_pct - from_pct) / 100


@brief
@given(st.lists(st.floats(0, 80), min_size=3, max_size=3))
def test_no_line_of_a_wye_carries_more_than_the_two_loads_on_it(amps: list[float]) -> None:
    pairs = (("L1", "L2"), ("L2", "L3"), ("L3", "L1"))
    loads = dict(zip(pairs, amps, strict=True))
    found = supply.line_currents_a(supply.WYE_208, loads)

    for line, carried in found.items():
        own = [each for pair, each in loads.items() if line in pair]
        assert carried <= sum(own) + 1e-9
        assert carried >= max(own, default=0.0) - 1e-9
