"""One charging point: its path, its gates, its staircase."""

from collections.abc import Sequence

from checks.assess.model import Gate, PointSummary, Row, StationSummary
from checks.check import STATE_ORDER, CircuitState
from checks.path import BESIDE, Station, path, subject, title
from checks.record import ChargingPoint, StateEntry
from checks.stations.all import BY_ID
from checks.verdict import Verdict, worst


def summarize(
    point: ChargingPoint, mine: Sequence[Row], states: Sequence[StateEntry]
) -> PointSummary:
    """Sum up one charging point from the rows of its path, in the order of the checks."""
    on_path = path(point)

    def summary(station: Station) -> StationSummary:
        here = [r for r in mine if r.station is station]
        telling = next((r.judgement.telling for r in here if BY_ID[r.check].tells), "")
        return StationSummary(
            station=station,
            title=title(station, point),
            subject=subject(station, point),
            verdict=worst(r.judgement.verdict for r in here),
            telling=telling,
        )

    stations = tuple(summary(s) for s in on_path)
    beside = tuple(summary(s) for s in BESIDE)
    return PointSummary(
        point=point.id,
        name=point.name,
        verdict=worst(s.verdict for s in (*stations, *beside)),
        path=stations,
        beside=beside,
        gates=_gates(states, mine),
        staircase=tuple(step for r in mine for step in r.judgement.steps),
    )


def _gates(states: Sequence[StateEntry], rows: Sequence[Row]) -> tuple[Gate, ...]:
    """Each state opens only when the gating checks of the states before it stand.

    What was read live counts no longer for it once the circuit was made dead again: it may have
    been changed since.
    """
    gates = []
    waiting: list[str] = []
    last: dict[str, int] = {s.state: s.number for s in sorted(states, key=_number)}
    for state in STATE_ORDER:
        here = [r for r in rows if _stands_in(r.state, state)]
        since = last.get(state.value, 0)
        first = [r.check for r in here if BY_ID[r.check].proves and _shut(r, since)]
        gates.append(
            Gate(state=state, is_open=not waiting, waiting=tuple(waiting), first=tuple(first))
        )
        live_since = 0 if state is CircuitState.DEAD else last.get(CircuitState.DEAD.value, 0)
        waiting += [r.check for r in here if BY_ID[r.check].gates and _shut(r, live_since)]
        waiting += [check for check in first if check not in waiting]
    return tuple(gates)


def _number(entry: StateEntry) -> int:
    return entry.number


def _stands_in(needed: CircuitState, state: CircuitState) -> bool:
    """Whether a check is made in this state; what needs no state comes with the first."""
    stateless = (CircuitState.ANY, CircuitState.NO_CURRENT)
    return needed is state or (needed in stateless and state is CircuitState.DEAD)


def _shut(row: Row, since: int) -> bool:
    """Whether this check keeps the next state shut: outside, missing, or older than the state."""
    if row.judgement.verdict is Verdict.NOT_APPLICABLE:
        return False
    bad = row.judgement.verdict in (Verdict.OUTSIDE, Verdict.NOT_MEASURED)
    return bad or (row.entry or 0) < since
