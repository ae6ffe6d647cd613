"""The next best test: what tells most a minute, in the safest state, and never what could hurt."""

from typing import Final

import pytest

from checks.causes import Status
from checks.causes.next_test import Candidate, choose, minutes_of
from checks.causes.ranking import library_table
from checks.causes.safety import Way
from checks.check import CircuitState
from checks.record import Role
from checks.stations.all import BY_ID
from tests.builders import instruments, level_1
from tests.sound_visits import HARD_WIRED
from tests.unit.causes.calls import (
    CHARGES,
    LEVEL_1,
    LEVEL_2,
    NO_CIRCUMSTANCE,
    Plain,
    level_1_call,
    proposals,
    proposed,
    ranked,
    search,
    service_call,
    share,
)

LIVE = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
TRIPS: Plain = {"breaker.trip_history": {"when": "hours", "kind": "overcurrent"}}
TOLD: Plain = {
    "charger.behavior": CHARGES,
    "surroundings.circumstances": NO_CIRCUMSTANCE,
    "vehicle.trial": {"timer": "off", "others": "untried", "elsewhere": "untried"},
    "outlet.ground_fault_history": {"device": "none"},
    "outlet.burn_pattern": {"place": "none"},
    "connector.release": {"is_stuck": False},
    "breaker.trip_history": {"when": "never"},
}
INSULATION: Plain = {
    "run.insulation": {
        "place": "panel",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "300 MΩ",
        "second_ground": "300 MΩ",
        "between": "300 MΩ",
    }
}


# What must stand before a live test: what is left out bars it.
STANDING: Final[Plain] = (
    INSULATION
    | {
        c: HARD_WIRED[c]
        for c in (
            "panel.condition",
            "breaker.condition",
            "run.conductor",
            "run.grounding_conductor",
            "run.length",
            "run.protective_conductor",
            "run.polarity",
            "breaker.terminal_torque",  # taken off for the insulation, and landed again
            "outlet.terminal_torque",
            "run.damage",
            "charger.damage",
            "connector.pins",
            "vehicle.inlet_condition",
            "surroundings.place",
        )
    }
    | {"outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": False}}
)


def candidate(check: str, bits: float, minutes: int) -> Candidate:
    clue = next(c for c in library_table().clues.values() if c.check == check)
    return Candidate(BY_ID[check], clue, bits, Way((), False), minutes)


def test_most_information_a_minute_is_chosen() -> None:
    slow, quick = candidate("run.insulation", 0.5, 10), candidate("outlet.retention", 0.4, 4)
    assert choose((slow, quick)) is quick
    assert choose(()) is None


def test_of_two_that_tell_about_as_much_the_safer_one_is_chosen() -> None:
    live, looking = candidate("outlet.loaded_voltage", 0.5, 5), candidate("run.damage", 0.3, 5)
    assert choose((live, looking)) is looking
    assert choose((live, candidate("run.damage", 0.2, 5))) is live


@pytest.mark.parametrize(
    "seen",
    [
        {"outlet.damage": {"has_heat_marks": True, "is_cracked": False, "is_wet": False}},
        {"outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": True}},
        {"outlet.burn_pattern": {"place": "cord"}},
        {"breaker.trip_history": {"when": "hours", "kind": "unknown"}},
        {"breaker.trip_history": {"when": "hours", "kind": "overcurrent"}},
        {"outlet.ground_fault_history": {"device": "upstream", "when": "random"}},
    ],
    ids=["burnt", "wet", "burnt cord", "kind of trip unknown", "untested", "ground fault untested"],
)
def test_nothing_live_is_proposed_on_a_burnt_or_wet_part_or_behind_an_unknown_trip(
    seen: Plain,
) -> None:
    found = ranked(service_call(TOLD | LEVEL_2 | seen))
    assert found.barred
    asked = proposals(TOLD | LEVEL_2 | seen)
    assert asked
    assert [c for c in asked if BY_ID[c].state in LIVE] == []


