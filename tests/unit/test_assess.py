"""From a record to an assessment: rows, findings, summaries, and the gates between states."""

import pytest

from checks import SOFTWARE
from checks.assess import Assessment, assess, trial, use
from checks.check import CircuitState
from checks.codes import profile
from checks.path import Station
from checks.record import (
    Entry,
    NotDone,
    NotDoneReason,
    Panel,
    Role,
    StateEntry,
    Visit,
    VisitKind,
)
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import NOON, PANEL, POINT, entry, hard_wired, point, visit, with_entries

NEC = profile("nec_2023")
CONDITION = {"has_heat_marks": False, "is_damaged": False, "is_tripped_unknown": False}
LOCKED = {
    "is_off": True,
    "is_locked": True,
    "is_tagged": True,
    "is_key_kept": True,
    "are_sources_isolated": True,
}
NOT_LOCKED = {**LOCKED, "is_locked": False}
PROVED = {
    "known_before": "120.4 V",
    "is_every_pair": True,
    "highest": "0.1 V",
    "known_after": "120.3 V",
}
GATING = [c.id for c in BY_ID.values() if c.gates]
PROVING = [c.id for c in BY_ID.values() if c.proves]


def assessed(made: Visit) -> Assessment:
    return assess(made, NEC)


def gates(made: Visit) -> dict[CircuitState, tuple[bool, tuple[str, ...], tuple[str, ...]]]:
    return {g.state: (g.is_open, g.waiting, g.first) for g in assessed(made).points[0].gates}


# -- rows and findings ---------------------------------------------------------------------------
def test_every_check_has_a_row_at_each_of_its_subjects():
    made = visit(points=(point(), hard_wired(id="bay-2", inlet=None)))
    found = assessed(made)
    assert {r.check for r in found.rows if r.subject == "bay-2"} == {
        c.id
        for c in BY_ID.values()
        if c.station not in (Station.SERVICE, Station.PANEL, Station.HANDOVER)
        and c.station not in (Station.ADAPTER, Station.VEHICLE)
    }
    assert len({(r.check, r.subject) for r in found.rows}) == len(found.rows)


def test_an_empty_visit_is_not_measured_and_names_what_judged_it():
    found = assessed(visit())
    assert found.verdict is Verdict.NOT_MEASURED
    assert (found.software, found.code, found.visit) == (SOFTWARE, "nec_2023", "visit-1")
    assert found.findings == ()
    assert len(found.unfinished) == sum(
        r.judgement.verdict is Verdict.NOT_MEASURED for r in found.rows
    )


def test_the_latest_entry_counts_and_the_earlier_ones_stay_in_view():
    made = visit(
        entries=(
            entry("breaker.condition", POINT, 5, **CONDITION),
            entry("breaker.condition", POINT, 2, **{**CONDITION, "is_damaged": True}),
        )
    )
    row = assessed(made).row("breaker.condition", POINT)
    assert (row.entry, row.superseded) == (5, (2,))
    assert row.judgement.verdict is Verdict.WITHIN


def test_a_check_left_out_is_not_measured_with_its_reason_whatever_else_is_known():
    left = Entry(
        number=1,
        check="breaker.rating",
        subject=POINT,
        at=NOON,
        not_done=NotDone(reason=NotDoneReason.NO_ACCESS, text="cabinet locked"),
    )
    made = with_entries(visit(entries=(left,)), {"charger.configuration": {"configured_a": "40 A"}})
    judged = assessed(made).row("breaker.rating", POINT).judgement
    assert judged.verdict is Verdict.NOT_MEASURED
    assert judged.explanation == "Left out, no access: cabinet locked"
    assert [limit.value for limit in judged.limits] == [50.0]  # 40 A × 125 %: NEC 2023 625.41
    assert (judged.severity, judged.measured, judged.telling, judged.remedy) == (None, None, "", "")


