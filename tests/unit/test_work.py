"""The work as one list: every remedy first, then every check in the state that it is made in.

That conductors are made dead before anybody works on them: 29 CFR 1910.333(a)(1), from memory. That
a repair is proved by the test that showed the fault: common practice, no source.
"""

from random import Random

from hypothesis import given

from checks.assess import CLEARED, MENDING, Part, Task, assess, work
from checks.check import CircuitState
from checks.codes import profile
from checks.record import Entry, NotDone, NotDoneReason, Visit, VisitKind
from checks.stations import symptoms
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import NOON, POINT, visit, with_entries
from tests.properties.test_assess import relaxed
from tests.strategies import filled, seeds, shapes

NEC = profile("nec_2023")


def tasks(made: Visit, check: str) -> list[Task]:
    return [task for task in work(assess(made, NEC)) if task.row.check == check]


def left_out(check: str, number: int, text: str = "") -> Entry:
    reason = NotDone(reason=NotDoneReason.NO_ACCESS, text=text)
    return Entry(number=number, check=check, subject=POINT, at=NOON, not_done=reason)


def test_a_broken_breaker_is_mended_first_and_looked_at_again():
    signs = {"has_heat_marks": False, "is_damaged": True, "is_tripped_unknown": False}
    made = with_entries(visit(), {"breaker.condition": signs})
    mend, again = tasks(made, "breaker.condition")
    (finding,) = [f for f in assess(made, NEC).findings if f.row.check == "breaker.condition"]
    assert (mend.part, mend.what) == (Part.MEND, finding.row.judgement.remedy)
    assert (again.part, again.told) == (Part.ANY, "Make the check again")
    assert all(words in MENDING for words in ("dead", "bus", "line side stays live"))


def test_what_shows_only_live_is_measured_again_live():
    volts = {"conductors": "two_lines", "line_line": "239.0 V", "l1_ground": "180.0 V"}
    made = with_entries(visit(), {"outlet.no_load_voltage": volts | {"l2_ground": "60.0 V"}})
    assert [t.part for t in tasks(made, "outlet.no_load_voltage")] == [Part.MEND, Part.ENERGISED]


def test_lock_and_tag_come_before_what_rests_on_them():
    names = ("outlet.retention", "run.insulation", "breaker.lock_and_tag")
    entries = tuple(left_out(name, n) for n, name in enumerate(names, 1))
    listed = [t.row.check for t in work(assess(visit(entries=entries), NEC))]
    assert listed[0] == "breaker.lock_and_tag"
    assert set(listed) == set(names)


def test_nothing_grave_is_energised_before_it_is_mended():
    signs = {"has_heat_marks": False, "is_damaged": True, "is_tripped_unknown": False}
    grave = assess(with_entries(visit(), {"breaker.condition": signs}), NEC)
    live = (Part.ENERGISED, Part.UNDER_LOAD)
    assert grave.findings[0].severity in (Severity.DANGER, Severity.WARNING)
    assert [part.rule(grave) for part in live] == [CLEARED, CLEARED]
    assert [part.rule(assess(visit(), NEC)) for part in live] == ["", ""]
    assert Part.MEND.rule(grave) == MENDING


def test_what_was_left_out_stands_in_its_state_with_its_reason_and_what_nobody_began_does_not():
    made = visit(entries=(left_out("outlet.retention", 1, "a car stands there"),))
    (task,) = work(assess(made, NEC))
    assert (task.part, task.row.check) == (Part.DEAD, "outlet.retention")
    assert "a car stands there" in task.told


def test_a_symptom_asks_for_its_cause_and_is_not_told_again():
    told = {"when": "minutes", "kind": "overcurrent"}
    made = with_entries(visit(kind=VisitKind.SERVICE_CALL), {"breaker.trip_history": told})
    assert {t.part for t in tasks(made, "breaker.trip_history")} <= {Part.MEND}


@relaxed
@given(shapes(most_points=3), seeds)
def test_every_remedy_is_there_and_every_finding_is_checked_in_its_own_state(
    shape: Visit, seed: int
):
    found = assess(filled(shape, Random(seed)), NEC)
    listed = work(found)
    order = [list(Part).index(task.part) for task in listed]
    assert order == sorted(order)
    judged = [f.row.judgement for f in found.findings]
    asked = [j.remedy or j.settles for j in judged if j.remedy or j.settles]
    assert [t.what for t in listed if t.part is Part.MEND] == asked
    for finding in found.findings:
        row = finding.row
        checked = [t for t in listed if t.row == row and t.part is not Part.MEND]
        wanted = 0 if row.check in symptoms.IDS else 1
        assert [t.part.name for t in checked] == [row.state.name] * wanted
    for state in CircuitState:
        proving = [BY_ID[t.row.check].proves for t in listed if t.part.name == state.name]
        assert proving == sorted(proving, reverse=True)
    made = {r.check for r in found.unfinished if r.entry is not None}
    assert made <= {t.row.check for t in listed}
    assert not any(t.row.judgement.verdict is Verdict.WITHIN for t in listed)
