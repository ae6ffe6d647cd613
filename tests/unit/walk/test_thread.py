"""A service call from the symptom to the decision, without a screen."""

from datetime import datetime
from pathlib import Path

import pytest

from checks.assess import not_proved
from checks.check import CircuitState
from checks.record import NotDoneReason
from fieldapp import demo
from fieldapp.store.visits import Store
from fieldapp.walk import circuit
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.thread import REPAIR, Stage, thread, to_repeat
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery.walking import KETTLE, SERVICE, begin, enter, follow, make


def test_the_thread_leads_from_symptom_to_proof_repair_and_decision(tmp_path: Path) -> None:
    """Common practice: a Level 1 unit and a kitchen load on one 15 A circuit trip the breaker."""
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        assert thread(walk).stage is Stage.TELL
        for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
            make(walk, plate, KETTLE)
        found = follow(walk, KETTLE, Stage.REPAIR)
        assert "run.dedicated" in found
        assert len(found) == len(set(found)) < 25
        likeliest = thread(walk).ranking.causes[0]
        assert (likeliest.cause, likeliest.standing) == ("shared_circuit", "proven")
        assert thread(walk).aim == REPAIR
        again = follow(walk, KETTLE | {"run.dedicated.is_alone": "yes"}, Stage.DECIDE)
        assert again[0] == REPAIR
        assert "run.dedicated" in again
        repeats = {r.after.check: r for r in walk.assessment.repeats}
        first = repeats["run.dedicated"].before.judgement
        assert first.verdict == "outside", first.explanation
        assert repeats["run.dedicated"].after.judgement.verdict == "within"
        assert thread(walk).ranking.causes[0].cause == "shared_circuit"


def test_what_is_not_mended_asks_for_no_repeat(tmp_path: Path) -> None:
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        make(walk, REPAIR, {"surroundings.repair.outcome": "made_safe"})
        assert thread(walk).stage is Stage.DECIDE
        walk.undo()
        assert thread(walk).stage is Stage.TELL


def test_a_call_whose_symptom_was_told_elsewhere_is_not_asked_to_tell_it_again(
    tmp_path: Path,
) -> None:
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        assert thread(walk).stage is Stage.TELL
        make(walk, "breaker.trip_history", KETTLE)
        assert "charger.behavior" not in {e.check for e in walk.visit.entries}
        assert thread(walk).stage is Stage.TEST


def test_a_circuit_is_proved_dead_before_it_is_opened_for_the_repair(tmp_path: Path) -> None:
    """A worn breaker shows its heat under load; it is replaced in a panel that is dead and proved.
    Then what is read dead comes before what is read live: common practice, no source."""
    told = demo.scenario("westwall")
    with Store(tmp_path) as store:
        clock = demo.ScenarioClock(datetime.fromisoformat(told["started"]))
        walk = demo.begin(Desk(Ledger(store, clock)), told)
        call, made = demo.Call(told), []
        while (deed := call.next(walk)) is not None:
            demo.do(walk, deed, clock)
            made.append(str(deed) if isinstance(deed, CircuitState) else deed.check)
        repair = made.index(REPAIR)
        assert made[repair - 5 : repair] == [
            "dead and proved",
            "breaker.lock_and_tag",
            "breaker.absence_of_voltage",
            "panel.absence_of_voltage",
            "panel.terminals",
        ], "the panel is looked into before a new breaker goes in"
        assert made.index("breaker.joints") < repair, "its bus was seen before, and is known"
        repeats = [c for c in made[repair:] if c in ("breaker.terminal_torque", "energised")]
        assert repeats == ["breaker.terminal_torque", "energised"]
        assert made.index("run.length") == made.index("run.protective_conductor") + 1, (
            "the ohms cannot be judged before the length is known, and it is asked for"
        )
        assert thread(walk).waiting == ()
        assert not any(f.row.judgement.verdict == "outside" for f in walk.assessment.findings)


def test_what_was_burnt_is_looked_at_again_after_the_repair(tmp_path: Path) -> None:
    burnt = {"outlet.damage.has_heat_marks": "yes", "surroundings.repair.outcome": "mended"}
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        make(walk, "outlet.damage", burnt)
        make(walk, REPAIR, burnt)
        assert "outlet.damage" in to_repeat(walk)
        assert thread(walk).stage is Stage.REPEAT
        walk.begin("outlet.damage", after_mending=True)
        make(walk, "outlet.damage", {})
        assert "outlet.damage" not in to_repeat(walk)
        make(walk, "outlet.damage", {})
        assert walk.visit.entries[-1].after_mending, "read once more, it is still after mending"


def prove_dead(walk: Walk) -> None:
    enter(walk, CircuitState.DEAD)
    for proof in ("breaker.lock_and_tag", "breaker.absence_of_voltage"):
        make(walk, proof, {})


def test_what_was_checked_of_a_replaced_part_is_owed_until_it_is_made_or_left_out(
    tmp_path: Path,
) -> None:
    said = {
        "outlet.damage.has_heat_marks": "yes",
        "surroundings.repair.outcome": "mended",
        "surroundings.repair.replaced": "receptacle",
    }
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        prove_dead(walk)
        for check in ("outlet.configuration", "outlet.mounting", "outlet.damage", REPAIR):
            make(walk, check, said)
        owed = to_repeat(walk)
        assert {"outlet.configuration", "outlet.mounting", "outlet.damage"} <= set(owed)
        walk.begin("outlet.mounting", after_mending=True)
        make(walk, "outlet.mounting", {})
        assert "outlet.mounting" not in to_repeat(walk)
        for check in to_repeat(walk):
            walk.leave_out(NotDoneReason.NO_ACCESS, check_id=check)
        assert to_repeat(walk) == ()
        assert thread(walk).stage is Stage.DECIDE


