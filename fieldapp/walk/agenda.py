"""What is asked next at a charging point: by circuit state, then along the path."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from checks.assess import Assessment, Gate, Row
from checks.check import STATE_ORDER, CircuitState
from checks.intake import BY_ID
from checks.path import subject
from checks.record import ChargingPoint, StateEntry, Visit
from checks.verdict import Verdict

ORDER: Final = (CircuitState.ANY, CircuitState.NO_CURRENT, *STATE_ORDER)


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
        It must be made anew, for the circuit was brought into its state again since.
    """

    row: Row
    shut_because: str = ""
    is_stale: bool = False

    @property
    def is_done(self) -> bool:
        """Whether there is an entry that counts, be it a reason for leaving it out."""
        return self.row.entry is not None and not self.is_stale


def state_now(visit: Visit, point_id: str) -> CircuitState | None:
    """Return the state a point's circuit was brought into last; None when it was not yet."""
    last = _last_state(visit, point_id)
    return None if last is None else CircuitState(last.state)


def _last_state(visit: Visit, point_id: str) -> StateEntry | None:
    mine = [s for s in visit.states if s.point == point_id]
    return max(mine, key=lambda s: s.number, default=None)


def gate(assessment: Assessment, point_id: str, state: CircuitState) -> Gate:
    """Return the gate of a state at a point."""
    summary = next(p for p in assessment.points if p.point == point_id)
    return next(g for g in summary.gates if g.state is state)


def steps(visit: Visit, assessment: Assessment, point: ChargingPoint) -> tuple[Step, ...]:
    """Return every check that applies at a point, in the order that spares trips and switchings.

    First what can be looked at in any state, then dead, energised, under load; in each from the
    service to the vehicle, so that the technician walks the path once a state. What must be made
    anew in a state comes first in it.
    """
    now, since = state_now(visit, point.id), _last_state(visit, point.id)
    found = [
        Step(row, _shut_because(row, assessment, point.id, now), _is_stale(row, since))
        for row in assessment.rows
        if row.subject == subject(row.station, point)
        and row.judgement.verdict is not Verdict.NOT_APPLICABLE
    ]
    return tuple(
        sorted(found, key=lambda s: (ORDER.index(s.row.state), not BY_ID[s.row.check].proves))
    )


def _shut_because(row: Row, assessment: Assessment, point_id: str, now: CircuitState | None) -> str:
    if row.state is CircuitState.ANY:
        return ""
    if row.state is CircuitState.NO_CURRENT:
        ended = now is not CircuitState.UNDER_LOAD
        return "" if ended else "first: end the charge, and say that the load is off"
    if row.state is not now:
        return row.state.demand
    unmet = [c for c in BY_ID[row.check].needs if not _stands(assessment, c, row.subject)]
    if unmet:
        return f"first: {titles(unmet)}"
    first = [c for c in gate(assessment, point_id, row.state).first if c != row.check]
    if first and not BY_ID[row.check].proves:
        return f"first: {titles(first)}"
    return ""


def _is_stale(row: Row, since: StateEntry | None) -> bool:
    """Whether what must be made anew in the circuit's state was made before that began."""
    if since is None or row.state != since.state or not BY_ID[row.check].proves:
        return False
    return (row.entry or 0) < since.number


def _stands(assessment: Assessment, check: str, at: str) -> bool:
    """Whether a check was made and is not outside, or has no place here."""
    shut = (Verdict.OUTSIDE, Verdict.NOT_MEASURED)
    return not any(
        r.judgement.verdict in shut for r in assessment.rows if (r.check, r.subject) == (check, at)
    )


def titles(checks: Sequence[str]) -> str:
    """Name checks by their titles."""
    return ", ".join(BY_ID[c].title for c in checks)


def next_step(found: Sequence[Step], now: CircuitState | None) -> Step | CircuitState | None:
    """Return what comes next: a check that may be made, a state to bring the circuit into, or None.

    Parameters
    ----------
    found : sequence of Step
        As `steps` ordered them.
    now : CircuitState, optional
        The circuit's state.
    """
    open_now = next((s for s in found if not s.is_done and not s.shut_because), None)
    if open_now is not None:
        return open_now
    reached = 0 if now is None else ORDER.index(now)
    waiting = [s for s in found if not s.is_done and ORDER.index(s.row.state) > reached]
    return waiting[0].row.state if waiting else None
