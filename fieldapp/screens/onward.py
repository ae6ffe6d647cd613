"""What comes after a check: straight on where all is well, and the key for what is next."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import Final

from kivy.uix.widget import Widget

from checks.assess import Row
from checks.check import CircuitState
from checks.errors import ChecksError
from checks.intake import BY_ID
from checks.path import subjects_at, title
from checks.record import ChargingPoint, Entry
from checks.stations import symptoms
from checks.verdict import Severity, Verdict, margin_words
from fieldapp.screens.guide import Guide
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import guarded, main_key
from fieldapp.screens.trade_phrases import row_key
from fieldapp.walk.agenda import Step
from fieldapp.walk.thread import Next, Thread, is_service_call, thread
from fieldapp.walk.visit import Walk
from fieldapp.widgets import KeyButton

ASK_VEHICLE: Final = "Say which vehicle is here"


def ask_vehicle(guide: Guide) -> None:
    """Ask which vehicle is at this point: a point that is taken over says nothing of it."""
    guide.go("correct", guide.open_walk.asks_vehicle)


def go_on_with(guide: Guide, begun: Entry) -> None:
    """Go on with a check that is half made, at its own point.

    Where it is shut, and has nothing of its danger but that it was found, it is left out.
    """
    walk = guide.open_walk
    walk.go_to_point(walk.point_at(begun.subject))
    is_shut = any(s.row.check == begun.check and s.shut_because for s in walk.steps)
    is_alone = any(q.entry == begun and q.is_danger_alone for q in walk.half_made)
    guide.go("leave_out" if is_shut and is_alone else "check", begun.check)


def onward(
    guide: Guide, say: Callable[[str], str], make: Callable[..., KeyButton] = main_key
) -> KeyButton:
    """Return the key; ``say`` gets the title of a check and returns the key's words."""
    walk = guide.open_walk
    if walk.asks_vehicle:
        return make(ASK_VEHICLE, partial(ask_vehicle, guide))
    coming = walk.next_step
    if coming is CircuitState.ENERGISED and walk.dead_beside is not None:
        return _to_point(guide, walk.dead_beside, make)
    is_closing = isinstance(coming, Step) and BY_ID[coming.row.check].closes
    if (coming is None or is_closing) and walk.live_beside is not None:
        return _to_dead(guide, walk.live_beside, make)
    if coming is None:
        return _beside(guide, make)
    if isinstance(coming, CircuitState):
        return make(walk.switching(coming).title, lambda: guide.go("state", coming.value))
    check = coming.row
    return make(say(check.title), lambda: guide.go("check", check.check))


def is_work_first(walk: Walk, found: Iterable[Severity]) -> bool:
    """Whether mending comes before what the walk asks next.

    After a danger it always does; else what is grave lets nothing be energised, loaded or signed
    by the strongest key.

    Parameters
    ----------
    walk : Walk
        The walk.
    found : iterable of Severity
        What is told on the page: of the whole point, or of one check.
    """
    coming = walk.next_step
    is_more = isinstance(coming, Step) or coming is CircuitState.DEAD
    is_grave = any(s.is_grave for s in walk.severities)
    return Severity.DANGER in found or (is_grave and not is_more)


def to_work(guide: Guide) -> KeyButton:
    """Return the key to what is to be mended and made, in its order."""
    return main_key("Work to do", lambda: guide.go("work"))


def _beside(guide: Guide, make: Callable[..., KeyButton]) -> KeyButton:
    """Return the key to the next charging point, or to the sign-off once none has anything open."""
    walk = guide.open_walk
    other = walk.next_point
    if other is None:
        return make("Sign off", lambda: guide.go("sign_off"))

    return _to_point(guide, other, make)


def _to_point(guide: Guide, point: ChargingPoint, make: Callable[..., KeyButton]) -> KeyButton:
    def go_there() -> None:
        guide.open_walk.go_to_point(point.id)
        guide.go("path")

    return make(f"Next: {point.name}", go_there)


def _to_dead(guide: Guide, point: ChargingPoint, make: Callable[..., KeyButton]) -> KeyButton:
    """Return the key that makes another circuit dead: the bus is live as long as it is."""

    def go_there() -> None:
        guide.open_walk.go_to_point(point.id)
        guide.go("state", CircuitState.DEAD.value)

    return make(f"Make {point.name} dead", go_there)


