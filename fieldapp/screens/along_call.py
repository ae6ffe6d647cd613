"""The key that leads along a service call: to a test, a state, the repair or a second reading."""

from functools import partial

from checks.check import CircuitState
from fieldapp.screens.guide import Guide
from fieldapp.screens.screen import main_key
from fieldapp.walk.agenda import Step
from fieldapp.walk.thread import REPAIR, Stage, Thread
from fieldapp.widgets import KeyButton


def along(guide: Guide, now: Thread, coming: Step | CircuitState) -> KeyButton:
    """Return the key to what comes next, in words that say what for.

    Parameters
    ----------
    guide : Guide
        At the charging point of the thread.
    now : Thread
        Where the call stands.
    coming : Step or CircuitState
        What comes next on it.
    """
    if isinstance(coming, CircuitState):
        title = guide.open_walk.switching(coming).title
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
