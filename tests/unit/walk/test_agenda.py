"""What comes next, and which circuit state may be entered, on the invented demo visit."""

import json
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest

from checks import codes
from checks.assess import Assessment, assess
from checks.check import CircuitState
from checks.path import Station
from checks.record import Role, StateEntry, Visit
from checks.verdict import Severity
from fieldapp import demo
from fieldapp.store.visits import Store
from fieldapp.theme import asset
from fieldapp.walk.agenda import LOOKED_AT, next_step, steps
from fieldapp.walk.circuit import gate, state_now
from fieldapp.walk.visit import Walk, WalkError
from tests.builders import POINT
from tests.sound_visits import built

SEATED = {"is_held": "yes", "has_clicked": "yes", "is_rocking": "no", "gap": "0.0 mm"}


@pytest.fixture(scope="module")
def walked() -> Visit:
    """The demo's record with a sound joint, so that it stays under load to the end."""
    return walk_to_the_end({})


@pytest.fixture(scope="module")
def charged() -> Visit:
    """The same with an adapter that seats, so that the vehicle may be charged through it."""
    return walk_to_the_end({"adapter.seating": SEATED})


def walk_to_the_end(changes: dict[str, Any]) -> Visit:
    scenario = json.loads(asset("demo/orchard.json").read_text(encoding="utf-8"))
    warm = {
        "sign": "none",
        "method": "contact",
        "surface": "31.0 °C",
        "ambient": "22.0 °C",
        "current": "39.6 A",
    }
    scenario["checks"] |= {
        "outlet.loaded_voltage": {
            "load": "test load",
            "plan": "panel",
            "outlet_no_load": "239.2 V",
            "current": "39.6 A",
            "outlet_loaded": "231.4 V",
            "panel_no_load": "239.4 V",
            "panel_loaded": "237.7 V",
        },
        "outlet.temperature": warm,
        "connector.temperature": warm,
        **changes,
    }
    return demo.walk_scenario(scenario)[0].model_copy(update={"signoff": None})


def assessed(visit: Visit) -> Assessment:
    return assess(visit, codes.profile(visit.code))


def coming(visit: Visit) -> object:
    point = visit.points[0]
    return next_step(steps(visit, assessed(visit), point), state_now(visit, point.id))


def without(visit: Visit, check: str) -> Visit:
    return visit.model_copy(update={"entries": tuple(e for e in visit.entries if e.check != check)})


def dead_again(visit: Visit) -> Visit:
    last = max(e.number for e in (*visit.entries, *visit.states))
    made = StateEntry(
        number=last + 1, point=visit.points[0].id, state="dead and proved", at=visit.started
    )
    return visit.model_copy(update={"states": (*visit.states, made)})


def test_nothing_is_owed_at_the_end(walked: Visit) -> None:
    assert coming(walked) is None


def test_a_dead_check_that_was_passed_by_brings_the_walk_back_to_dead(walked: Visit) -> None:
    assert coming(without(walked, "breaker.terminal_torque")) is CircuitState.DEAD


def test_what_waits_for_a_mended_part_is_not_what_comes_next(walked: Visit) -> None:
    """No charging through the adapter that does not seat, so its temperature is not asked for."""
    assert coming(without(walked, "adapter.temperature")) is None


def test_volts_read_before_the_circuit_was_made_dead_again_open_no_load(walked: Visit) -> None:
    point = walked.points[0].id
    assert gate(assessed(walked), point, CircuitState.UNDER_LOAD).is_open
    again = gate(assessed(dead_again(walked)), point, CircuitState.UNDER_LOAD)
    assert not again.is_open
    assert "outlet.no_load_voltage" in again.waiting


