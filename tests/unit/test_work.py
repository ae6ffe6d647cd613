"""The work in order: mended dead, tried again in the state it is tried in, each state once.

That conductors are made dead before anybody works on them: 29 CFR 1910.333(a)(1), from memory. That
a repair is proved by the test that showed the fault: common practice, no source.
"""

from random import Random

from hypothesis import given

from checks.assess import Part, Task, assess, work
from checks.check import CircuitState
from checks.codes import profile
from checks.path import Station
from checks.record import Entry, NotDone, NotDoneReason, Visit
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from tests.builders import NOON, POINT, visit, with_entries
from tests.properties.test_assess import relaxed
from tests.strategies import filled, seeds, shapes

NEC = profile("nec_2023")


def tasks(made: Visit) -> dict[str, list[Task]]:
    found: dict[str, list[Task]] = {}
    for task in work(assess(made, NEC)):
        found.setdefault(task.row.check, []).append(task)
    return found


def test_a_broken_breaker_is_replaced_dead_and_looked_at_again_there():
    signs = {"has_heat_marks": False, "is_damaged": True, "is_tripped_unknown": False}
    (task,) = tasks(with_entries(visit(), {"breaker.condition": signs}))["breaker.condition"]
    assert (task.part, task.is_repeat) == (Part.DEAD, True)
    assert task.told.endswith(". Then make the check again")


def test_what_shows_only_live_is_mended_dead_and_measured_again_live():
    volts = {"conductors": "two_lines", "line_line": "239.0 V", "l1_ground": "180.0 V"}
    volts |= {"l2_ground": "60.0 V"}
    mend, again = tasks(with_entries(visit(), {"outlet.no_load_voltage": volts}))[
        "outlet.no_load_voltage"
    ]
    assert (mend.part, mend.is_repeat, bool(mend.what)) == (Part.DEAD, False, True)
    assert (again.part, again.told) == (Part.ENERGISED, "Make the check again")


def test_a_directory_is_written_whatever_the_circuit_does():
    said = {"is_named": False, "is_legible": True}
    (task,) = tasks(with_entries(visit(), {"panel.directory": said}))["panel.directory"]
    assert task.part is Part.ANY


def test_what_was_left_out_stands_in_its_state_with_its_reason_and_what_nobody_began_does_not():
    left = Entry(
        number=1,
        check="outlet.retention",
        subject=POINT,
        at=NOON,
        not_done=NotDone(reason=NotDoneReason.NO_ACCESS, text="a car stands there"),
    )
    (task,) = work(assess(visit(entries=(left,)), NEC))
    assert (task.part, task.row.check, task.is_repeat) == (Part.DEAD, "outlet.retention", False)
    assert "a car stands there" in task.told


@relaxed
@given(shapes(most_points=3), seeds)
def test_every_finding_has_its_work_and_every_state_comes_once(shape: Visit, seed: int):
    found = assess(filled(shape, Random(seed)), NEC)
    planned = work(found)
    order = [list(Part).index(task.part) for task in planned]
    assert order == sorted(order)
    for finding in found.findings:
        row, check = finding.row, BY_ID[finding.row.check]
        here = [t for t in planned if t.row == row]
        if row.judgement.verdict is Verdict.BORDERLINE:
            assert [t.part for t in here] == [Part.OPEN]
            continue
        assert here[0].what == row.judgement.remedy
        assert [t.is_repeat for t in here].count(True) == 1
        if row.state is not CircuitState.ANY:
            assert Part[row.state.name] in {t.part for t in here}
        beside = (Station.SERVICE, Station.ADAPTER, Station.VEHICLE, Station.SURROUNDINGS)
        if not check.hands_off and check.station not in (*beside, Station.HANDOVER):
            assert here[0].part is Part.DEAD
