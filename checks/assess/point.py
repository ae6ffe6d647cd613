"""One charging point: its path, its gates, its staircase."""

from collections.abc import Collection, Sequence
from typing import Final

from checks.assess.model import Gate, PointSummary, Row, StationSummary
from checks.check import LIVE_STATES, REPAIR, STATE_ORDER, Choice, CircuitState, Measurement
from checks.path import BESIDE, Station, path, subject, title
from checks.record import ChargingPoint, StateEntry
from checks.stations.all import BY_ID, CHECKS
from checks.stations.observing import INSIDE
from checks.units import UNITS
from checks.verdict import Severity, Verdict, worst

# What one way to put a load on goes through and another goes around: that option needs it itself.
_GONE_AROUND: Final = frozenset(
    needed
    for check in CHECKS
    if check.state is CircuitState.UNDER_LOAD
    for asked in check.inputs
    if isinstance(asked, Choice)
    for option in asked.options
    for needed in option.needs
)


def is_gone_around(row: Row) -> bool:
    """Whether it is a warning that keeps the vehicle's load off, and no load that goes around."""
    is_warning = row.judgement.severity is Severity.WARNING
    is_found = is_warning and row.judgement.verdict is Verdict.OUTSIDE
    return is_found and row.check in _GONE_AROUND


def summarize(
    point: ChargingPoint,
    mine: Sequence[Row],
    states: Sequence[StateEntry],
    *,
    opens: bool,
    kept_off_by: Collection[str] = (),
) -> PointSummary:
    """Sum up one charging point from the rows of its path, in the order of the checks.

    Parameters
    ----------
    point : ChargingPoint
        The charging point.
    mine : sequence of Row
        The rows of its path.
    states : sequence of StateEntry
        The states its circuit was brought into.
    opens : bool
        Whether this person opens enclosures and switches.
    kept_off_by : collection of str
        What a service call found that no live circuit is tested with, as `checks.causes.bars` says.
    """
    on_path = path(point)

    def summary(station: Station) -> StationSummary:
        here = [r for r in mine if r.station is station]
        telling, quantity = _telling(here)
        return StationSummary(
            station=station,
            title=title(station, point),
            subject=subject(station, point),
            verdict=worst(r.judgement.verdict for r in here),
            telling=telling,
            quantity=quantity,
        )

    stations = tuple(summary(s) for s in on_path)
    beside = tuple(summary(s) for s in BESIDE)
    return PointSummary(
        point=point.id,
        name=point.name,
        verdict=worst(s.verdict for s in (*stations, *beside)),
        path=stations,
        beside=beside,
        gates=_gates(states, mine, opens=opens, kept_off_by=kept_off_by),
        staircase=tuple(step for r in mine for step in r.judgement.steps),
    )


def _telling(here: Sequence[Row]) -> tuple[str, str]:
    """Return a station's number: that of its worst finding, or what tells it from others.

    With it what the number is, where it is a bare one. Beside a finding that has no number there is
    none: it would be taken for what is wrong.
    """
    found = next((r for s in Severity for r in here if r.judgement.severity is s), None)
    if found is not None and found.judgement.measured is not None:
        number = found.judgement.measured
        return f"{number.value} {number.unit}", _quantity(found)
    row = next((r for r in here if BY_ID[r.check].tells and r.judgement.telling), None)
    if row is None or found not in (None, row):
        return "", ""
    telling = row.judgement.telling
    is_bare = telling.partition(" ")[2] in UNITS
    return telling, _quantity(row) if is_bare else ""


def _quantity(row: Row) -> str:
    return BY_ID[row.check].quantity or row.title