def test_a_tripped_circuit_whose_insulation_is_proved_may_be_tested_live() -> None:
    found = ranked(service_call(TOLD | LEVEL_2 | TRIPS | INSULATION))
    assert found.barred == ()


def test_without_a_sign_of_danger_live_tests_are_among_those_proposed() -> None:
    asked = proposals(TOLD | LEVEL_2 | STANDING)
    assert [c for c in asked if BY_ID[c].state in LIVE]
    left_out = proposals(TOLD | LEVEL_2)
    assert not [c for c in left_out if BY_ID[c].state in LIVE], "nobody looked at what may burn"


def test_who_has_no_instrument_is_only_asked_to_look() -> None:
    asked = proposals(TOLD | LEVEL_2, instruments=())
    assert asked
    assert "charger.pilot_voltage" not in asked
    assert "run.insulation" not in asked
    fit = proposals(TOLD | LEVEL_2 | STANDING, instruments=instruments())
    assert "charger.pilot_voltage" in fit


def test_who_inspects_opens_nothing() -> None:
    asked = proposals(TOLD | LEVEL_2, role=Role.INSPECTS)
    assert asked
    assert [c for c in asked if BY_ID[c].opens] == []


def test_it_says_what_comes_first_and_counts_its_minutes() -> None:
    tests = proposed(search(service_call(TOLD | LEVEL_2 | TRIPS)))
    dead = next(t for t in tests if t.state is CircuitState.DEAD)
    assert {"Lock and tag", "Absence of voltage"} <= set(dead.first)
    own = minutes_of(BY_ID[dead.check])
    before = sum(minutes_of(c) for c in BY_ID.values() if c.title in dead.first)
    assert dead.minutes == own + before


def test_each_outcome_says_what_it_would_mean() -> None:
    test = ranked(level_1_call(TRIPS)).next_test
    assert test is not None
    assert sum(p.chance_pct for p in test.prospects) == pytest.approx(100, abs=2)
    assert all("ikeliest" in p.meaning for p in test.prospects)
    assert float(test.bits) > 0


def test_what_a_finding_waits_for_is_asked_for_until_it_is_told() -> None:
    """How much the kettle adds is not known before the charger's own current is."""
    entries: Plain = {
        "breaker.trip_history": {"when": "minutes", "kind": "overcurrent"},
        "run.dedicated": {"is_alone": False, "what": "kettle", "other_a": "12.5 A"},
    }
    found = ranked(service_call(entries, points=(level_1(),)))
    assert found.status is Status.OPEN
    assert found.next_test is not None
    assert found.next_test.check == "charger.configuration"
    assert [p.words for p in found.next_test.prospects] == [
        "Charger and other loads are more than the breaker holds",
        "Other loads on the circuit are too small to trip it",
    ]
    told = entries | {"charger.configuration": LEVEL_1["charger.configuration"]}
    assert ranked(service_call(told, points=(level_1(),))).status is Status.PROVEN


def test_volts_that_are_lost_somewhere_ask_for_the_run() -> None:
    """Ohm's law: only with its metal known can a joint be told from a long run."""
    lost: Plain = {
        "outlet.loaded_voltage": {
            "load": "vehicle",
            "outlet_no_load": "241.0 V",
            "current": "32.0 A",
            "outlet_loaded": "225.0 V",
            "panel_no_load": "241.2 V",
            "panel_loaded": "240.2 V",
        }
    }
    plates = {c: LEVEL_2[c] for c in ("breaker.rating", "charger.configuration")}
    slow: Plain = {"charger.behavior": CHARGES | {"is_slow": True}}
    asked = proposals(slow | plates | lost)
    assert "run.conductor" in asked
    assert "run.length" in proposals(
        slow | plates | lost | {"run.conductor": LEVEL_2["run.conductor"]}
    )