def make_entry(guide: Guide) -> None:
    """Make the open check an entry, and go on from it.

    One that is within leads straight to the next, or to the path before the circuit is switched.
    On a service call it does so while it is on the way to one and the same test, else to the
    causes; a symptom, which is told and not judged, leads there whatever was told. Anything else
    comes up by itself, and so does what has a figure or an earlier result beside it; where an entry
    makes another check a finding, that one does.
    """
    walk = guide.open_walk
    before = thread(walk) if is_service_call(walk) else None
    known = _findings(walk)
    row = walk.commit()
    judged = row.judgement
    is_told = before is not None and row.check in symptoms.IDS
    has_figure = judged.heating is not None or len(judged.steps) > 1
    is_plain = judged.verdict is Verdict.WITHIN and not (has_figure or _is_compared(guide, row))
    if not is_plain and not is_told:
        guide.go("result", row_key(row))
        return
    found = [key for key in _findings(walk) if key not in {*known, row_key(row)}]
    if found:
        guide.go("result", found[0])
        return
    coming = walk.next_step if before is None else _on_the_way(before, row.check, thread(walk))
    if isinstance(coming, Step):
        try:
            guide.go("check", coming.row.check, made=row)
        except ChecksError:  # the question that was answered must not stay up
            guide.go("result", row_key(row))
            raise
    else:
        guide.go("path" if before is None else "causes", made=row)


def from_state(guide: Guide, state: CircuitState) -> Callable[[], None]:
    """Return what goes on once a state is entered: to the check that it is entered for.

    The page of that check says so, and leads to the path, where it can be taken back. Where
    something else comes first the path comes up; on a service call the causes, where the state
    leads to another test than the one it was entered for.

    Parameters
    ----------
    guide : Guide
        At the state, which is not entered yet.
    state : CircuitState
        The state.
    """
    walk = guide.open_walk
    before = thread(walk) if is_service_call(walk) else None

    def go_on() -> None:
        elsewhere = "path" if before is None else "causes"
        coming = _opened(walk) if before is None else _on_the_way(before, state, thread(walk))
        if not isinstance(coming, Step):
            guide.go(elsewhere)
            return
        try:
            guide.go("check", coming.row.check, made=state)
        except ChecksError:  # what was claimed must not stay up
            guide.go(elsewhere)
            raise

    return go_on


def _opened(walk: Walk) -> Next:
    """Return what a state that was entered opens; None where something else comes first."""
    coming = walk.next_step
    is_asked_first = bool(walk.dangers_begun or walk.asks_vehicle)
    is_other_first = is_asked_first or is_work_first(walk, walk.severities)
    is_closing = isinstance(coming, Step) and BY_ID[coming.row.check].closes
    return None if is_other_first or is_closing else coming


def _findings(walk: Walk) -> list[str]:
    """Return what is wrong where the walk is, the worst first; a notice is told at the end."""
    here = subjects_at(walk.point).values()
    return [
        row_key(f.row)
        for f in walk.assessment.findings
        if f.row.subject in here and f.severity is not Severity.NOTICE
    ]


def _on_the_way(before: Thread, made: str | CircuitState, now: Thread) -> Next:
    """Return what comes next on a service call; None where the causes are to be looked at first."""
    was_next = before.next.row.check if isinstance(before.next, Step) else before.next
    is_same = (before.stage, before.aim) == (now.stage, now.aim)
    return now.next if was_next == made and is_same and not now.is_repeat else None


def _is_compared(guide: Guide, row: Row) -> bool:
    """Whether a check was made before on this visit, or found something on an earlier one."""
    walk, here = guide.open_walk, (row.check, row.subject)
    made = [e for e in walk.visit.entries if (e.check, e.subject) == here]
    earlier = ((r.check, r.subject) for r in guide.desk.reinspections(walk))
    return len(made) > 1 or here in earlier


def _just_entered(guide: Guide) -> StandingRow:
    @guarded
    def to_path(_: str) -> None:
        guide.go("path")

    return StandingRow(
        title=f"Circuit: {guide.open_walk.state_words}",
        subtitle="entered now, undo is on the path",
        chosen=to_path,
    )


def just_made(guide: Guide) -> list[Widget]:
    """Return the row of what the walk went straight on from.

    That of a check leads to its result, that of a state to the path, where it is taken back.
    """
    row, screen = guide.made, guide.screen
    if row is None:
        return []
    if isinstance(row, CircuitState):
        return [_just_entered(guide)]
    judged = row.judgement
    told = [str(judged.verdict), judged.telling, margin_words(judged.margin)]
    if not any(told[1:]):
        told.append(judged.explanation)
    if screen is not None and screen.station != row.station:
        told.insert(0, title(row.station, guide.open_walk.point))
    return [
        StandingRow(
            title=row.title,
            subtitle=" · ".join(filter(None, told)),
            sign=str(judged.verdict),
            key=row_key(row),
            chosen=guarded(partial(guide.go, "result")),
        )
    ]
