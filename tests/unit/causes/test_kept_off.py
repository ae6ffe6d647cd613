"""What says that a circuit stays off says it everywhere: to the search, the gates and the words.

Common practice, no source: no voltage on what is burnt or wet, none behind a trip nobody knows.
"""

import pytest

from checks.assess import Assessment, assess, kept_off
from checks.codes import profile
from checks.record import (
    ChargingPoint,
    Correction,
    Coupler,
    Role,
    StateEntry,
    Visit,
    VisitKind,
)
from tests.builders import NOON, POINT, entry, hard_wired, point, visit, with_entries
from tests.sound_visits import built
from tests.unit.causes.calls import Plain

NEC = profile("nec_2023")
OHMS: Plain = {
    "run.insulation": {"place": "electronic", "is_disconnected": True, "lowest": "800 kΩ"}
}
DEVICE: Plain = {"outlet.ground_fault": {"device": "breaker", "device_class": "class_a"}}
TRIPS: Plain = {"breaker.trip_history": {"when": "hours", "kind": "overcurrent"}}
UNKNOWN: Plain = {"breaker.trip_history": {"when": "hours", "kind": "unknown"}}
OPENED: Plain = {"outlet.ground_fault_history": {"device": "upstream", "when": "random"}}
BURNT: Plain = {"outlet.burn_pattern": {"place": "cord"}}
TIGHTENED: Plain = {
    "outlet.terminal_torque": {
        "occasion": "tightening",
        "label": "2.3 N·m",
        "applied": "2.3 N·m",
        "are_all_done": True,
    }
}
MENDED: Plain = {"surroundings.repair": {"outcome": "mended", "done": "Own circuit pulled"}}


def call(told: Plain, role: Role = Role.SERVES) -> Visit:
    """A sound circuit, proved dead, and what is told of it."""
    off = built("receptacle", {}).model_copy(update={"kind": VisitKind.SERVICE_CALL, "role": role})
    number = max(e.number for e in off.entries)
    proofs = ("breaker.lock_and_tag", "breaker.absence_of_voltage")
    found = {e.check: e for e in off.entries}
    again = tuple(
        found[c].model_copy(update={"number": number + 2 + i}) for i, c in enumerate(proofs)
    )
    state = StateEntry(number=number + 1, point=POINT, state="dead and proved", at=NOON)
    live = [
        "outlet.no_load_voltage",
        "charger.enclosure_voltage",
        "charger.contactor_open",
    ]
    read = tuple(found[c].model_copy(update={"number": number + 4 + i}) for i, c in enumerate(live))
    dead = off.model_copy(update={"entries": (*off.entries, *again, *read), "states": (state,)})
    return with_entries(dead, told)


def opened(found: Assessment) -> list[bool]:
    return [g.is_open for g in found.points[0].gates]


@pytest.mark.parametrize("role", [Role.SERVES, Role.INSPECTS])
@pytest.mark.parametrize(
    ("told", "at"),
    [
        (UNKNOWN, "breaker.trip_history"),
        (TRIPS | DEVICE | OHMS, "breaker.trip_history"),
        (OPENED | DEVICE | OHMS, "outlet.ground_fault_history"),
        (BURNT, "outlet.burn_pattern"),
    ],
)
def test_what_keeps_live_tests_from_a_circuit_keeps_it_from_being_energised(
    told: Plain, at: str, role: Role
) -> None:
    found = assess(call(told, role), NEC)
    assert found.causes[0].barred
    assert opened(found) == [True, False, False]
    assert at in found.points[0].gates[1].waiting


@pytest.mark.parametrize("told", [{}, TRIPS, OPENED])
def test_a_trip_of_a_circuit_whose_insulation_is_proved_keeps_nothing_shut(told: Plain) -> None:
    found = assess(call(told), NEC)
    assert found.causes[0].barred == ()
    assert opened(found) == [True, True, True]


@pytest.mark.parametrize("told", [UNKNOWN, OPENED | DEVICE | OHMS, BURNT])
def test_what_was_told_of_the_fault_keeps_nothing_shut_once_it_is_mended(told: Plain) -> None:
    """Ohms through an electronic breaker show no short, and then it watches the insulation."""
    found = assess(call(told | MENDED | TIGHTENED), NEC)
    assert found.causes[0].barred == ()
    assert found.points[0].gates[1].is_open


