"""Kivy's loop on a clock of its own: time, touches, and what one app leaves to the next."""

import gc
import itertools
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from kivy.animation import Animation
from kivy.base import EventLoop, ExceptionHandler, ExceptionManager, runTouchApp
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.input.motionevent import MotionEvent
from kivy.input.provider import MotionEventProvider
from kivy.lang import Builder
from kivy.metrics import Metrics
from kivy.uix.textinput import TextInput

FRAME_S = 1 / 60

SIZES = {
    "small": (360, 640),
    "phone": (392, 848),
    "tablet": (800, 1280),
    "landscape": (848, 392),
}

Point = tuple[float, float]


class Finger(MotionEvent):
    """One finger on the glass."""

    def __init__(self, ident: int, x: float, y: float) -> None:
        super().__init__("test", ident, (x, y), is_touch=True, type_id="touch")
        self.profile = ["pos"]

    def depack(self, args: Point) -> None:
        width, height = Window.system_size
        self.sx, self.sy = args[0] / (width - 1), args[1] / (height - 1)
        super().depack(args)


class Fingers(MotionEventProvider):
    """Sends touches through the same queue and dispatch as a touch screen's."""

    def __init__(self) -> None:
        super().__init__("test", "")
        self.queue: list[tuple[str, Finger]] = []

    def start(self) -> None:
        """Nothing to open."""

    def stop(self) -> None:
        """Nothing to close."""

    def update(self, dispatch_fn: Callable[[str, Finger], None]) -> None:
        queue, self.queue = self.queue, []
        for event in queue:
            dispatch_fn(*event)


class Caught(ExceptionHandler):
    """Keeps what went wrong inside Kivy's loop, so that the test fails on it."""

    def __init__(self) -> None:
        self.seen: list[Exception] = []

    def handle_exception(self, exception: Exception) -> int:
        self.seen.append(exception)
        return ExceptionManager.PASS


_fingers = Fingers()
_now = [0.0]
_ids = itertools.count(1)
_started: list[bool] = []
_standing: list[Any] = []  # the toolkit's own events, which no end of an app cancels


def start_loop() -> None:
    """Open the window once a process and take the clock over."""
    if _started:
        return
    _started.append(True)
    gc.set_threshold(50_000, 20, 50)  # as the app sets it: a widget is a cycle
    EventLoop.ensure_window()
    _now[0] = Clock.time()  # go on from the real time: an earlier one starves every event
    Clock.time = lambda: _now[0]
    Clock._max_fps = 0
    runTouchApp(embedded=True)
    Clock.tick()  # what is set for later counts from here, and not from when Kivy was imported
    EventLoop.add_input_provider(_fingers)
    _standing.extend(Clock.get_events())


@contextmanager
def window(size: Point, density: float = 1.0, fontscale: float = 1.0) -> Iterator[None]:
    """A window of that many pixels for a while."""
    start_loop()
    before = Window.system_size, Metrics.density, Metrics.fontscale
    Metrics.density, Metrics.fontscale = density, fontscale
    Window.size = size
    try:
        yield
    finally:
        Metrics.density, Metrics.fontscale = before[1:]
        Window.size = before[0]


def keep_loaded() -> None:
    """Collect what earlier tests left, and leave what is loaded now out of what is collected."""
    calm()  # the end of a window set off more, which holds widgets
    gc.unfreeze()  # what something held at the last freezing, and holds no longer, is found now
    gc.collect()
    gc.freeze()


def calm() -> None:
    """Take back what is set for later, and what is remembered of touches that came before."""
    for module in EventLoop.postproc_modules:  # the last touches, in wait for a second tap
        getattr(module, "touches", {}).clear()
    EventLoop.touches.clear()
    TextInput()._adjust_viewport(0, 0)  # the toolkit keeps the last one that asked for this
    for event in Clock.get_events():
        if not any(event is other for other in _standing):
            event.cancel()
    Animation._instances.clear()  # one without its event never ends, and keeps its screen


def frame_undrawn() -> None:
    """Do all of a frame but the drawing, which is what takes the time without a graphics card."""
    Clock.tick()
    EventLoop.dispatch_input()
    Builder.sync()
    Clock.tick_draw()
    Builder.sync()


def pass_time(seconds: float = FRAME_S) -> None:
    """Let the clock go on; nothing moves until the next frame."""
    _now[0] += seconds


def new_finger(x: float, y: float) -> Finger:
    """Return a finger over a place on the window."""
    return Finger(next(_ids), x, y)


def send(event: str, finger: Finger) -> None:
    """Let a finger begin, update or end its touch in the next frame."""
    _fingers.queue.append((event, finger))
