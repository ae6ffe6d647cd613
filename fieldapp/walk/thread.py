"""A service call's thread: from the symptom by tests to the proof, the repair and the decision."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final, TypeAlias

from checks.causes import Ranking, Status, View
from checks.causes.clues.symptoms import is_ground_fault
from checks.causes.explaining import shown_by
from checks.causes.safety import BURNT, DAMAGED, INSULATION, WET
from checks.check import LIVE_STATES, CircuitState, Situation
from checks.record import VisitKind
from checks.stations import repair
from checks.stations.all import BY_ID
from checks.stations.fitted import TRIP_TEST, owed
from checks.stations.observing import INSIDE
from checks.stations.run.dead_tests import DEVICE
from checks.verdict import Verdict
from fieldapp.walk import agenda, circuit
from fieldapp.walk.visit import Walk

REPAIR: Final = repair.CHECK
LOOKED_AT: Final = frozenset(r.rpartition(".")[0] for r in (*BURNT, *WET, *DAMAGED))
LOCK: Final = "breaker.lock_and_tag"
NUMBERS: Final = ("breaker.rating", "charger.configuration")  # of a new part, for the circuit
PROOFS: Final = frozenset({INSIDE, *(c.id for c in BY_ID.values() if c.proves)})
TELL: Final = "charger.behavior"  # where nothing was told yet, it begins here


class Stage(StrEnum):
    """How far a service call is."""

    TELL = "say what happens"
    TEST = "find the cause"
    REPAIR = "record the repair"
    REPEAT = "repeat the readings"
    DECIDE = "decide"


Next: TypeAlias = agenda.Step | CircuitState | None


@dataclass(frozen=True)
class Thread:
    """Where a service call stands at one charging point.

    Parameters
    ----------
    stage : Stage
        How far it is.
    ranking : Ranking
        The causes.
    aim : str
        The check that the stage works towards; empty where none is left.
    next : Step or CircuitState, optional
        What can be done towards it now: the check itself, what must stand first, or a state to
        bring the circuit into. None where the aim cannot be reached from here.
    is_repeat : bool
        What comes next is made again after mending.
    waiting : tuple of str
        Checks that are still to be repeated.
    is_unproved : bool
        What the repair would open was not proved dead: it is left made safe.
    """

    stage: Stage
    ranking: Ranking
    aim: str = ""
    next: Next = None
    is_repeat: bool = False
    waiting: tuple[str, ...] = ()
    is_unproved: bool = False


def is_service_call(walk: Walk) -> bool:
    """Whether this visit looks for a cause."""
    return walk.visit.kind is VisitKind.SERVICE_CALL


def ranking_of(walk: Walk) -> Ranking:
    """Return the causes at the point that is walked."""
    return next(r for r in walk.assessment.causes if r.point == walk.point_id)


def thread(walk: Walk) -> Thread:
    """Return where the service call stands, and what comes next on it.

    Parameters
    ----------
    walk : Walk
        A service call.
    """
    ranking = ranking_of(walk)
    repaired = _steps(walk).get(REPAIR)
    if repaired is not None and repaired.is_done:
        if any(_is_found_live_since(s, repaired) for s in _steps(walk).values()):
            return _to_repair(walk, ranking, is_repeat=True)
        return _after_repair(walk, ranking)
    if ranking.status is Status.UNTOLD and not _is_done(walk, TELL):
        return _locked_first(walk, _towards(walk, ranking, Stage.TELL, TELL))
    if ranking.next_test is not None and ranking.status is not Status.PROVEN:
        found = _towards(walk, ranking, Stage.TEST, ranking.next_test.check)
        if found.next is not None:
            return _locked_first(walk, found)
    return _to_repair(walk, ranking)


def _locked_first(walk: Walk, found: Thread) -> Thread:
    """Return the lock first, where a danger had the circuit made dead.

    Off is not dead: anybody may switch it on while the search goes on elsewhere.
    """
    lock = _steps(walk).get(LOCK)
    is_open = lock is not None and not lock.is_done and not lock.shut_because
    if is_open and circuit.is_in_danger(walk.assessment, walk.point):
        return replace(found, next=lock)
    return found


def _to_repair(walk: Walk, ranking: Ranking, *, is_repeat: bool = False) -> Thread:
    """Return what comes before the repair: a circuit that is opened for it is dead and proved.

    It is recorded once more where a danger was found live after it.
    """
    is_known = ranking.status is Status.PROVEN and walk.visit.role.opens
    needs = ranking.causes[0].needs if is_known else ()
    if needs and walk.state is not CircuitState.DEAD:
        return Thread(Stage.REPAIR, ranking, REPAIR, CircuitState.DEAD)
    found = _towards(walk, ranking, Stage.REPAIR, REPAIR, is_repeat=is_repeat, needs=needs)
    steps = _steps(walk)
    given_up = any(steps[c].is_done and not _stands(steps[c]) for c in needs if c in steps)
    return replace(found, is_unproved=given_up)


def to_repeat(walk: Walk) -> tuple[str, ...]:
    """Return what is to be made again after the repair: what showed the fault, and was made.

    The readings that the proven cause, or else the likeliest, is proved mended by, and what was
    seen burnt, wet or damaged; what is made dead comes first. One that was not made before the
    repair has nothing to be held against, but says that it is sound now. What was checked of a part
    that was replaced is checked of the new one, and what such a part is commissioned by; its
    numbers come before all else, for what was reckoned with those of the old one is open until
    then, and where they were read, what they are held against. What was read once more, well or
    not, is not asked for again, but what a later test took apart is, be it read before or not.
    While something keeps the circuit off, its insulation is owed as well, once it is told whether
    the breaker stands it.
    """
    ranking, steps = ranking_of(walk), _steps(walk)
    verify = ranking.causes[0].verify if ranking.causes else ()
    again = {v.check for v in verify if not v.is_repeated}
    unread, repair = frozenset(again), steps[REPAIR].row.entry or 0
    again |= _owed(walk) | _spoke(ranking, steps)
    again |= {c for c in LOOKED_AT if c in steps and _is_bad(steps[c])}
    old = {c for c, step in steps.items() if step.row.is_owed_again}
    again |= old | {
        c for c, step in steps.items() if step.row.is_apart or circuit.is_danger(step.row)
    }
    if ranking.barred and INSULATION in steps and not steps[INSULATION].is_done:
        again |= {c for c in (DEVICE, INSULATION) if not steps[c].is_done}
    made = {
        c: s.row
        for c, s in steps.items()
        if (s.row.entry or 0) > repair and not s.row.is_owed_again
    }
    again -= {c for c, row in made.items() if row.is_left_out or c not in unread}
    again |= {c for n in NUMBERS if n in made for c in walk.waits_for(made[n])}
    order = sorted(again & steps.keys(), key=list(steps).index)  # as the states follow each other
    numbers = {c for c in old & _reckoned_with(walk) if BY_ID[c].state is CircuitState.ANY}
    return tuple(sorted(order, key=lambda c: (c not in numbers, c != DEVICE, c != INSULATION)))


def _reckoned_with(walk: Walk) -> frozenset[str]:
    """Return the checks that another one looks up and finds nothing at."""
    return frozenset(c for s in walk.steps for c in walk.looked_for(s.row) if c != s.row.check)


def _spoke(ranking: Ranking, steps: Mapping[str, agenda.Step]) -> frozenset[str]:
    """Return what is outside and speaks for the mended cause; a symptom is told once."""
    shown = shown_by(ranking.causes[0].cause) if ranking.causes else frozenset()
    return frozenset(c for c in shown & steps.keys() if _is_bad(steps[c]))


def _owed(walk: Walk) -> frozenset[str]:
    """Return what a part that was fitted owes, and after a ground fault the device's own test."""
    here = Situation(walk.visit, walk.code, walk.point_id)
    test = _steps(walk).get(TRIP_TEST)
    is_open = test is not None and test.row.judgement.verdict is Verdict.NOT_MEASURED
    is_trip = is_ground_fault(View(here, {}))
    return owed(here) | (frozenset({TRIP_TEST}) if is_open and is_trip else frozenset())


