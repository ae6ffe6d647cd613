"""What is asked next at a charging point: by circuit state, then along the path."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from checks.assess import Assessment, Row
from checks.check import STATE_ORDER, AnyInput, Choice, CircuitState
from checks.check.corrected import waits_for_vehicle
from checks.intake import BY_ID
from checks.path import Scope, Station
from checks.record import ChargingPoint, Visit
from checks.verdict import Verdict
from fieldapp.walk.circuit import CASE, Here, here_at, rows_at

LOOKED_AT: Final = (CircuitState.ANY, CircuitState.NO_CURRENT)
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


def dead_work(found: Iterable[Step]) -> list[Step]:
    """Return what is still to be made with the circuit dead."""
    return [s for s in found if s.row.state is CircuitState.DEAD and not s.is_done]


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
    mine = rows_at(assessment, point)
    here = here_at(visit, mine, assessment, point, again, needed)
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
    here = here_at(visit, rows_at(assessment, point), assessment, point)
    unmet = {o.value: [c for c in o.needs if not here.stands(c)] for o in wanting}
    return {option: f"first: {titles(first)}" for option, first in unmet.items() if first}


def _step(row: Row, here: Here) -> Step:
    stale = _is_stale(row, here.last) or row.check in here.again
    # one that was left out is not asked for again by switching: who has what was lacking makes it
    is_asked_anew = row.check in here.needed and not row.is_left_out
    stale = stale or (is_asked_anew and here.is_overtaken(row.check))
    first = _first(row, here)
    barred = _barred_because(row, here) or _not_before(row, here, first)
    return Step(row, barred or _shut_because(row, here.now, first), stale, is_barred=bool(barred))


def _first(row: Row, here: Here) -> list[str]:
    """Return what the state of a check waits for."""
    if row.state not in STATE_ORDER or BY_ID[row.check].proves:
        return []
    return [c for c in here.gates[row.state].first if c != row.check]


def _barred_because(row: Row, here: Here) -> str:
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


def _not_before(row: Row, here: Here, first: Sequence[str]) -> str:
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
        return BY_ID[row.check].demand
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
