"""The key that leads along a service call: to a test, a state, the repair or a second reading."""

from functools import partial

from checks.check import LIVE_STATES, CircuitState
from fieldapp.screens.guide import Guide
from fieldapp.screens.onward import ASK_VEHICLE, ask_vehicle, is_work_first
from fieldapp.screens.screen import main_key
from fieldapp.walk.thread import REPAIR, Next, Stage, Thread
from fieldapp.walk.visit import Walk
from fieldapp.widgets import KeyButton


def is_vehicle_first(walk: Walk, coming: Next) -> bool:
    """Whether it is asked which vehicle is here before what comes next on a call.

    A danger is met before it; but nothing is made live before it is known what hangs on it.
    """
    is_work = coming not in LIVE_STATES and is_work_first(walk, walk.severities)
    return bool(walk.asks_vehicle) and not is_work


def along(guide: Guide, now: Thread, coming: Next) -> KeyButton:
    """Return the key to what comes next, in words that say what for.

    Parameters
    ----------
    guide : Guide
        At the charging point of the thread.
    now : Thread
        Where the call stands.
    coming : Step or CircuitState, optional
        What comes next on it; None only where the vehicle is asked for first.
    """
    walk = guide.open_walk
    if is_vehicle_first(walk, coming):
        return main_key(ASK_VEHICLE, partial(ask_vehicle, guide))
    assert coming is not None
    if isinstance(coming, CircuitState):
        title = walk.switching(coming).title
        return main_key(title, lambda: guide.go("state", coming.value))
    check = coming.row
    words = check.title if check.check != REPAIR else "Record the repair"
    is_again = now.is_repeat and check.entry is not None
    words = f"Measure again: {check.title}" if is_again else words
    words = f"Test: {check.title}" if now.stage is Stage.TEST else words
    if check.check != now.aim:
        words = f"First: {check.title}"
    return main_key(words, partial(make, guide, check.check, mended=now.is_repeat))


def make(guide: Guide, check: str, *, mended: bool = False) -> None:
    """Make a check, after mending or not."""
    guide.open_walk.begin(check, after_mending=mended)
    guide.go("check", check)
