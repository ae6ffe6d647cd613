"""A service call from the symptom to the decision, without a screen."""

from pathlib import Path

from checks.check import CircuitState
from fieldapp.store.visits import Store
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.thread import REPAIR, Stage, leading, thread
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery import begin, enter, make

# A Level 1 cord set and a kettle on one 15 A circuit; invented.
LEVEL_1 = {"connection": "level 1 cord set", "kind": "service call", "role": "serves"}
SAID = {
    "breaker.rating.rated_a": "15",
    "breaker.rating.poles": "1",
    "breaker.trip_history.when": "minutes",
    "breaker.trip_history.kind": "overcurrent",
    "charger.configuration.configured_a": "12",
    "charger.behavior.start": "charges",
    "charger.behavior.stops": "no",
    "charger.nameplate.rated_a": "12",
    "charger.nameplate.rated_v": "120",
    "outlet.ground_fault_history.device": "none",
    "outlet.burn_pattern.place": "none",
    "surroundings.circumstances.is_with_other_loads": "yes",
    "surroundings.repair.outcome": "mended",
}
SHARED = {
    "run.dedicated.is_alone": "no",
    "run.dedicated.what": "kettle",
    "run.dedicated.other_a": "12.5",
}


def follow(walk: Walk, answers: dict[str, str], until: Stage) -> list[str]:
    """Do what the thread asks for until a stage; return the checks made, in order."""
    made = []
    while (now := thread(walk)).stage is not until:
        assert now.next is not None, (now.stage, now.aim)
        if isinstance(now.next, CircuitState):
            enter(walk, now.next)
        else:
            assert isinstance(now.next, Step)
            check = now.next.row.check
            walk.begin(check, after_mending=now.is_repeat)
            make(walk, check, answers)
            made.append(check)
    return made


def test_the_thread_leads_from_symptom_to_proof_repair_and_decision(tmp_path: Path) -> None:
    """Common practice: a Level 1 unit and a kitchen load on one 15 A circuit trip the breaker."""
    with Store(tmp_path) as store:
        walk = begin(Desk(store, FakeDevice(tmp_path).now), **LEVEL_1)
        assert thread(walk).stage is Stage.TELL
        for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
            make(walk, plate, SAID)
        found = follow(walk, SAID | SHARED, Stage.REPAIR)
        assert "run.dedicated" in found
        assert len(found) == len(set(found)) < 25
        assert leading(walk)["run"].startswith("Proven: other loads")
        assert thread(walk).aim == REPAIR
        again = follow(walk, SAID | {"run.dedicated.is_alone": "yes"}, Stage.DECIDE)
        assert again[0] == REPAIR
        assert "run.dedicated" in again
        repeats = {r.after.check: r for r in walk.assessment.repeats}
        first = repeats["run.dedicated"].before.judgement
        assert first.verdict == "outside", first.explanation
        assert repeats["run.dedicated"].after.judgement.verdict == "within"
        assert thread(walk).ranking.causes[0].cause == "shared_circuit"


def test_what_is_not_mended_asks_for_no_repeat(tmp_path: Path) -> None:
    with Store(tmp_path) as store:
        walk = begin(Desk(store, FakeDevice(tmp_path).now), **LEVEL_1)
        make(walk, REPAIR, {"surroundings.repair.outcome": "made_safe"})
        assert thread(walk).stage is Stage.DECIDE
        walk.undo()
        assert thread(walk).stage is Stage.TELL