def test_a_nameplate_alone_proves_no_setting() -> None:
    """A charger that could give 40 A on a 40 A breaker may be set to the 32 A it may carry
    (80 %, NEC 625.42)."""
    plates: Plain = {
        "breaker.rating": {"rated_a": "40 A", "poles": "2"},
        "charger.nameplate": LEVEL_2["charger.nameplate"] | {"rated_a": "40 A"},
    }
    found = ranked(service_call(TRIPS | plates))
    assert found.status is Status.OPEN
    assert found.next_test is not None
    assert found.next_test.check == "charger.configuration"
    high = {"charger.configuration": LEVEL_2["charger.configuration"] | {"configured_a": "40 A"}}
    proven = ranked(service_call(TRIPS | plates | high))
    assert proven.status is Status.PROVEN
    assert proven.causes[0].cause == "charger_set_high"
    low = ranked(service_call(TRIPS | plates | LEVEL_2 | plates))
    assert share(low, "charger_set_high") < 0.05


def test_an_offer_below_the_nameplate_is_not_below_a_setting_that_was_not_read() -> None:
    slow: Plain = {
        "charger.behavior": CHARGES | {"is_slow": True},
        "charger.nameplate": LEVEL_2["charger.nameplate"] | {"rated_a": "40 A"},
    }
    offer: Plain = {"charger.offered_current": {"method": "amps", "amps": "32.0 A"}}
    before, found = ranked(service_call(slow)), ranked(service_call(slow | offer))
    assert share(found, "load_management") == share(before, "load_management")
    assert "charger.configuration" in proposals(slow | offer)
    high = {"charger.configuration": LEVEL_2["charger.configuration"] | {"configured_a": "40 A"}}
    held_back = ranked(service_call(slow | offer | high))
    assert share(held_back, "load_management") > 3 * share(before, "load_management")


def test_what_an_outcome_would_mean_is_what_is_said_once_it_is_found() -> None:
    told: Plain = {
        "charger.behavior": CHARGES,
        "breaker.trip_history": {"when": "minutes", "kind": "overcurrent"},
        "surroundings.circumstances": NO_CIRCUMSTANCE | {"is_with_other_loads": True},
    }
    test = ranked(level_1_call(told)).next_test
    assert test is not None
    assert test.check == "run.dedicated"
    (alone,) = [p for p in test.prospects if p.words == "Nothing else hangs on the circuit"]
    first = ranked(level_1_call(told | {"run.dedicated": {"is_alone": True}})).causes[0]
    assert first.cause != "shared_circuit"
    assert first.title.lower() in alone.meaning.lower()
    assert f"{first.share_pct} %" in alone.meaning


def test_what_is_left_that_cannot_be_told_apart_is_said() -> None:
    found = search(service_call(TOLD | LEVEL_2, instruments=(), role=Role.INSPECTS))
    assert found[0].status is Status.OPEN
    assert found[-1].status is Status.STUCK
    assert "cannot be told apart here" in found[-1].says


def test_the_insulation_is_asked_for_where_it_opens_the_way_to_what_tells_more() -> None:
    """After an overcurrent trip only volts and heat under load may be left to tell; the circuit is
    tested before it is closed again: common practice, no source."""
    looked: Plain = {
        "breaker.terminal_torque": {"occasion": "found", "found": "not loose"},
        "run.dedicated": {"is_alone": True},
        "breaker.condition": {"has_heat_marks": False, "is_damaged": False}
        | {"is_tripped_unknown": False},
        "surroundings.circumstances": NO_CIRCUMSTANCE | {"is_on_hot_days": True},
    }
    hours: Plain = {"breaker.trip_history": {"when": "hours", "kind": "overcurrent"}}
    looked = {k: v for k, v in STANDING.items() if k not in INSULATION} | looked
    asked = proposals(TOLD | LEVEL_2 | hours | looked)
    assert "run.insulation" in asked
    assert not any(BY_ID[c].state in LIVE for c in asked)
    tested = proposals(TOLD | LEVEL_2 | hours | looked | INSULATION)
    assert "breaker.temperature" in tested
    low = {"run.insulation": INSULATION["run.insulation"] | {"between": "0.20 MΩ"}}
    assert not any(BY_ID[c].state in LIVE for c in proposals(TOLD | LEVEL_2 | hours | looked | low))