def test_a_load_is_put_on_an_energised_circuit_only(walked: Visit, tmp_path: Path) -> None:
    only_dead = walked.model_copy(update={"states": walked.states[:1]})
    with Store(tmp_path) as store:
        store.save(only_dead.model_dump(mode="json"))
        walk = Walk(store, only_dead.id, lambda: datetime(2026, 5, 12, 12, tzinfo=UTC))
        assert walk.state is CircuitState.DEAD
        assert gate(walk.assessment, walk.point_id, CircuitState.UNDER_LOAD).is_open
        with pytest.raises(WalkError, match="not energised"):
            walk.enter_state(CircuitState.UNDER_LOAD)
        walk.enter_state(CircuitState.ENERGISED)
        walk.enter_state(CircuitState.UNDER_LOAD)
        assert walk.state is CircuitState.UNDER_LOAD


def judged_anew(visit: Visit, check: str, **changed: str) -> Visit:
    """Make an entry again with some of its answers changed."""
    entry = next(e for e in visit.entries if e.check == check)
    answers = []
    for answer in entry.answers:
        new = changed.get(answer.input)
        if new is None:
            answers.append(answer)
            continue
        key = {"reading": "value", "choice": "option", "yes_no": "yes"}[answer.kind]
        value = new == "yes" if key == "yes" else new
        answers.append(answer.model_copy(update={key: value}))
    last = max(e.number for e in (*visit.entries, *visit.states))
    made = entry.model_copy(update={"number": last + 1, "answers": tuple(answers)})
    return visit.model_copy(update={"entries": (*visit.entries, made)})


def test_what_is_looked_at_ends_at_the_panel_where_dead_work_begins(walked: Visit) -> None:
    """From the bay back to the panel, then with the current: the fewest trips. Common practice."""
    empty = walked.model_copy(update={"entries": (), "states": ()})
    found = steps(empty, assessed(empty), empty.points[0])
    looked_at = [s.row.station for s in found if s.row.state in LOOKED_AT]
    assert [s for s, _ in groupby(looked_at)] == sorted(
        set(looked_at), key=list(Station).index, reverse=True
    )
    dead = [s.row.check for s in found if s.row.state is CircuitState.DEAD]
    assert dead[:3] == [
        "breaker.lock_and_tag",
        "breaker.absence_of_voltage",
        "panel.absence_of_voltage",
    ]
    # conductors are off the breaker for the insulation test, so they are tightened after it
    assert dead[-1] == "breaker.terminal_torque"
    assert dead.index("run.insulation") < dead.index("outlet.terminal_torque")
    inspected = empty.model_copy(update={"role": Role.INSPECTS})
    along = [s.row.station for s in steps(inspected, assessed(inspected), inspected.points[0])]
    assert along[0] is Station.SERVICE  # who opens nothing ends in the bay, where the tests are


HOT = {"sign": "smell"}


def test_a_danger_that_is_seen_keeps_every_live_state_shut(walked: Visit) -> None:
    point = walked.points[0].id
    wrong = assessed(judged_anew(walked, "outlet.configuration", kind="5-15"))
    for state in (CircuitState.ENERGISED, CircuitState.UNDER_LOAD):
        assert "outlet.configuration" in gate(wrong, point, state).waiting


WET = {"surroundings.place": {"location": "outdoors", "wetness": "wet"}}


@pytest.mark.parametrize(
    ("check", "found"),
    [
        # NEC 2023 625.6 (listing), 110.3(B); enclosure types: NEMA 250, common practice
        ("charger.nameplate", {"charger.nameplate": {"is_listed": False}}),
        ("charger.nameplate", WET | {"charger.nameplate": {"enclosure": "type_2"}}),
        ("outlet.cover", WET),  # NEC 2023 406.9(B): weatherproof with the plug in
        ("outlet.ground_fault", {"outlet.ground_fault": {"device": "none"}}),  # NEC 2023 625.54
        # NEC 2023 table 250.122: 10 AWG copper on 40 A to 60 A
        ("run.grounding_conductor", {"run.grounding_conductor": {"size": "14 AWG"}}),
    ],
)
def test_a_warning_is_not_used_until_it_is_mended(
    check: str, found: dict[str, dict[str, Any]]
) -> None:
    """The signal word of ANSI Z535, as the design has it: warning, do not use until mended."""
    wrong = assessed(built("receptacle", found))
    assert wrong.row(check, POINT).judgement.severity is Severity.WARNING
    assert check in gate(wrong, POINT, CircuitState.UNDER_LOAD).waiting
    assert check not in gate(wrong, POINT, CircuitState.ENERGISED).waiting
    sound = assessed(built("receptacle", {}))
    assert check not in gate(sound, POINT, CircuitState.UNDER_LOAD).waiting


