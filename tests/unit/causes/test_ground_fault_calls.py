"""A ground-fault device trips in the rain: what is asked, what a reading proves, and what not.

Facts of the trade here: common practice, no source.
"""

import pytest

from checks.assess import assess
from checks.causes import Ranking, Standing, Status, View
from checks.causes.explaining import explained
from checks.check import Situation
from checks.codes import profile
from tests.builders import POINT, hard_wired
from tests.unit.causes.calls import (
    NO_CIRCUMSTANCE,
    Plain,
    find,
    proposals,
    ranked,
    service_call,
    share,
)

NEC = profile("nec_2023")
DARK: Plain = {"charger.behavior": {"start": "dead"}}
OPENED: Plain = {"outlet.ground_fault_history": {"device": "upstream", "when": "idle"}}
RAIN: Plain = {"surroundings.circumstances": NO_CIRCUMSTANCE | {"is_after_rain": True}}
WATER: Plain = {"outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": True}}


def shares(found: Ranking) -> dict[str, str]:
    return {c.cause: c.share for c in found.causes}


def test_behind_an_open_device_every_charger_is_dark() -> None:
    told = OPENED | RAIN | WATER
    asked, dark = ranked(service_call(told)), ranked(service_call(DARK | told))
    assert shares(dark) == shares(asked)
    assert dark.causes[0].cause == "moisture"
    moisture = find(dark, "moisture")
    assert moisture is not None
    assert "No light on the charger" not in [g.words for g in moisture.speaks_against]


def test_a_breaker_that_shows_a_ground_fault_leaves_it_dark_as_well() -> None:
    tripped = {"breaker.trip_history": {"when": "random", "kind": "ground_fault"}}
    assert shares(ranked(service_call(DARK | tripped | RAIN))) == shares(
        ranked(service_call(tripped | RAIN))
    )


def test_a_dark_charger_behind_a_closed_device_still_tells_of_its_supply() -> None:
    closed = {"outlet.ground_fault_history": {"device": "none"}}
    assert share(ranked(service_call(DARK | closed)), "supply_off") > 0.3


def test_what_explains_the_open_device_explains_the_dark_charger() -> None:
    made = service_call(DARK | OPENED)
    view = View(Situation(made, NEC, POINT), {})
    assert set(explained(view, {"run_insulation"})) == {
        "charger.behavior",
        "outlet.ground_fault_history",
    }
    assert explained(view, {"vehicle_timer"}) == ()


TOLD = (
    {"outlet.ground_fault_history": {"device": "both", "when": "start"}},
    {"breaker.trip_history": {"when": "random", "kind": "ground_fault"}},
    {"charger.behavior": {"start": "fault", "fault": "ground_fault", "is_offline": False}},
)


@pytest.mark.parametrize("told", TOLD)
def test_a_ground_fault_asks_for_rain_and_looks_for_water_before_any_tool(told: Plain) -> None:
    assert proposals(told)[:2] == ["surroundings.circumstances", "outlet.damage"]
    assert proposals(told | RAIN)[0] == "outlet.damage"
    assert not {"surroundings.circumstances", "outlet.damage"} & set(proposals(told | RAIN | WATER))


def test_water_in_the_charger_leaves_the_outlet_to_be_looked_at_for_what_else_it_shows() -> None:
    dry = {"surroundings.circumstances": NO_CIRCUMSTANCE}
    test = ranked(service_call(TOLD[0] | dry | {"charger.damage": {"has_water": True}})).next_test
    assert test is not None
    assert test.check == "outlet.damage"
    assert not [p.words for p in test.prospects if "Water" in p.words]


# -- a low reading through a receptacle ------------------------------------------------------------
LOW: Plain = {
    "run.insulation": {
        "place": "outlet",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "0.08 MΩ",
        "line2_ground": "290 MΩ",
        "between": "420 MΩ",
    }
}
RUN_ALONE = "run.insulation_alone"


def test_a_low_reading_through_a_receptacle_proves_nothing_of_the_run() -> None:
    for seen in ({}, WATER, RAIN | WATER):
        found = ranked(service_call(DARK | OPENED | LOW | seen))
        run = find(found, "run_insulation")
        assert run is None or run.standing is not Standing.PROVEN
    wet = ranked(service_call(DARK | OPENED | RAIN | WATER | LOW))
    assert wet.causes[0].cause == "moisture"


def test_it_is_read_once_more_with_the_receptacle_off() -> None:
    told = DARK | OPENED | RAIN | LOW | {"run.damage": {"is_damaged": False}}
    dry = WATER["outlet.damage"] | {"is_wet": False}
    told |= {"outlet.damage": dry, "breaker.trip_history": {"when": "never"}}
    assert RUN_ALONE in proposals(told)
    bad = ranked(service_call(told | {RUN_ALONE: {"is_off": True, "lowest": "0.09 MΩ"}}))
    assert (bad.causes[0].cause, bad.status) == ("run_insulation", Status.PROVEN)
    good = ranked(service_call(told | {RUN_ALONE: {"is_off": True, "lowest": "350 MΩ"}}))
    assert good.causes[0].cause == "moisture"
    assert share(good, "run_insulation") < 0.05


def test_a_hard_wired_charger_that_was_taken_off_leaves_the_run_alone() -> None:
    found = ranked(service_call(OPENED | LOW, points=(hard_wired(),)))
    assert (found.causes[0].cause, found.status) == ("run_insulation", Status.PROVEN)


# -- a sound reading with the panel closed ---------------------------------------------------------
FOUR_WIRE: Plain = {"outlet.configuration": {"kind": "14-50", "count": "single"}}
SOUND: Plain = {
    "outlet.ground_fault": {"device": "none"},
    "run.insulation": LOW["run.insulation"] | {"line_ground": "350 MΩ"},
}


def test_sound_lines_speak_against_the_run_though_the_neutral_stays_on_its_bar() -> None:
    told = DARK | OPENED | RAIN | FOUR_WIRE
    before = share(ranked(service_call(told)), "run_insulation")
    made = service_call(told | SOUND)
    assert assess(made, NEC).row("run.insulation", POINT).judgement.verdict == "borderline"
    after = find(ranked(made), "run_insulation")
    assert after is not None
    assert float(after.share) < before / 2
    assert any("every pair that could be tested" in g.words for g in after.speaks_against)


@pytest.mark.parametrize(
    "said",
    [
        {
            "line_ground": "1.01 MΩ"
        },  # IEC 60364-6 table 6A: at least 1.0 MΩ, within the meter's error
        {"test_v": "250"},  # texts differ, it may not prove
        {"place": "electronic", "lowest": "800 kΩ"},  # no short, which is not insulation
    ],
)
def test_a_reading_that_decides_nothing_weighs_nothing(said: dict[str, str]) -> None:
    told = DARK | OPENED | RAIN | FOUR_WIRE
    made = told | {"run.insulation": SOUND["run.insulation"] | said}
    assert shares(ranked(service_call(made))) == shares(ranked(service_call(told)))


def test_nor_does_one_of_a_tester_past_its_calibration() -> None:
    told = DARK | OPENED | RAIN | FOUR_WIRE
    made = service_call(told | SOUND)
    old = [i.model_copy(update={"calibration_due": "2020-01-01"}) for i in made.instruments]
    stale = made.model_copy(update={"instruments": tuple(old)})
    assert shares(ranked(stale)) == shares(ranked(service_call(told)))
