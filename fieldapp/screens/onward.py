"""What comes after a check: straight on where all is well, and the key for what is next."""

from collections.abc import Callable

from kivy.uix.widget import Widget

from checks.assess import Row
from checks.check import CircuitState
from checks.path import Station, title
from checks.verdict import Verdict, margin_words
from fieldapp.screens.guide import Guide
from fieldapp.screens.phrases import row_key
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import guarded, main_key
from fieldapp.walk.thread import is_service_call
from fieldapp.widgets import KeyButton


def onward(
    guide: Guide, say: Callable[[str], str], make: Callable[..., KeyButton] = main_key
) -> KeyButton:
    """Return the key; ``say`` gets the title of a check and returns the key's words."""
    walk = guide.open_walk
    coming = walk.next_step
    if coming is None:
        return make("Sign off", lambda: guide.go("sign_off"))
    if isinstance(coming, CircuitState):
        return make(walk.switching(coming).title, lambda: guide.go("state", coming.value))
    check = coming.row
    return make(say(check.title), lambda: guide.go("check", check.check))


def after(guide: Guide, row: Row) -> None:
    """Go on from a check that was made.

    One that is within leads straight to the next, or to the path before the circuit is switched.
    Anything else comes up by itself, and so does what has a figure or an earlier result beside it.
    """
    walk, judged = guide.open_walk, row.judgement
    has_figure = judged.heating is not None or len(judged.steps) > 1
    if judged.verdict is not Verdict.WITHIN or has_figure or _is_compared(guide, row):
        guide.go("result", row_key(row))
    elif is_service_call(walk):
        guide.go("causes", made=row)
    else:
        coming = walk.next_step
        if coming is None or isinstance(coming, CircuitState):
            guide.go("path", made=row)
        else:
            guide.go("check", coming.row.check, made=row)


def _is_compared(guide: Guide, row: Row) -> bool:
    """Whether a check was made before on this visit, or found something on an earlier one."""
    walk, here = guide.open_walk, (row.check, row.subject)
    made = [e for e in walk.visit.entries if (e.check, e.subject) == here]
    earlier = ((r.check, r.subject) for r in guide.desk.reinspections(walk))
    return len(made) > 1 or here in earlier


def just_made(guide: Guide) -> list[Widget]:
    """Return the row of the check that the walk went straight on from; it leads to its result."""
    row, screen = guide.made, guide.screen
    if row is None:
        return []
    judged = row.judgement
    told = [str(judged.verdict), judged.telling, margin_words(judged.margin)]
    here = screen.station if screen is not None else None
    if here is not None and here != row.station:
        station = title(Station(here), guide.open_walk.point)
        told.append(f"now at: {station}")

    @guarded
    def show(result: str) -> None:
        guide.go("result", result)

    return [
        StandingRow(
            title=row.title,
            subtitle=" · ".join(filter(None, told)),
            sign=str(judged.verdict),
            key=row_key(row),
            chosen=show,
        )
    ]
