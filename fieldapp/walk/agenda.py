"""What is asked next at a charging point: by circuit state, then along the path."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from checks.assess import Assessment, Gate, Row
from checks.check import STATE_ORDER, AnyInput, Check, Choice, CircuitState
from checks.check.corrected import states_that_stand, waits_for_vehicle
from checks.intake import BY_ID
from checks.path import Scope, Station, subject
from checks.record import ChargingPoint, StateEntry, Visit
from checks.verdict import Severity, Verdict

LOOKED_AT: Final = (CircuitState.ANY, CircuitState.NO_CURRENT)
CASE: Final = "charger.enclosure_voltage"
ORDER: Final = (*LOOKED_AT, *STATE_ORDER)


@dataclass(frozen=True)
class Step:
    """One check at one charging point, and whether it may be made now.

    Parameters
    ----------
    row : Row
        The check as it is judged so far.
    shut_because : str
        Why it may not be made now; empty when it may.
    is_stale : bool
        It must be made anew, for the circuit was switched, the part replaced, or what it looked at
        corrected since.
    is_barred : bool
        Something else comes first, in whatever state this circuit is: another check, or another
        circuit of the panel that must be dead too.
    """

    row: Row
    shut_because: str = ""
    is_stale: bool = False
    is_barred: bool = False

    @property
    def is_done(self) -> bool:
        """Whether there is an entry that counts, be it a reason for leaving it out."""
        return self.row.entry is not None and not self.is_stale

    def state_first(self, now: CircuitState | None) -> CircuitState | None:
        """Return the state to bring the circuit into before this check; None when it is in it."""
        needed = self.row.state
        if needed is CircuitState.NO_CURRENT:
            return CircuitState.ENERGISED if now is CircuitState.UNDER_LOAD else None
        if needed in (CircuitState.ANY, now):
            return None
        # a load is put on a circuit that was seen live and sound
        is_too_far = needed is CircuitState.UNDER_LOAD and now is not CircuitState.ENERGISED
        return CircuitState.ENERGISED if is_too_far else needed


def state_now(visit: Visit, point_id: str) -> CircuitState | None:
    """Return the state a point's circuit was brought into last; None when it was not yet."""
    last = last_state(s for s in states_that_stand(visit) if s.point == point_id)
    return None if last is None else CircuitState(last.state)


def last_state(made: Iterable[StateEntry]) -> StateEntry | None:
    """Return the state entry made last."""
    return max(made, key=lambda s: s.number, default=None)


def _switched(visit: Visit, panel: str) -> int:
    """Return the number of the last state entry at any circuit of a panel; 0 without one."""
    beside = {p.id for p in visit.points if p.panel == panel}
    return max((s.number for s in visit.states if s.point in beside), default=0)


def beside(visit: Visit, point: ChargingPoint) -> list[ChargingPoint]:
    """Return the other charging points of a point's panel."""
    return [p for p in visit.points if p.panel == point.panel and p.id != point.id]


def live_beside(visit: Visit, point: ChargingPoint) -> list[ChargingPoint]:
    """Return those that were last said to be live; the panel is not dead then."""
    is_dead = (None, CircuitState.DEAD)
    return [p for p in beside(visit, point) if state_now(visit, p.id) not in is_dead]