def test_findings_come_by_severity_and_then_along_the_path():
    made = with_entries(
        visit(),
        {
            "charger.configuration": {"configured_a": "40 A"},
            "breaker.rating": {"rated_a": "40 A", "poles": "2"},
            "outlet.mounting": {
                "is_fixed": False,
                "is_face_whole": True,
                "is_plug_free": True,
                "is_cord_extended": False,
            },
            "outlet.damage": {"has_heat_marks": True, "is_cracked": False, "is_wet": False},
            "breaker.condition": {**CONDITION, "is_damaged": True},
        },
    )
    found = assessed(made)
    seen = {"breaker.condition", "outlet.damage", "breaker.rating", "outlet.mounting"}
    order = [(f.severity, f.row.check) for f in found.findings if f.row.check in seen]
    assert order == [
        (Severity.DANGER, "breaker.condition"),
        (Severity.DANGER, "outlet.damage"),
        (Severity.WARNING, "breaker.rating"),
        (Severity.CAUTION, "outlet.mounting"),
    ]
    ranks = [list(Severity).index(f.severity) for f in found.findings]
    assert ranks == sorted(ranks)
    assert found.verdict is Verdict.OUTSIDE


def test_a_point_shows_its_path_with_the_worst_verdict_of_each_station():
    made = with_entries(
        visit(),
        {
            "breaker.rating": {"rated_a": "50 A", "poles": "1"},
            "breaker.condition": CONDITION,
        },
    )
    summary = assessed(made).points[0]
    breaker = next(s for s in summary.path if s.station is Station.BREAKER)
    assert (breaker.verdict, breaker.telling) == (Verdict.OUTSIDE, "50 A")
    assert summary.verdict is Verdict.OUTSIDE
    assert [s.station for s in summary.beside] == [Station.SURROUNDINGS, Station.HANDOVER]


def test_a_station_shows_the_number_of_its_worst_finding_and_without_one_its_own():
    def told(**checks):
        found = assessed(with_entries(visit(), checks))
        service = next(s for s in found.points[0].path if s.station is Station.SERVICE)
        told = service.telling, service.quantity
        return told, [f.row.judgement.measured for f in found.findings]

    rated = {"main_a": "200 A", "service_a": "200 A"}
    low = {"l1_l2": "212.0 V", "l1_n": "106.0 V", "l2_n": "106.0 V"}
    assert told(**{"service.rating": rated})[0] == ("200 A", "Main")
    telling, found = told(**{"service.rating": rated, "service.supply_voltage": low})
    assert telling == (f"{found[0].value} V", "Supply")


def test_a_number_that_says_itself_what_it_is_stands_alone():
    made = with_entries(visit(), {"outlet.configuration": {"kind": "14-50"}})
    outlet = next(s for s in assessed(made).points[0].path if s.station is Station.OUTLET)
    assert (outlet.telling, outlet.quantity) == ("14-50", "")


def test_what_a_verdict_means_for_use_is_said_by_the_worst_finding():
    assert use(assessed(visit())) == ""
    broken = {"breaker.condition": {**CONDITION, "is_damaged": True}}
    found = assessed(with_entries(visit(), broken))
    assert str(found.findings[0].severity) in use(found)


def test_a_panels_finding_stands_on_every_path_that_it_feeds_and_on_no_other():
    made = visit(
        panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")),
        points=(point(), point(id="bay-2"), point(id="bay-3", panel="panel-b")),
    )
    stations = [p.path[1] for p in assessed(made).points]
    assert [s.subject for s in stations] == [PANEL, PANEL, "panel-b"]


def test_a_trial_judges_an_entry_without_keeping_it():
    made = visit()
    judged = trial(made, NEC, entry("breaker.condition", POINT, 1, **CONDITION))
    assert judged.verdict is Verdict.WITHIN
    assert assessed(made).row("breaker.condition", POINT).entry is None


# -- gates ---------------------------------------------------------------------------------------
def state(number: int, name: str, at: str = POINT) -> StateEntry:
    return StateEntry(number=number, point=at, state=name, at=NOON)  # type: ignore[arg-type]