def test_the_numbers_of_a_new_part_are_asked_for_first_and_it_keeps_the_circuit_off(
    tmp_path: Path,
) -> None:
    said = {"surroundings.repair.outcome": "mended", "surroundings.repair.replaced": "charger"}
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        plates = ("charger.nameplate", "charger.configuration")
        for check in ("charger.damage", "connector.pins", "run.conductor", *plates, REPAIR):
            make(walk, check, said)
        assert set(to_repeat(walk)[:2]) == set(plates)
        assert set(to_repeat(walk)) >= {"charger.damage", "connector.pins"}
        assert "run.conductor" not in to_repeat(walk), "it is reckoned anew, not read anew"
        coming = thread(walk).next
        assert isinstance(coming, Step)
        assert coming.row.check in plates
        assert not any(s.is_done for s in walk.steps if s.row.is_owed_again)
        assert walk.waits_for(walk.assessment.row("run.conductor", walk.point_id))
        walk.begin("charger.damage")
        make(walk, "charger.damage", {})
        assert walk.visit.entries[-1].after_mending, "of the new part, by whatever way it came"
        for check in plates:
            make(walk, check, {})
        assert not {*plates, "charger.damage"} & set(to_repeat(walk))


def test_what_a_new_charger_is_held_against_is_asked_for_where_nobody_read_it(
    tmp_path: Path,
) -> None:
    """NEC 2023 625.41, 210.20(A): its breaker carries 125 % of the current it is set to."""
    said = {"surroundings.repair.outcome": "mended", "surroundings.repair.replaced": "charger"}
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        make(walk, REPAIR, said)
        assert "breaker.rating" not in to_repeat(walk)
        for check in ("charger.nameplate", "charger.configuration"):
            make(walk, check, {})
        assert "breaker.rating" in to_repeat(walk)


def test_a_coupler_that_was_found_doubtful_opens_nothing_for_the_new_one(tmp_path: Path) -> None:
    """What was borderline on the old charger lets no load onto the new one."""
    said = {"surroundings.repair.outcome": "mended", "surroundings.repair.replaced": "charger"}
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        make(walk, "charger.damage", {})
        make(walk, REPAIR, said)
        row = walk.assessment.row("charger.damage", walk.point_id)
        assert row.is_owed_again
        gate = circuit.gate(walk.assessment, walk.point_id, CircuitState.ENERGISED)
        assert "charger.damage" in gate.waiting
        assert "Damage at the charger" in not_proved(walk.visit, walk.assessment).not_made


@pytest.mark.parametrize("replaced", ["receptacle", "none"])
@pytest.mark.parametrize("opened", ["upstream", "none"])
def test_a_new_receptacle_is_checked_and_a_device_that_opened_is_tested(
    tmp_path: Path, replaced: str, opened: str
) -> None:
    """Common practice, no source: whatever the cause was, and whether or not they were made."""
    said = {
        "outlet.ground_fault_history.device": opened,
        "surroundings.repair.outcome": "mended",
        "surroundings.repair.replaced": replaced,
    }
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        prove_dead(walk)
        for check in ("outlet.ground_fault_history", REPAIR):
            make(walk, check, said)
        owed, is_new = set(to_repeat(walk)), replaced == "receptacle"
        for check in ("outlet.configuration", "outlet.cover", "run.polarity"):
            assert (check in owed) is is_new
        assert ("outlet.ground_fault_trip" in owed) is (is_new or opened == "upstream")


def test_what_is_still_bad_once_it_was_read_again_is_left_to_the_decision(tmp_path: Path) -> None:
    wet = {"outlet.damage.is_wet": "yes", "surroundings.repair.outcome": "mended"}
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        for check in ("outlet.damage", REPAIR, "outlet.damage"):
            make(walk, check, wet)
        assert "outlet.damage" not in to_repeat(walk)
        assert walk.assessment.row("outlet.damage", walk.point_id).judgement.verdict == "outside"


def test_what_spoke_for_the_cause_and_was_outside_is_made_again_whatever_the_cause(
    tmp_path: Path,
) -> None:
    """A seat that failed is seated again before a hand or a load is on it: common practice."""
    said = {
        "charger.behavior.stops": "touched",
        "connector.seating.is_held": "no",
        "connector.seating.has_clicked": "no",
        "connector.pins.is_pitted": "yes",
        "surroundings.repair.outcome": "mended",
    }
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **SERVICE)
        for check in ("connector.pins", "adapter.pins", "vehicle.inlet_condition"):
            make(walk, check, {})
        for check in ("charger.behavior", "connector.seating", "connector.pins", REPAIR):
            make(walk, check, said)
        first = thread(walk).ranking.causes[0]
        assert first.cause == "coupler_worn"
        assert "connector.seating" not in [v.check for v in first.verify]
        assert {"connector.seating", "connector.pins"} <= set(to_repeat(walk))
        assert "charger.behavior" not in to_repeat(walk), "what was told is not told again"
