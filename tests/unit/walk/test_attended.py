"""A danger that was found live keeps the circuit off until hands have attended to it.

29 CFR 1910.333(a)(1), from memory: live parts are made dead before work; a look mends nothing.
"""

import pytest

from checks.check import REPAIR, CircuitState
from checks.record import Role, Visit, VisitKind
from checks.stations.all import BY_ID
from fieldapp.walk.circuit import gate
from tests.builders import POINT, entry
from tests.sound_visits import built
from tests.unit.walk.test_agenda import assessed, dead_again, judged_anew

CASE, HOT = "charger.enclosure_voltage", "outlet.temperature"
DANGERS = {
    CASE: built("receptacle", {CASE: {"touch": "58 V"}}),
    HOT: built("receptacle", {HOT: {"sign": "smell"}}),
}
LIVE = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)


def barred(made: Visit, check: str) -> list[bool]:
    """Whether a check keeps the circuit from being energised, and from its load."""
    return [check in gate(assessed(made), POINT, state).waiting for state in LIVE]


def called(made: Visit, role: Role = Role.SERVES) -> Visit:
    return made.model_copy(update={"kind": VisitKind.SERVICE_CALL, "role": role})


def repaired(made: Visit, outcome: str) -> Visit:
    off = dead_again(made)
    said = entry(REPAIR, POINT, off.states[-1].number + 1, outcome=outcome, done="Done")
    return off.model_copy(update={"entries": (*off.entries, said)})


@pytest.mark.parametrize(
    ("danger", "look"),
    [
        (CASE, "charger.nameplate"),
        (CASE, "charger.damage"),
        (CASE, "charger.mounting"),
        (CASE, "breaker.absence_of_voltage"),
        (HOT, "outlet.damage"),
        (HOT, "outlet.configuration"),
        (HOT, "outlet.retention"),  # a plug that is pulled by hand
    ],
)
def test_a_plate_a_look_or_a_proof_lifts_no_danger(danger: str, look: str) -> None:
    off = dead_again(DANGERS[danger])
    assert barred(off, danger) == [True, True]
    assert barred(judged_anew(off, look), danger) == [True, True]


@pytest.mark.parametrize(
    ("danger", "work"),
    [(CASE, "run.protective_conductor"), (CASE, "run.insulation"), (HOT, "outlet.terminal_torque")],
)
def test_hands_on_its_station_or_at_a_charger_on_its_circuit_let_it_be_read_again(
    danger: str, work: str
) -> None:
    assert barred(judged_anew(DANGERS[danger], work), danger) == [True, True], "it was not dead"
    mended = judged_anew(dead_again(DANGERS[danger]), work)
    is_read_without_load = BY_ID[danger].state is CircuitState.ENERGISED
    assert barred(mended, danger) == [False, is_read_without_load]
    assert barred(dead_again(mended), danger) == [False, is_read_without_load], "it stays mended"


def test_work_elsewhere_on_the_circuit_mends_no_outlet() -> None:
    off = dead_again(DANGERS[HOT])
    assert barred(judged_anew(off, "run.insulation"), HOT) == [True, True]


@pytest.mark.parametrize(
    ("outcome", "is_barred"), [("mended", False), ("explained", False), ("made_safe", True)]
)
@pytest.mark.parametrize("role", [Role.SERVES, Role.INSPECTS])
def test_on_a_service_call_the_repair_lets_it_be_read_again(
    outcome: str, is_barred: bool, role: Role
) -> None:
    call = called(DANGERS[CASE], role)
    searched = judged_anew(dead_again(call), "run.insulation")
    assert barred(searched, CASE)[0] is True, "a test of the search mends nothing at the charger"
    assert barred(repaired(call, outcome), CASE)[0] is is_barred


def test_who_opens_nothing_sees_what_others_did() -> None:
    over = {"kind": VisitKind.SITE_RECORD, "role": Role.INSPECTS}
    told = dead_again(DANGERS[CASE].model_copy(update=over))
    assert barred(told, CASE)[0] is True
    assert barred(judged_anew(told, "charger.damage"), CASE)[0] is False


def test_hands_that_left_something_wrong_attend_to_nothing() -> None:
    off = dead_again(DANGERS[HOT])
    bad = judged_anew(off, "outlet.terminal_torque", applied="0.2")
    assert barred(bad, HOT) == [True, True]