def test_dead_is_always_open_and_energised_waits_for_every_gating_check():
    found = gates(visit())
    assert found[CircuitState.DEAD][0]
    is_open, waiting, _ = found[CircuitState.ENERGISED]
    assert not is_open
    applicable = {
        r.check for r in assessed(visit()).rows if r.judgement.verdict is Verdict.NOT_MEASURED
    }
    dead_gates = {
        c
        for c in GATING
        if BY_ID[c].state in (CircuitState.ANY, CircuitState.NO_CURRENT, CircuitState.DEAD)
        and c in applicable
    }
    assert set(waiting) == dead_gates
    assert set(PROVING) <= set(waiting)
    assert not found[CircuitState.UNDER_LOAD][0]


def proved(first: int, **over: dict[str, object]) -> tuple[Entry, ...]:
    """Lock, tag and absence of voltage, numbered from here."""
    answers = {"breaker.lock_and_tag": LOCKED, "breaker.absence_of_voltage": PROVED, **over}
    return tuple(entry(c, POINT, first + i, **a) for i, (c, a) in enumerate(answers.items()))


def keeps_shut(made: Visit, check: str) -> bool:
    return check in gates(made)[CircuitState.ENERGISED][1]


@pytest.mark.parametrize("check", PROVING)
def test_what_stands_keeps_nothing_shut(check: str):
    assert not keeps_shut(visit(states=(state(1, "dead and proved"),), entries=proved(2)), check)


def test_an_outside_test_keeps_the_next_state_shut():
    made = visit(
        states=(state(1, "dead and proved"),),
        entries=proved(2, **{"breaker.lock_and_tag": NOT_LOCKED}),
    )
    assert keeps_shut(made, "breaker.lock_and_tag")
    assert not keeps_shut(made, "breaker.absence_of_voltage")


def test_heat_marks_seen_in_any_state_keep_the_circuit_from_being_energised():
    marked = entry("breaker.condition", POINT, 9, **{**CONDITION, "has_heat_marks": True})
    made = visit(states=(state(1, "dead and proved"),), entries=(*proved(2), marked))
    assert keeps_shut(made, "breaker.condition")


def test_a_test_left_out_keeps_the_next_state_shut():
    left = Entry(
        number=9,
        check="breaker.absence_of_voltage",
        subject=POINT,
        at=NOON,
        not_done=NotDone(reason=NotDoneReason.NO_INSTRUMENT),
    )
    made = visit(states=(state(1, "dead and proved"),), entries=(*proved(2), left))
    assert keeps_shut(made, "breaker.absence_of_voltage")


def test_dead_again_asks_for_lock_tag_and_absence_again():
    states = (state(1, "dead and proved"), state(4, "energised"), state(5, "dead and proved"))
    stale = visit(states=states, entries=proved(2))
    assert all(keeps_shut(stale, c) for c in PROVING)
    assert set(gates(stale)[CircuitState.DEAD][2]) == set(PROVING)
    fresh = visit(states=states, entries=proved(6))
    assert not any(keeps_shut(fresh, c) for c in PROVING)
    assert gates(fresh)[CircuitState.DEAD][2] == ()


def test_proved_before_the_circuit_was_called_dead_is_not_proved():
    made = visit(states=(state(9, "dead and proved"),), entries=proved(2))
    assert all(keeps_shut(made, c) for c in PROVING)


def test_one_point_made_dead_says_nothing_of_another():
    made = visit(
        points=(point(), point(id="bay-2")),
        states=(state(1, "dead and proved"),),
        entries=proved(2),
    )
    first, second = assessed(made).points
    shut = {g.state: g.waiting for g in second.gates}[CircuitState.ENERGISED]
    assert set(PROVING) <= set(shut)
    assert first.point == POINT


def test_who_opens_nothing_proves_nothing_and_is_given_no_dead_test():
    found = assessed(visit(role=Role.INSPECTS, kind=VisitKind.SITE_RECORD))
    dead = [r for r in found.rows if r.state is CircuitState.DEAD]
    assert {r.judgement.verdict for r in dead} == {Verdict.NOT_APPLICABLE}