def test_a_warning_that_a_load_test_found_is_read_again_once_its_station_was_worked_on() -> None:
    """No current is kept in what may not be used until it is mended, nor is it shut for ever."""
    made = built("receptacle", {"connector.button": {"left": "20.0 A"}})
    wrong = assessed(made)
    assert wrong.row("connector.button", POINT).judgement.severity is Severity.WARNING
    assert "connector.button" in gate(wrong, POINT, CircuitState.UNDER_LOAD).waiting
    assert "connector.button" not in gate(wrong, POINT, CircuitState.ENERGISED).waiting
    off = dead_again(made)
    assert "connector.button" in gate(assessed(off), POINT, CircuitState.UNDER_LOAD).waiting
    again = assessed(judged_anew(off, "connector.pins"))
    assert "connector.button" not in gate(again, POINT, CircuitState.UNDER_LOAD).waiting


def test_a_warning_that_is_found_under_load_ends_the_load(walked: Visit, tmp_path: Path) -> None:
    loaded = judged_anew(
        walked.model_copy(update={"states": walked.states[:3]}), "charger.nameplate", is_listed="no"
    )
    with Store(tmp_path) as store:
        store.save(loaded.model_dump(mode="json"))
        walk = Walk(store, loaded.id, lambda: datetime(2026, 5, 12, 12, tzinfo=UTC))
        assert walk.state is CircuitState.UNDER_LOAD
        assert walk.next_step is CircuitState.DEAD
        walk.enter_state(CircuitState.DEAD)
        assert walk.next_step is not CircuitState.UNDER_LOAD


def test_a_stop_sign_under_load_asks_for_a_dead_circuit_at_once(charged: Visit) -> None:
    hot = judged_anew(charged, "outlet.temperature", **HOT)
    point = hot.points[0].id
    assert not gate(assessed(hot), point, CircuitState.UNDER_LOAD).is_open
    found = steps(hot, assessed(hot), hot.points[0])
    assert next_step(found, state_now(hot, point), must_be_dead=True) is CircuitState.DEAD
    assert all(s.shut_because for s in found if s.row.state is CircuitState.UNDER_LOAD)


def test_a_hot_part_is_loaded_again_only_after_it_was_dead_and_worked_on(charged: Visit) -> None:
    hot = judged_anew(charged, "outlet.temperature", **HOT)
    point = hot.points[0].id
    off = dead_again(hot)
    assert "outlet.temperature" in gate(assessed(off), point, CircuitState.ENERGISED).waiting
    mended = judged_anew(off, "outlet.terminal_torque")
    assert "outlet.temperature" not in gate(assessed(mended), point, CircuitState.ENERGISED).waiting


def test_no_load_is_put_on_conductors_that_are_too_small(walked: Visit) -> None:
    point = walked.points[0].id
    small = assessed(judged_anew(walked, "run.conductor", size="12 AWG"))
    assert "run.conductor" in gate(small, point, CircuitState.UNDER_LOAD).waiting
    assert "run.conductor" not in gate(small, point, CircuitState.ENERGISED).waiting


def test_a_failed_ground_fault_device_keeps_the_load_off(walked: Visit) -> None:
    point = walked.points[0].id
    dead = assessed(judged_anew(walked, "outlet.ground_fault_trip", is_tripped_by_button="no"))
    assert "outlet.ground_fault_trip" in gate(dead, point, CircuitState.UNDER_LOAD).waiting
