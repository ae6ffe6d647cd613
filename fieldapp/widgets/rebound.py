"""A finger that bounces: the second touch would answer a question that nobody has seen yet."""

from collections.abc import Callable, Hashable
from typing import Any, Final

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.metrics import dp
from kivy.vector import Vector

QUICK_S: Final = 0.3  # nobody reads a page sooner
_NEAR_DP: Final = 32  # a glove does not come down where it went up


class Rebound:
    """Lets no touch through that follows at once, at the same place, on another page.

    On the same page it is a digit typed twice, and goes through.

    Parameters
    ----------
    seen : callable
        What lies on top now; another value for every page and sheet.
    """

    def __init__(self, seen: Callable[[], Hashable]) -> None:
        self._seen = seen
        self._touched: Hashable = None
        self._lifted_s, self._place = 0.0, (0.0, 0.0)

    def start(self) -> None:
        """Look at every touch before any widget does."""
        Window.bind(on_touch_down=self._down, on_touch_up=self._up)

    def stop(self) -> None:
        """Look no longer."""
        Window.unbind(on_touch_down=self._down, on_touch_up=self._up)

    def _down(self, _: Any, touch: Any) -> bool:
        seen = self._seen()
        is_quick = Clock.get_time() - self._lifted_s < QUICK_S
        is_near = Vector(touch.pos).distance(self._place) < dp(_NEAR_DP)
        if seen != self._touched and is_quick and is_near:
            return True
        self._touched = seen
        return False

    def _up(self, _: Any, touch: Any) -> None:
        self._lifted_s, self._place = Clock.get_time(), touch.pos
        Clock.schedule_once(self._worked, 0)

    def _worked(self, _: float) -> None:
        """Count from when the touch was worked: on a slow phone that takes longer than a bounce."""
        self._lifted_s = Clock.get_time()
