"""What a charging point gives: the numbers by hand, what they rest on, and what is refused."""

from random import Random
from typing import Any

import pytest
from hypothesis import given, settings

from checks.assess import Assessment, Expected, NightPlan, Refused, assess, expected, nights, notes
from checks.codes import profile
from checks.record import Decision, SignOff, Visit
from tests.builders import NOON, hard_wired, instruments, level_1, point, visit, with_entries
from tests.sound_visits import built
from tests.strategies import filled, seeds, shapes
from tests.unit.test_night import garage

Entries = dict[str, dict[str, Any]]
PLATE = {"rated_a": "48 A", "volts": "208-240", "is_listed": True, "enclosure": "type_3r"}
SET_32: Entries = {"charger.configuration": {"configured_a": "32 A", "access": "fixed"}}


def found(made: Visit) -> Expected:
    (one,) = expected(made, assess(made, profile(made.code)))
    assert isinstance(one, Expected), one
    return one


def refused(made: Visit) -> str:
    (one,) = expected(made, assess(made, profile(made.code)))
    assert isinstance(one, Refused), one
    return one.why


def gives(entries: Entries, **over: Any) -> Expected:
    return found(with_entries(visit(**over), entries))


@pytest.mark.parametrize(
    ("amps", "kw", "mi"),
    # Check values worked out beside the sources: range per hour at 27.4 kWh/100 mi
    [("32 A", "7.68", 28), ("48 A", "11.52", 42)],
)
def test_power_and_range_at_240_v(amps: str, kw: str, mi: int) -> None:
    made = gives({"charger.nameplate": {**PLATE, "rated_a": amps}}, points=(hard_wired(),))
    assert (made.power.value, made.power.unit) == (kw, "kW")
    assert made.range_mi == pytest.approx(mi, abs=0.5)
    assert made.range_km == pytest.approx(made.range_mi * 1.609344)


def test_power_and_range_of_a_level_1_cord_set() -> None:
    """12 A at 120 V are 1.44 kW: 5.3 mi in an hour; published for Level 1: 2 to 5 mi/h, US DOT."""
    plate = {"charger.nameplate": {**PLATE, "rated_a": "12 A", "volts": "120"}}
    made = gives(plate, points=(level_1(),))
    assert made.power.value == "1.44"
    assert made.range_mi == pytest.approx(5.3, abs=0.05)
    assert made.battery_kwh == pytest.approx((1.44 * 0.80, 1.44 * 0.85))
    assert ("Level 1", "What the vehicle itself uses weighs more here: it may be less") in (
        made.lines
    )


def test_the_time_for_a_stated_energy_by_hand() -> None:
    """30 kWh at 7.68 kW: / 0.92 = 4.25 h, / 0.87 = 4.49 h; the spread is that of the losses."""
    made = gives(SET_32)
    assert made.hours[1] == pytest.approx((4.246, 4.490), abs=0.001)
    time = dict(made.lines)["Time"]
    assert time == "10 kWh: 1.4 to 1.5 h; 30 kWh: 4.2 to 4.5 h; 60 kWh: 8.5 to 9.0 h"
    # two published levels: a 60 kWh battery from 20 to 80 % in 5.27 h at 7.68 kW and 0.89
    assert made.hours[1].low < 5.27 * 30 / 36 < made.hours[1].high


LOADED = {"outlet_no_load": "240.4 V", "current": "31.6 A", "outlet_loaded": "236.4 V"}
NO_LOAD = {"conductors": "two_lines", "line_line": "241.0 V"}


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ({}, "240 V, nominal, not measured"),
        ({"outlet.no_load_voltage": NO_LOAD}, "241.0 ± 2.8 V, measured without load"),
        (
            {"outlet.no_load_voltage": NO_LOAD, "outlet.loaded_voltage": LOADED},
            "236.4 ± 2.8 V, measured under load at 31.6 A",
        ),
    ],
)
def test_the_volts_are_the_best_that_were_read_and_say_so(entries: Entries, says: str) -> None:
    assert dict(gives({**SET_32, **entries}).lines)["Volts"].startswith(says)


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ({"charger.nameplate": PLATE}, "48 A, on the nameplate; how it is set was not read"),
        (
            {"charger.nameplate": PLATE, **SET_32},
            "32 A, as it is set; what it offers was not measured",
        ),
        # SAE J1772: a duty cycle of 50 % offers 30 A, 0.6 A for each per cent. By hand, the plain
        # class of 0.5 % and 5 counts: 2 / √3 × √(0.25² + 0.5²) = 0.645 % of duty, 0.39 A
        (
            {**SET_32, "charger.offered_current": {"method": "duty", "duty": "50.0 %"}},
            "30.00 ± 0.39 A, offered by the pilot signal",
        ),
    ],
)
def test_the_current_is_the_best_that_was_read_and_says_so(entries: Entries, says: str) -> None:
    assert dict(gives(entries, points=(hard_wired(),)).lines)["Current"] == says