def not_ready(visit: Visit, assessment: Assessment, point: ChargingPoint) -> list[ChargingPoint]:
    """Return the other points of the site that are not live, or not ready for a load."""
    opened = {(p.point, g.state) for p in assessment.points for g in p.gates if g.is_open}
    return [
        p
        for p in visit.points
        if p.id != point.id
        and (
            state_now(visit, p.id) not in (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
            or (p.id, CircuitState.UNDER_LOAD) not in opened
        )
    ]


def is_case_read(visit: Visit, assessment: Assessment, point: ChargingPoint) -> bool:
    """Whether the volts on the charger's enclosure were read since its circuit was last dead."""
    here = _here(visit, _mine(assessment, point), assessment, point)
    return here.stands(CASE) and not here.is_case_old


def is_in_danger(assessment: Assessment, point: ChargingPoint) -> bool:
    """Whether a danger stands at a point, its panel or the service."""
    mine = (r.judgement for r in _mine(assessment, point))
    return any(j.severity is Severity.DANGER and j.verdict is Verdict.OUTSIDE for j in mine)


def dead_work(found: Iterable[Step]) -> list[Step]:
    """Return what is still to be made with the circuit dead."""
    return [s for s in found if s.row.state is CircuitState.DEAD and not s.is_done]


def gates(assessment: Assessment, point_id: str) -> dict[CircuitState, Gate]:
    """Return the gates of the states at a point."""
    return {g.state: g for p in assessment.points if p.point == point_id for g in p.gates}


def gate(assessment: Assessment, point_id: str, state: CircuitState) -> Gate:
    """Return the gate of a state at a point."""
    return gates(assessment, point_id)[state]


def steps(
    visit: Visit,
    assessment: Assessment,
    point: ChargingPoint,
    *,
    again: Collection[str] = (),
    needed: Collection[str] = (),
) -> tuple[Step, ...]:
    """Return every check that applies at a point, in the order that spares trips and switchings.

    First what can be looked at in any state, then dead, energised, under load. The technician walks
    the path once a state, from the service to the vehicle; but where dead work follows, what is
    looked at goes from the bay back to the panel, for there the circuit is switched off. So the
    charger and its place are known, too, before the circuit is held against them. What must be made
    anew in a state comes first in it. ``again`` are to be made once more, whatever stands;
    ``needed`` must stand for something that is no check, as a repair.
    """
    mine = _mine(assessment, point)
    here = _here(visit, mine, assessment, point, again, needed)
    found = [_step(r, here) for r in mine if r.judgement.verdict is not Verdict.NOT_APPLICABLE]
    along = list(Station)
    is_back_to_panel = any(s.row.state is CircuitState.DEAD for s in found)

    def place(step: Step) -> tuple[int, bool, bool, int]:
        rank, state, check = along.index(step.row.station), step.row.state, BY_ID[step.row.check]
        if is_back_to_panel and state in LOOKED_AT:
            return (0, False, False, -rank)
        return (ORDER.index(state), not check.proves, check.ends, rank)

    return tuple(sorted(found, key=place))


def shut_options(
    visit: Visit, assessment: Assessment, point: ChargingPoint, asked: AnyInput
) -> dict[str, str]:
    """Return the options of an input that may not be picked now, each with what comes first."""
    wanting = [o for o in asked.options if o.needs] if isinstance(asked, Choice) else []
    if not wanting:
        return {}
    here = _here(visit, _mine(assessment, point), assessment, point)
    unmet = {o.value: [c for c in o.needs if not here.stands(c)] for o in wanting}
    return {option: f"first: {titles(first)}" for option, first in unmet.items() if first}


def _needs(check: Check) -> tuple[str, ...]:
    """Return what a check needs first, or one of its options does."""
    options = (o for i in check.inputs if isinstance(i, Choice) for o in i.options)
    return (*check.needs, *(c for o in options for c in o.needs))


def _mine(assessment: Assessment, point: ChargingPoint) -> list[Row]:
    return [r for r in assessment.rows if r.subject == subject(r.station, point)]


def _here(
    visit: Visit,
    mine: Sequence[Row],
    assessment: Assessment,
    point: ChargingPoint,
    again: Collection[str] = (),
    needed: Collection[str] = (),
) -> "_Here":
    bad = {
        r.check
        for r in mine
        if r.judgement.verdict is Verdict.OUTSIDE
        or r.is_left_out
        or (r.judgement.verdict is Verdict.NOT_MEASURED and r.entry and not r.is_owed_again)
    }
    found = gates(assessment, point.id)
    return _Here(
        gates=found,
        bad={state: [c for c in g.waiting if c in bad] for state, g in found.items()},
        now=state_now(visit, point.id),
        last={
            s.state: s.number
            for s in sorted(states_that_stand(visit), key=lambda s: s.number)
            if s.point == point.id
        },
        live_beside=", ".join(p.name for p in live_beside(visit, point)),
        not_ready=not_ready(visit, assessment, point),
        point=point,
        verdicts={
            r.check: Verdict.NOT_MEASURED
            if r.is_left_out or r.is_owed_again
            else r.judgement.verdict
            for r in mine
        },
        made={r.check: r.entry or 0 for r in mine},
        switched=_switched(visit, point.panel),
        opens=visit.role.opens,
        again=frozenset(again),
        needed=frozenset(needed).union(
            *(_needs(BY_ID[r.check]) for r in mine if _is_to_make(r) or r.check in again)
        ),
    )


@dataclass(frozen=True)
class _Here:
    """What decides at one charging point whether a check may be made now.

    ``bad`` is what was found outside or left out, and keeps a state shut.
    """

    gates: Mapping[CircuitState, Gate]
    bad: Mapping[CircuitState, Sequence[str]]
    now: CircuitState | None
    last: Mapping[str, int]
    live_beside: str
    not_ready: Sequence[ChargingPoint]
    point: ChargingPoint
    verdicts: Mapping[str, Verdict]
    made: Mapping[str, int]
    switched: int
    opens: bool
    again: frozenset[str]
    needed: frozenset[str]

    def stands(self, check: str) -> bool:
        """Whether a check was made and is not outside, or has no place here."""
        verdict = self.verdicts.get(check)
        if verdict in (Verdict.OUTSIDE, Verdict.NOT_MEASURED):
            return False
        return verdict in (None, Verdict.NOT_APPLICABLE) or not self.is_overtaken(check)

    @property
    def is_case_old(self) -> bool:
        """Whether the volts on the enclosure were not asked for since the circuit was dead."""
        return self.made.get(CASE, 0) <= self.last.get(CircuitState.DEAD.value, 0)

    def is_kept_off(self, check: Check) -> bool:
        """Whether it puts a hand on a charger that may be live before its enclosure was read.

        Who opens nothing comes to a circuit that others made live; no load comes before it is read.
        """
        is_found = self.now is None and not self.opens
        may_be_live = self.now is CircuitState.ENERGISED or is_found
        verdict = self.verdicts.get(CASE, Verdict.NOT_APPLICABLE)
        is_asked = verdict is not Verdict.NOT_APPLICABLE
        is_unread = verdict is Verdict.NOT_MEASURED and self.now is CircuitState.ENERGISED
        is_open = self.is_case_old or is_unread or verdict is Verdict.OUTSIDE
        return check.touches and may_be_live and is_asked and is_open

    def is_kept_live(self, check: str) -> bool:
        """Whether it needs the whole panel dead, and another circuit of it is live."""
        found = BY_ID[check]
        is_of_panel = found.state is CircuitState.DEAD and found.station.scope is Scope.PANEL
        return bool(self.live_beside) and is_of_panel

    def kept_from_load_by(self, check: str) -> str:
        """Name the other points that it would put a load on, and that are not ready for one."""
        found = BY_ID[check]
        is_of_panel = found.station.scope is Scope.PANEL
        there = [p for p in self.not_ready if not is_of_panel or p.panel == self.point.panel]
        return ", ".join(p.name for p in there) if found.loads_all else ""

    def is_given_up(self, proof: str) -> bool:
        """Whether a proof was left out or failed since the circuit was last brought there.

        To switch the circuit once more would prove nothing: whoever has what was lacking does so.
        """
        return self.made[proof] > self.last.get(BY_ID[proof].state.value, 0)

    def is_overtaken(self, check: str) -> bool:
        """Whether it was found dead, and a circuit of the panel was switched since."""
        return BY_ID[check].state is CircuitState.DEAD and self.made[check] < self.switched


def _is_to_make(row: Row) -> bool:
    """Whether there is no entry of the part that is there now."""
    return row.entry is None or row.is_owed_again


def _step(row: Row, here: _Here) -> Step:
    stale = _is_stale(row, here.last) or row.check in here.again
    stale = stale or (row.check in here.needed and here.is_overtaken(row.check))
    first = _first(row, here)
    barred = _barred_because(row, here) or _not_before(row, here, first)
    return Step(row, barred or _shut_because(row, here.now, first), stale, is_barred=bool(barred))


def _first(row: Row, here: _Here) -> list[str]:
    """Return what the state of a check waits for."""
    if row.state not in STATE_ORDER or BY_ID[row.check].proves:
        return []
    return [c for c in here.gates[row.state].first if c != row.check]


def _barred_because(row: Row, here: _Here) -> str:
    """Say what comes first in whatever state this circuit is; empty where nothing does."""
    if waits_for_vehicle(row.station, row.check, here.point):
        return "first: say which vehicle is here"
    if here.is_kept_live(row.check):
        return f"first make dead as well: {here.live_beside}"
    waiting = here.kept_from_load_by(row.check)
    if waiting:
        return f"not before these have been energised and tested without load: {waiting}"
    bad = here.bad.get(row.state)
    if bad:
        return f"not until these stand: {titles(bad)}"
    return f"first: {titles((CASE,))}" if here.is_kept_off(BY_ID[row.check]) else ""


def _not_before(row: Row, here: _Here, first: Sequence[str]) -> str:
    """Say which other checks come first; empty where none does, or the circuit's state asks it."""
    given_up = [c for c in first if here.is_given_up(c)]
    if given_up:
        return f"first: {titles(given_up)}"
    unmet = [c for c in BY_ID[row.check].needs if not here.stands(c)]
    # what is to be made in the same state is asked for once the circuit is in it and proved dead
    is_to_come = row.state in STATE_ORDER and all(
        BY_ID[c].state is row.state and not here.is_kept_live(c) for c in unmet
    )
    if unmet and not (is_to_come and (first or row.state is not here.now)):
        return f"first: {titles(unmet)}"
    return ""


def _shut_because(row: Row, now: CircuitState | None, first: Sequence[str]) -> str:
    if row.state is CircuitState.ANY:
        return ""
    if row.state is CircuitState.NO_CURRENT:
        ended = now is not CircuitState.UNDER_LOAD
        return "" if ended else "first: end the charge, and say that the load is off"
    if row.state is not now:
        return row.state.demand
    return f"first: {titles(first)}" if first else ""


def _is_stale(row: Row, last: Mapping[str, int]) -> bool:
    """Whether the circuit was switched since, or what it looked at is gone: it is made anew."""
    check, made = BY_ID[row.check], row.entry or 0
    if row.is_owed_again:
        return True
    if check.proves:
        return made < last.get(row.state.value, 0)
    if check.gates and row.state is CircuitState.ENERGISED:
        return made < last.get(CircuitState.DEAD.value, 0)
    return False


def titles(checks: Sequence[str]) -> str:
    """Name checks by their titles."""
    return ", ".join(BY_ID[c].title for c in checks)


def _closes_site(step: Step) -> bool:
    check = BY_ID[step.row.check]
    return check.closes and check.station.scope is Scope.SITE


def next_step(
    found: Sequence[Step],
    now: CircuitState | None,
    *,
    must_be_dead: bool = False,
    is_last: bool = True,
) -> Step | CircuitState | None:
    """Return what comes next: a check that may be made, a state to bring the circuit into, or None.

    Parameters
    ----------
    found : sequence of Step
        As `steps` ordered them.
    now : CircuitState, optional
        The circuit's state.
    must_be_dead : bool
        It is live, and something was found that it must not be live with.
    is_last : bool
        Nothing is open at another charging point: what closes the work on the site may come.
    """
    if must_be_dead:
        return CircuitState.DEAD
    undone = [s for s in found if not s.is_done and not s.is_barred]
    undone = [s for s in undone if is_last or not _closes_site(s)]
    undone = [s for s in undone if not BY_ID[s.row.check].closes] or undone
    open_now = next((s for s in undone if not s.shut_because), None)
    if open_now is not None:
        return open_now
    if now is CircuitState.UNDER_LOAD and any(
        s.row.state is CircuitState.NO_CURRENT for s in undone
    ):
        return CircuitState.ENERGISED  # the load comes off before a hand is on a coupler
    reached = 0 if now is None else ORDER.index(now)
    ahead = [s.row.state for s in undone if ORDER.index(s.row.state) > reached]
    behind = [s.row.state for s in undone if s.row.state in STATE_ORDER]
    target = next(iter(ahead or behind), None)
    if target is CircuitState.UNDER_LOAD and now is not CircuitState.ENERGISED:
        return CircuitState.ENERGISED  # a load is put on a circuit that was seen live and sound
    return target
