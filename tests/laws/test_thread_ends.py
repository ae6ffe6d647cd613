"""A service call's thread always ends at the decision, whatever is found and whatever is left out.

The technician does what the thread asks for and nothing else: answers at random, or leaves out.
"""

from pathlib import Path
from random import Random

import pytest

from checks.assess import Row
from checks.check import Choice, CircuitState, Situation, YesNo
from checks.record import NotDoneReason
from checks.stations.all import BY_ID
from fieldapp.store.visits import Store
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.thread import REPAIR, Stage, thread
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery.walking import SERVICE, begin, enter, make

ENOUGH = 150  # deeds; a call that asks for every check once has fewer
LEVEL_2 = {"kind": "service call", "role": "serves", "connection": "level 2 by receptacle"}
PROOF = "breaker.absence_of_voltage"
ILL = 0.25  # of all questions that may be answered well or ill
INSULATION = "run.insulation"
OPENED = {"outlet.ground_fault_history.device": "upstream"}
CLOSED = {  # whatever is left out, these may be answered: the panel stays on
    "run.insulation.place": "outlet",
    "run.polarity.place": "closed",
    "run.protective_conductor.place": "closed",
    "panel.neutral_bond.bond": "closed",
}


def said(walk: Walk, row: Row, rng: Random) -> dict[str, str]:
    """Answer some of the questions of a check at random; the rest as in a sound installation."""
    found = {}
    for asked in BY_ID[row.check].at(Situation(walk.visit, walk.code, row.subject)).inputs:
        if row.check == REPAIR or rng.random() > ILL:
            continue
        if isinstance(asked, YesNo):
            found[f"{row.check}.{asked.name}"] = rng.choice(("yes", "no"))
        elif isinstance(asked, Choice):
            found[f"{row.check}.{asked.name}"] = rng.choice(asked.options).value
    return found | closed(walk)


def closed(walk: Walk) -> dict[str, str]:
    """Answer as the panel stays on; through a breaker with electronics ohms alone are read."""
    here = Situation(walk.visit, walk.code, walk.point_id)
    asked = BY_ID[INSULATION].at(here).input("place")
    assert isinstance(asked, Choice)
    is_plain = any(o.value == "outlet" for o in asked.options)
    return CLOSED if is_plain else CLOSED | {f"{INSULATION}.place": "electronic"}


def repaired(walk: Walk, part: str) -> dict[str, str]:
    """Say that a part was replaced where that may be said, else that it was made safe."""
    asked = BY_ID[REPAIR].at(Situation(walk.visit, walk.code, walk.point_id)).input("replaced")
    assert isinstance(asked, Choice)
    is_shut = part in walk.shut_options(asked)
    return {f"{REPAIR}.outcome": "made_safe" if is_shut else "mended", f"{REPAIR}.replaced": part}


def to_the_end(
    walk: Walk, rng: Random, left: float, never: str = "", part: str = "none"
) -> list[str]:
    """Follow the thread; leave a share of the checks out, and one of them always."""
    done: list[str] = []
    while (now := thread(walk)).next is not None and len(done) < ENOUGH:
        if isinstance(now.next, CircuitState):
            enter(walk, now.next)
            done.append(str(now.next))
            continue
        check = now.next.row.check
        done.append(check)
        if check == never or (check != REPAIR and rng.random() < left):
            walk.leave_out(NotDoneReason.NO_INSTRUMENT, check_id=check)
            continue
        walk.begin(check, after_mending=now.is_repeat)
        answers = repaired(walk, part) | (
            OPENED | closed(walk) if never else said(walk, now.next.row, rng)
        )
        make(walk, check, answers)
    assert now.stage is Stage.DECIDE, (now.stage, now.aim, done[-12:])
    assert now.next is None, done[-24:]
    return done


@pytest.mark.parametrize("over", [SERVICE, LEVEL_2])
@pytest.mark.parametrize(("seed", "left"), [(1, 0.0), (2, 0.1), (3, 0.4), (4, 1.0)])
def test_it_ends_whatever_is_found(
    tmp_path: Path, over: dict[str, str], seed: int, left: float
) -> None:
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **over)
        to_the_end(walk, Random(seed), left)


@pytest.mark.parametrize("proof", [PROOF, "breaker.lock_and_tag"])
def test_without_a_meter_that_is_fit_the_circuit_is_not_made_dead_over_and_over(
    tmp_path: Path, proof: str
) -> None:
    with Store(tmp_path) as store:
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **LEVEL_2)
        done = to_the_end(walk, Random(5), 0.0, never=proof)
        assert done.count("dead and proved") <= 2, "once to test, once to repair"
        assert INSULATION not in done


@pytest.mark.parametrize("part", ["breaker", "bus", "receptacle", "both", "charger"])
@pytest.mark.parametrize("connection", ["level 2 by receptacle", "level 2 hard-wired"])
@pytest.mark.parametrize(("seed", "left"), [(6, 0.0), (7, 0.2)])
def test_it_ends_whatever_part_is_replaced(
    tmp_path: Path, part: str, connection: str, seed: int, left: float
) -> None:
    with Store(tmp_path) as store:
        over = {**LEVEL_2, "connection": connection}
        walk = begin(Desk(Ledger(store, FakeDevice(tmp_path).now)), **over)
        to_the_end(walk, Random(seed), left, part=part)
