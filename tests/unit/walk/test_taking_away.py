"""What was added by slip is taken away; what was recorded never is. The rules are our own."""

from checks.assess import assess
from checks.check import CircuitState
from checks.codes import profile
from checks.record import Amendment, NotDoneReason, Panel, SupplySystem
from checks.trends import Seen, reinspections
from fieldapp.store.sealing import record_sha256
from tests.builders import PANEL, POINT, point, visit
from tests.unit.test_reinspected import FIRST
from tests.unit.walk.reopened import Walks

SECOND = Panel(id="panel-b", name="Panel B")
BAYS = (point(), point(id="bay-2", name="Bay 2"), point(id="bay-3", name="Bay 3"))


def take(w, subject: str) -> None:
    w.do(lambda walk: walk.take_away(subject, earlier=()))
    assert w.walk.assessment == assess(w.walk.visit, profile(w.walk.visit.code))


def stays(w, subject: str, match: str) -> None:
    w.refused(lambda walk: walk.take_away(subject, earlier=()), match)


def test_a_point_that_was_copied_by_slip_goes_and_comes_back_where_it_stood(walks: Walks):
    w = walks(points=BAYS)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    before = w.walk.visit
    take(w, "bay-2")
    assert [p.id for p in w.walk.visit.points] == [POINT, "bay-3"]
    assert w.walk.point_id == POINT
    assert w.walk.visit.revision == before.revision + 1
    assert w.walk.last_recorded == "Bay 2 taken away"
    assert w.do(lambda walk: walk.undo()) == "Bay 2 taken away"
    assert w.walk.visit.points == before.points
    assert (w.walk.point_id, w.walk.last_recorded) == ("bay-2", "")


def test_each_of_two_comes_back_the_last_first_and_what_was_recorded_since_before_both(
    walks: Walks,
):
    w = walks(points=BAYS)
    take(w, "bay-3")
    take(w, "bay-2")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert [w.do(lambda walk: walk.undo()) for _ in range(4)] == [
        f"circuit {CircuitState.DEAD}",
        "Bay 2 taken away",
        "Bay 3 taken away",
        "",
    ]
    assert w.walk.visit.points == BAYS


def test_a_new_point_gets_no_id_of_one_that_may_come_back(walks: Walks):
    w = walks()
    first = w.do(lambda walk: walk.copy_point(POINT))
    take(w, first)
    assert w.do(lambda walk: walk.copy_point(POINT)) != first
    for _ in range(2):
        w.do(lambda walk: walk.undo())
    names = [p.name for p in w.walk.visit.points]
    assert len(names) == len(set(names))
    w.do(lambda walk: walk.undo())
    assert len({p.id for p in w.walk.visit.points}) == 3


def test_what_was_corrected_of_it_goes_and_comes_with_it(walks: Walks):
    w = walks(points=BAYS[:2])
    w.do(lambda walk: walk.correct("name@bay-2", "Bay 9"))
    w.do(lambda walk: walk.correct("system@site", SupplySystem.WYE_208.value))
    before = w.walk.visit
    take(w, "bay-2")
    (left,) = w.walk.visit.corrections  # the supply was corrected for the other point too
    assert (left.number, [p.id for p in left.points]) == (2, [POINT])
    w.do(lambda walk: walk.correct("permit@site", "P-0000"))
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.undo())
    now = w.walk.visit
    assert (now.points, now.corrections) == (before.points, before.corrections)


def test_the_only_point_stays(walks: Walks):
    stays(walks(), POINT, "one charging point at least")


def test_what_has_an_entry_a_state_or_half_an_answer_stays_and_says_which(walks: Walks):
    entered = walks(points=BAYS[:2])
    entered.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS, check_id="connector.pins"))
    stays(entered, POINT, entered.walk.assessment.row("connector.pins", POINT).title)
    switched = walks(points=BAYS[:2])
    switched.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    stays(switched, POINT, f"circuit {CircuitState.DEAD}")
    begun = walks(points=BAYS[:2])
    begun.answers("connector.pins", "no")
    stays(begun, POINT, begun.walk.check.title)
    begun.do(lambda walk: walk.go_to_point("bay-2"))
    stays(begun, POINT, "recorded of it")


def test_a_check_that_was_only_looked_at_keeps_nothing(walks: Walks):
    w = walks(points=BAYS[:2])
    w.do(lambda walk: walk.begin("connector.pins"))
    take(w, POINT)
    assert [p.id for p in w.walk.visit.points] == ["bay-2"]
    assert w.walk.questions is None


def test_a_panel_goes_only_when_it_feeds_nothing_and_nothing_is_recorded_of_it(walks: Walks):
    w = walks(panels=(Panel(id=PANEL, name="Panel A"), SECOND))
    stays(w, PANEL, "it feeds Bay 1")
    take(w, "panel-b")
    w.do(lambda walk: walk.undo())
    assert w.walk.visit.panels[1] == SECOND
    w.do(lambda walk: walk.correct(f"feeder@{POINT}", "panel-b"))
    stays(w, PANEL, "what it fed before that was corrected")
    entered = walks(panels=(Panel(id=PANEL, name="Panel A"), SECOND))
    entered.do(lambda walk: walk.correct(f"feeder@{POINT}", "panel-b"))
    entered.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS, check_id="panel.rating"))
    entered.do(lambda walk: walk.correct(f"feeder@{POINT}", PANEL))
    stays(entered, "panel-b", entered.walk.assessment.row("panel.rating", "panel-b").title)


def test_what_an_earlier_visit_found_there_keeps_it(walks: Walks):
    w = walks(points=BAYS[:2])
    found = reinspections(Seen(w.walk.visit, w.walk.assessment), [FIRST])
    assert {r.subject for r in found if r.is_open} == {POINT}
    w.refused(lambda walk: walk.take_away(POINT, earlier=found), "on an earlier visit")
    w.do(lambda walk: walk.take_away("bay-2", earlier=found))


def test_an_amendment_keeps_the_signed_points_and_not_one_that_it_added(walks: Walks):
    signed = visit(points=BAYS[:2])
    document = signed.model_dump(mode="json")
    amends = Amendment(
        visit=signed.id, sha256=record_sha256(document), what="Bay 2 by another name"
    )
    w = walks(id="v-amends", points=BAYS[:2], amends=amends)
    w.store.save(document)
    stays(w, "bay-2", "the signed visit")
    added = w.do(lambda walk: walk.copy_point("bay-2"))
    take(w, added)