@pytest.mark.parametrize("told", [UNKNOWN, OPENED | DEVICE | OHMS, BURNT])
def test_a_repair_says_nothing_of_what_is_told_after_it(told: Plain) -> None:
    found = assess(call(MENDED | told | TIGHTENED), NEC)
    assert found.causes[0].barred
    assert opened(found) == [True, False, False]


def test_to_find_nothing_to_mend_frees_no_burn() -> None:
    explained: Plain = {"surroundings.repair": {"outcome": "explained", "done": "Looked"}}
    assert assess(call(BURNT | explained), NEC).causes[0].barred
    assert assess(call(UNKNOWN | explained), NEC).causes[0].barred == ()


@pytest.mark.parametrize("outcome", ["made_safe", "others"])
def test_what_was_only_made_safe_stays_off(outcome: str) -> None:
    said: Plain = {"surroundings.repair": {"outcome": outcome, "done": "Locked off"}}
    for told in (UNKNOWN, {}):  # a fault that is still there keeps it off, be it told of or not
        assert opened(assess(call(told | said), NEC)) == [True, False, False]


def test_a_mended_circuit_waits_for_its_insulation_all_the_same() -> None:
    made = call(UNKNOWN | MENDED)
    left = tuple(e for e in made.entries if e.check != "run.insulation")
    found = assess(made.model_copy(update={"entries": left}), NEC)
    assert "insulation is not proved" in found.causes[0].barred[0]
    assert "run.insulation" in found.points[0].gates[1].waiting


def test_insulation_in_doubt_tells_nobody_to_keep_a_circuit_dead_that_may_be_energised() -> None:
    """IEC 60364-6 table 6A: at least 1.0 MΩ at 500 V; 1.02 MΩ is within the meter's error."""
    made = call({})
    tested = entry(
        "run.insulation",
        POINT,
        90_000,
        place="panel",
        is_disconnected=True,
        test_v="500",
        line_ground="1.02 MΩ",
        second_ground="300 MΩ",
        between="300 MΩ",
    )
    found = assess(made.model_copy(update={"entries": (*made.entries, tested)}), NEC)
    judged = found.row("run.insulation", POINT).judgement
    assert judged.verdict == "borderline"
    # what the test took off is tightened first; the insulation itself keeps nothing shut
    assert found.points[0].gates[1].waiting == ("breaker.terminal_torque",)
    assert "eep the circuit dead" not in f"{judged.remedy} {judged.settles}"


ADAPTED = point(inlet=Coupler.J3400)
INLET: Plain = {"vehicle.inlet_condition": {"has_burn_marks": True}}
ADAPTER: Plain = {"adapter.pins": {"has_burn_marks": True}}
WET: Plain = {"outlet.damage": {"is_wet": True}}


def corrected(told: Plain, now: ChargingPoint) -> Assessment:
    """What is told at a charging point with a vehicle and an adapter, which is then corrected."""
    first = with_entries(visit(kind=VisitKind.SERVICE_CALL, points=(ADAPTED,)), told)
    assert kept_off(assess(first, NEC))
    made = (Correction(number=1000, at=NOON, points=(ADAPTED,)),)
    return assess(first.model_copy(update={"points": (now,), "corrections": made}), NEC)


@pytest.mark.parametrize("told", [INLET, ADAPTER])
def test_what_is_not_here_since_a_correction_is_told_and_keeps_nothing_off(told: Plain) -> None:
    """It can be neither mended nor looked at again: it would keep the circuit off for ever."""
    found = corrected(told, point(inlet=None))
    assert kept_off(found) == ()
    assert [a.finding.row.check for a in found.set_aside] == list(told)
    assert not set(told) & set(found.points[0].gates[1].waiting)


@pytest.mark.parametrize("told", [WET, BURNT])
def test_what_is_asked_still_after_a_correction_keeps_it_off(told: Plain) -> None:
    found = corrected(told, hard_wired(inlet=Coupler.J3400))
    assert kept_off(found)
    assert set(told) & set(found.points[0].gates[1].waiting)