def _stands(step: agenda.Step) -> bool:
    return step.row.judgement.verdict not in (Verdict.OUTSIDE, Verdict.NOT_MEASURED)


def _is_bad(step: agenda.Step) -> bool:
    return step.row.judgement.verdict is Verdict.OUTSIDE


def _is_found_live_since(step: agenda.Step, repaired: agenda.Step) -> bool:
    is_later = (step.row.entry or 0) > (repaired.row.entry or 0)
    return is_later and step.row.state in LIVE_STATES and circuit.is_danger(step.row)


def _after_repair(walk: Walk, ranking: Ranking) -> Thread:
    is_mended = walk.assessment.row(REPAIR, walk.point_id).judgement.verdict is Verdict.WITHIN
    waiting = to_repeat(walk) if is_mended else ()
    for check in waiting:
        is_repeat = check != INSULATION or _is_done(walk, check)
        found = _towards(walk, ranking, Stage.REPEAT, check, is_repeat=is_repeat)
        if found.next is not None:
            return replace(found, waiting=waiting)
    return Thread(Stage.DECIDE, ranking, waiting=waiting)


def _towards(
    walk: Walk,
    ranking: Ranking,
    stage: Stage,
    aim: str,
    *,
    is_repeat: bool = False,
    needs: tuple[str, ...] = (),
) -> Thread:
    """Return the next step towards a check: itself, or what must stand or be switched first."""
    again = (aim,) if is_repeat else ()  # its entry is of before the repair
    # what is dead is proved anew after a switching; what was looked at is known
    proofs = PROOFS.intersection(needs)
    steps = agenda.steps(walk.visit, walk.assessment, walk.point, again=again, needed=proofs)
    wanted = _needed(walk, aim, *needs)
    found = [s for s in steps if s.row.check in wanted]
    coming = agenda.next_step(found, walk.state, must_be_dead=walk.must_be_dead)
    is_aim = isinstance(coming, agenda.Step) and coming.row.check == aim
    return Thread(stage, ranking, aim, coming, is_repeat=is_repeat and is_aim)


def _needed(walk: Walk, *aims: str) -> frozenset[str]:
    """Return checks and all that must stand before them, through the states on the way.

    What was made and cannot be judged yet stands once the entries are there that it is judged by.
    """
    gates, steps = circuit.gates(walk.assessment, walk.point_id), _steps(walk)
    wanted: set[str] = set()
    open_ones = list(aims)
    while open_ones:
        check = open_ones.pop()
        if check in wanted:
            continue
        wanted.add(check)
        declared = BY_ID[check]
        open_ones += declared.needs
        if declared.touches and check in steps and steps[check].is_barred:
            open_ones.append(circuit.CASE)
        if check in steps:
            open_ones += walk.waits_for(steps[check].row)
        gate = gates.get(declared.state)
        if gate is not None:
            open_ones += (*gate.waiting, *gate.first)
    return frozenset(wanted)


def _steps(walk: Walk) -> dict[str, agenda.Step]:
    return {s.row.check: s for s in walk.steps}


def _is_done(walk: Walk, check: str) -> bool:
    step = _steps(walk).get(check)
    return step is None or step.is_done
