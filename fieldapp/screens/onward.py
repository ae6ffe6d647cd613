"""The key for what the walk asks next: a check, a state of the circuit, or the sign-off."""

from collections.abc import Callable

from checks.check import CircuitState
from fieldapp.screens.guide import Guide
from fieldapp.screens.screen import main_key
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
