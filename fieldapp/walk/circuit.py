"""What is so at a charging point's circuit: its state, its gates, and what may be made there."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from checks.assess import Assessment, Gate, Row
from checks.assess.point import is_gone_around
from checks.check import LIVE_STATES, Check, Choice, CircuitState
from checks.check.corrected import states_that_stand
from checks.intake import BY_ID
from checks.path import Scope, subject
from checks.record import ChargingPoint, StateEntry, Visit
from checks.verdict import Severity, Verdict

CASE: Final = "charger.enclosure_voltage"


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
    """Return the points of the site that no load may be put on.

    The others where they are not live and ready for one, and any whose vehicle must not charge,
    though a load that goes around its adapter may be put on.
    """
    barred = {r.subject for r in assessment.rows if is_gone_around(r)}
    opened = {(p.point, g.state) for p in assessment.points for g in p.gates if g.is_open}
    return [
        p
        for p in visit.points
        if p.id in barred
        or (
            p.id != point.id
            and (
                state_now(visit, p.id) not in LIVE_STATES
                or (p.id, CircuitState.UNDER_LOAD) not in opened
            )
        )
    ]


def is_case_read(visit: Visit, assessment: Assessment, point: ChargingPoint) -> bool:
    """Whether the volts on the charger's enclosure were read since its circuit was last dead."""
    here = here_at(visit, rows_at(assessment, point), assessment, point)
    return here.stands(CASE) and not here.is_case_old


def is_in_danger(assessment: Assessment, point: ChargingPoint) -> bool:
    """Whether a danger stands at a point, its panel or the service."""
    return any(is_danger(r) for r in rows_at(assessment, point))


def is_danger(row: Row) -> bool:
    """Whether what a check found is a danger."""
    return row.judgement.severity is Severity.DANGER and row.judgement.verdict is Verdict.OUTSIDE


def gates(assessment: Assessment, point_id: str) -> dict[CircuitState, Gate]:
    """Return the gates of the states at a point."""
    return {g.state: g for p in assessment.points if p.point == point_id for g in p.gates}


def gate(assessment: Assessment, point_id: str, state: CircuitState) -> Gate:
    """Return the gate of a state at a point."""
    return gates(assessment, point_id)[state]


def _needs(check: Check) -> tuple[str, ...]:
    """Return what a check needs first, or one of its options does.

    What closes the work makes nobody switch: the work that it tells of was made before it.
    """
    if check.closes:
        return ()
    options = (o for i in check.inputs if isinstance(i, Choice) for o in i.options)
    return (*check.needs, *(c for o in options for c in o.needs))


def rows_at(assessment: Assessment, point: ChargingPoint) -> list[Row]:
    """Return the checks of a point, its panel and the site."""
    return [r for r in assessment.rows if r.subject == subject(r.station, point)]


@dataclass(frozen=True)
class Here:
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


def here_at(
    visit: Visit,
    mine: Sequence[Row],
    assessment: Assessment,
    point: ChargingPoint,
    again: Collection[str] = (),
    needed: Collection[str] = (),
) -> Here:
    """Return what decides at a point, from its checks.

    ``again`` is what a repair asks for once more, ``needed`` what is needed beside what every check
    that is to be made needs.
    """
    bad = {
        r.check
        for r in mine
        if r.judgement.verdict is Verdict.OUTSIDE
        or r.is_left_out
        or (r.judgement.verdict is Verdict.NOT_MEASURED and r.entry and not r.is_owed_again)
    }
    found = gates(assessment, point.id)
    return Here(
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


def _is_to_make(row: Row) -> bool:
    """Whether it has a place here, and no entry of what is there now."""
    is_here = row.judgement.verdict is not Verdict.NOT_APPLICABLE
    return is_here and (row.entry is None or row.is_owed_again)
