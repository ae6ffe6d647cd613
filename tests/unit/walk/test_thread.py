"""A service call from the symptom to the decision, without a screen."""

from pathlib import Path

from fieldapp.store.visits import Store
from fieldapp.walk.desk import Desk
from fieldapp.walk.thread import REPAIR, Stage, leading, thread
from tests.fakes.device import FakeDevice
from tests.gallery.walking import KETTLE, SERVICE, begin, follow, make


def test_the_thread_leads_from_symptom_to_proof_repair_and_decision(tmp_path: Path) -> None:
    """Common practice: a Level 1 unit and a kitchen load on one 15 A circuit trip the breaker."""
    with Store(tmp_path) as store:
        walk = begin(Desk(store, FakeDevice(tmp_path).now), **SERVICE)
        assert thread(walk).stage is Stage.TELL
        for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
            make(walk, plate, KETTLE)
        found = follow(walk, KETTLE, Stage.REPAIR)
        assert "run.dedicated" in found
        assert len(found) == len(set(found)) < 25
        assert leading(walk)["run"].startswith("Proven: other loads")
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
        walk = begin(Desk(store, FakeDevice(tmp_path).now), **SERVICE)
        make(walk, REPAIR, {"surroundings.repair.outcome": "made_safe"})
        assert thread(walk).stage is Stage.DECIDE
        walk.undo()
        assert thread(walk).stage is Stage.TELL
