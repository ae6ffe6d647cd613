"""Earlier visits are found in the store: signed, of this site, before this one."""

from pathlib import Path

import pytest

from checks.check import Situation
from checks.record import Correction, Coupler, Site
from checks.stations.all import BY_ID
from checks.trends import Seen
from checks.verdict import Judgement
from fieldapp.store.visits import Store
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from tests.builders import NOON, POINT, entry, point, visit
from tests.unit.test_trends import judged, seen
from tests.unit.walk.test_desk import NOW


@pytest.fixture
def latest() -> Seen:
    return seen(2025, "2.00")


def keep(store: Store, found: Seen, *, is_signed: bool = True) -> None:
    store.save(found.visit.model_dump(mode="json"))
    if is_signed:
        store.seal(found.visit.id, {"by": "an invented technician"})


def test_only_signed_visits_to_this_site_from_before_count(tmp_path: Path, latest: Seen) -> None:
    with Store(tmp_path) as store:
        keep(store, latest, is_signed=False)
        keep(store, seen(2024, "3.00"))
        keep(store, seen(2023, "4.00"), is_signed=False)
        keep(store, seen(2022, "5.00", site=Site(name="Another invented site")))
        keep(store, seen(2021, "5.00", site=Site(name="Invented site", address="1 Side Road")))
        keep(store, seen(2026, "1.50"))
        desk = Desk(Ledger(store, lambda: NOW))
        (found,) = desk.trends(desk.open(latest.visit.id))

    assert [r.visit for r in found.readings] == ["v2024-6", "v2025-6"]


def test_a_first_visit_has_nothing_to_compare_with(tmp_path: Path, latest: Seen) -> None:
    with Store(tmp_path) as store:
        keep(store, latest, is_signed=False)
        desk = Desk(Ledger(store, lambda: NOW))
        assert desk.trends(desk.open(latest.visit.id)) == ()


def test_a_corrected_site_keeps_its_earlier_visits_at_once_and_after_a_restart(
    tmp_path: Path, latest: Seen
) -> None:
    with Store(tmp_path) as store:
        keep(store, latest, is_signed=False)
        keep(store, seen(2024, "3.00"))
        keep(store, seen(2023, "3.50", site=Site(name="The name it is known by")))
        desk = Desk(Ledger(store, lambda: NOW))
        walk = desk.open(latest.visit.id)
        assert [len(t.readings) for t in desk.trends(walk)] == [2]
        walk.correct("site@site", "The name it is known by")
        for again in (desk, Desk(Ledger(store, lambda: NOW))):
            assert [len(t.readings) for t in again.trends(again.open(latest.visit.id))] == [3]
            again.reinspections(walk)
        walk.undo()
        assert [len(t.readings) for t in desk.trends(walk)] == [2]


def test_what_an_earlier_visit_set_aside_by_a_correction_is_told_on_the_next(
    tmp_path: Path, latest: Seen
) -> None:
    inlet, here, none = "vehicle.inlet_condition", point(inlet=Coupler.TYPE_1), point(inlet=None)
    earlier = visit(
        points=(none,),
        entries=(entry(inlet, POINT, 1, has_burn_marks=True),),
        corrections=(Correction(number=2, at=NOON, points=(here,)),),
        started="2024-06-02T12:00:00Z",
        id="v2024",
    )
    with Store(tmp_path) as store:
        keep(store, latest, is_signed=False)
        keep(store, judged(earlier))
        desk = Desk(Ledger(store, lambda: NOW))
        found = desk.reinspections(desk.open(latest.visit.id))
    assert [(r.check, r.is_standing_grave) for r in found] == [(inlet, True)]


def test_an_earlier_visit_that_can_be_judged_no_more_counts_as_it_was_signed(
    tmp_path: Path, latest: Seen, monkeypatch: pytest.MonkeyPatch
) -> None:
    check, earlier = BY_ID["run.length"], seen(2024, "3.00")
    real = check.judge

    def judge(s: Situation) -> Judgement:
        if s.visit.id == earlier.visit.id:
            raise ZeroDivisionError
        return real(s)

    monkeypatch.setitem(check.__dict__, "judge", judge)
    with Store(tmp_path) as store:
        keep(store, latest, is_signed=False)
        keep(store, earlier, is_signed=False)
        as_signed = {"assessment": earlier.assessment.model_dump(mode="json")}
        store.seal(earlier.visit.id, as_signed)
        desk = Desk(Ledger(store, lambda: NOW))
        (found,) = desk.trends(desk.open(latest.visit.id))

    assert [r.visit for r in found.readings] == ["v2024-6", "v2025-6"]