def test_measured_power_carries_its_interval_into_energy_and_time() -> None:
    made = found(built("receptacle", {}))
    kw, spread = float(made.power.value), float(made.power.expanded)
    assert spread > 0
    assert made.battery_kwh.low == pytest.approx((kw - spread) * 0.87, abs=0.01)
    assert made.hours[0].high == pytest.approx(10 / 0.87 / (kw - spread), abs=0.01)
    assert not dict(made.lines)["Power"].startswith("about")
    assert dict(gives(SET_32).lines)["Power"] == "about 7.68 kW"


def test_a_meter_past_its_calibration_is_named() -> None:
    old = tuple(i.model_copy(update={"calibration_due": "2024-01-01"}) for i in instruments())
    made = gives({**SET_32, "outlet.loaded_voltage": LOADED}, instruments=old)
    assert "past its calibration" in dict(made.lines)["Not proved"]


def test_a_charger_that_shares_a_limit_says_so() -> None:
    made = garage("32 A", "48 A")
    each = expected(made, assess(made, profile(made.code)))
    assert all("Shared" in dict(e.lines) for e in each if isinstance(e, Expected))
    assert "Shared" not in dict(gives(SET_32).lines)


def test_points_that_are_alike_are_said_once() -> None:
    made = garage("32 A", "48 A", "32 A")
    each = expected(made, assess(made, profile(made.code)))
    assert [e.name for e in each] == ["Bay 1, Bay 3", "Bay 2"]


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        ({}, "Record the charger's setting or its nameplate first"),
        (
            {**SET_32, "charger.offered_current": {"method": "duty", "duty": "5.0 %"}},
            "It offered no current when its signal was read",
        ),
        # 3 counts of 1 V are more than the 2 V that were read
        (
            {**SET_32, "outlet.loaded_voltage": {"outlet_loaded": "2 V", "current": "31.6 A"}},
            "The readings are too uncertain",
        ),
        # a 40 A charger on a 14-30 receptacle: a judge found it, and no power is promised on it
        ({**SET_32, "outlet.configuration": {"kind": "14-30", "count": "single"}}, "Do not charge"),
    ],
)
def test_what_cannot_be_said_is_refused_with_what_to_do(entries: Entries, why: str) -> None:
    told = {**entries, "breaker.rating": {"rated_a": "40 A", "poles": "2"}}
    assert refused(with_entries(visit(points=(point(),)), told)).startswith(why)


def test_nothing_is_said_of_what_is_kept_out_of_service() -> None:
    out = SignOff(at=NOON, decision=Decision.KEEP_OUT, strokes=(((1, 2),),))
    made = with_entries(visit(signoff=out), SET_32)
    assert refused(made).startswith("It was decided to keep it out of service")


def test_a_grave_finding_at_one_point_leaves_the_others_theirs() -> None:
    made = garage("32 A", "32 A")
    bent = with_entries(made, {"connector.pins": {"is_pitted": True, "has_burn_marks": True}})
    assessed = assess(bent, profile(bent.code))
    first, second = expected(bent, assessed)
    assert isinstance(first, Refused)
    assert first.name == "Bay 1"
    assert isinstance(second, Expected)
    assert all(isinstance(n, Refused) for n in nights(bent, assessed))


def test_without_numbers_there_is_nothing_that_they_rest_on() -> None:
    made = visit()
    assert notes(expected(made, assess(made, profile(made.code))), ()) == ()


@settings(max_examples=60, deadline=None, derandomize=True)
@given(shapes(most_points=4), seeds)
def test_any_record_has_an_answer_and_always_the_same(shape: Visit, seed: int) -> None:
    made = filled(shape, Random(seed))
    assessed: Assessment = assess(made, profile(made.code))
    before = assessed.model_dump_json()
    said = expected(made, assessed), nights(made, assessed)
    assert said == (expected(made, assessed), nights(made, assessed))
    assert assessed.model_dump_json() == before
    names = ", ".join(e.name for e in said[0])
    assert all(p.name in names for p in made.points)
    unbarred = assessed.model_copy(update={"findings": ()})  # so that more of it is worked out
    for each in expected(made, unbarred):
        assert isinstance(each, Refused) or all(0 < h.low <= h.high for h in each.hours)
    for plan in nights(made, unbarred):
        limit_a = plan.limit_a if isinstance(plan, NightPlan) else 0.0
        stretches = plan.together if isinstance(plan, NightPlan) else ()
        assert all(0 <= s.current_a <= limit_a + 0.005 for s in stretches)