def _gates(
    states: Sequence[StateEntry],
    rows: Sequence[Row],
    *,
    opens: bool,
    kept_off_by: Collection[str],
) -> tuple[Gate, ...]:
    """Each state opens only when the gating checks of the states before it stand.

    What was read live counts no longer for it once the circuit was made dead again: it may have
    been changed since. A danger keeps the live states shut, be it seen, measured or computed, and a
    warning keeps the load off. Who opens nothing does not energise: only a danger stands against
    what others made live.
    """
    gates = []
    waiting: list[str] = []
    last: dict[str, int] = {s.state: s.number for s in sorted(states, key=_number)}
    applying = [r for r in rows if r.judgement.verdict is not Verdict.NOT_APPLICABLE]
    dead = sorted(s.number for s in states if s.state == CircuitState.DEAD.value)
    dead_since = last.get(CircuitState.DEAD.value, 0)
    for state in STATE_ORDER:
        here = [r for r in rows if _stands_in(r.state, state)]
        since = last.get(state.value, 0)
        first = [r.check for r in here if BY_ID[r.check].proves and _shut(r, since)]
        barring = [r.check for r in rows if _bars(r, state, applying, dead)]
        barring += [] if state is CircuitState.DEAD else kept_off_by
        is_told = state is CircuitState.ENERGISED and not opens
        found = tuple(dict.fromkeys(barring if is_told else (*waiting, *barring)))
        gates.append(Gate(state=state, is_open=not found, waiting=found, first=tuple(first)))
        live_since = 0 if state is CircuitState.DEAD else dead_since
        gating = (r for r in here if BY_ID[r.check].gates or r.is_apart)
        waiting += [r.check for r in gating if r.is_apart or _shut(r, live_since)]
        waiting += first
    return tuple(gates)


def _bars(row: Row, state: CircuitState, rows: Sequence[Row], dead: Sequence[int]) -> bool:
    """Whether what is wrong here keeps the circuit from a live state.

    A danger keeps it from every live state, as does a repair that left the fault there, a warning
    from the load. What was found live can only be read again live: it bars until the circuit was
    made dead after it, and it was attended to then.
    """
    judged, made = row.judgement, row.entry or 0
    if state is CircuitState.DEAD or judged.verdict is not Verdict.OUTSIDE:
        return False
    if judged.severity is not Severity.DANGER and row.check != REPAIR:
        is_heavy = judged.severity is Severity.WARNING and not is_gone_around(row)
        if not is_heavy or state is not CircuitState.UNDER_LOAD:
            return False
    if row.state not in LIVE_STATES:
        return True
    off = next((number for number in dead if number > made), None)
    is_attended = off is not None and any(
        (r.entry or 0) > off and _is_sound(r) for r in _attending(row, rows)
    )
    return not is_attended or ((row.state is CircuitState.ENERGISED) and state is not row.state)


def _attending(row: Row, rows: Sequence[Row]) -> list[Row]:
    """Return the checks of which one, made with the circuit dead, attends to what was found live.

    A warning asks for anything of its station, seen or worked on. A danger asks for hands: what is
    opened or measured dead at that station, or the repair of a service call. Where a visit has
    neither, as at a charger, any hands on its circuit; and who opens nothing sees what others did.
    """
    made_dead = [r for r in rows if _is_made_dead(r)]
    here = [r for r in made_dead if r.station is row.station]
    if row.judgement.severity is not Severity.DANGER:
        return here
    hands = [r for r in made_dead if _is_hands_on(r)]
    at_it = [r for r in hands if r.station is row.station] + [r for r in rows if r.check == REPAIR]
    return at_it or hands or here


def _is_made_dead(row: Row) -> bool:
    """Whether it is made with the circuit dead, and is no proof that it is."""
    is_proof = BY_ID[row.check].proves or row.check == INSIDE
    return _stands_in(row.state, CircuitState.DEAD) and not is_proof


def _is_hands_on(row: Row) -> bool:
    """Whether something is opened or measured dead for it: a plate or a tug is no hand at work."""
    check = BY_ID[row.check]
    has_reading = any(isinstance(i, Measurement) and not i.optional for i in check.inputs)
    return check.state is CircuitState.DEAD and (check.opens or has_reading)


def _is_sound(row: Row) -> bool:
    """Whether it was made and nothing is wrong there."""
    is_open = row.judgement.verdict in (Verdict.NOT_MEASURED, Verdict.OUTSIDE)
    return not (is_open or row.is_left_out or row.is_owed_again)


def _number(entry: StateEntry) -> int:
    return entry.number


def _stands_in(needed: CircuitState, state: CircuitState) -> bool:
    """Whether a check is made in this state; what needs no state comes with the first."""
    stateless = (CircuitState.ANY, CircuitState.NO_CURRENT)
    return needed is state or (needed in stateless and state is CircuitState.DEAD)


def _shut(row: Row, since: int) -> bool:
    """Whether a check keeps the next state shut: outside, missing, older than the state or part."""
    if row.judgement.verdict is Verdict.NOT_APPLICABLE:
        return False
    bad = row.judgement.verdict in (Verdict.OUTSIDE, Verdict.NOT_MEASURED)
    return bad or row.is_left_out or row.is_owed_again or (row.entry or 0) < since
