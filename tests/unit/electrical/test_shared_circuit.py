from math import inf

import pytest

from checks.electrical.breaker import Step
from checks.electrical.shared_circuit import HOUSEHOLD, trip_beside_charging_s, tripping_loads


def test_a_kettle_beside_12_a_trips_15_a_and_lighting_does_not() -> None:
    # common practice, no source
    found = tripping_loads(15.0, 12.0)

    assert "kettle, 1500 W" in found
    assert "lighting" not in found
    assert "freezer" not in found


def test_a_larger_breaker_and_a_smaller_charger_trip_on_fewer_loads() -> None:
    assert set(tripping_loads(20.0, 12.0)) < set(tripping_loads(15.0, 12.0))
    assert set(tripping_loads(15.0, 8.0)) < set(tripping_loads(15.0, 12.0))


def test_loads_are_named_soonest_first() -> None:
    times = [spread.nominal_s for spread in tripping_loads(15.0, 12.0).values()]

    assert times == sorted(times)


def test_a_load_that_is_off_in_time_does_not_trip() -> None:
    kettle = HOUSEHOLD["kettle, 1500 W"]
    time_s = trip_beside_charging_s(15.0, 12.0, kettle).nominal_s

    assert trip_beside_charging_s(15.0, 12.0, Step(12.5, time_s - 1)).nominal_s == inf


@pytest.mark.parametrize("name", [n for n in HOUSEHOLD if n[-2:] in (" W", " A")])
def test_what_a_loads_name_says_is_its_current_at_120_v(name: str) -> None:
    size, unit = name.split()[-2:]

    # watts of the nameplate by Ohm's law; the current is kept to a tenth
    amps = float(size) / (120.0 if unit == "W" else 1.0)
    assert HOUSEHOLD[name].current_a == pytest.approx(amps, abs=0.05)
