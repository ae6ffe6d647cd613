"""Drives a real Kivy app by touches and keys, synchronously and on a clock of its own."""

import gc
import itertools
from collections.abc import Callable, Sequence
from typing import Any

from kivy.app import App
from kivy.base import EventLoop, ExceptionManager
from kivy.core.window import Window
from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels
from kivy.metrics import dp
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.label import Label
from kivy.uix.scrollview import ScrollView
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget
from PIL import Image

from fieldapp import language
from fieldapp.widgets import theme
from tests.ui.loop import (
    FRAME_S,
    Caught,
    Point,
    calm,
    frame_undrawn,
    new_finger,
    pass_time,
    send,
    start_loop,
)
from tests.ui.sight import (
    Box,
    apart,
    box_of,
    button_of,
    common,
    frame_of,
    holds,
    name_of,
    parents,
    texts_of,
)

AFTER_TAP = 4
BEFORE_TAP_S = 0.35  # a finger is not quicker: what comes sooner is a bounce
AFTER_SCROLL_TAP = 14  # a ScrollView hands a quick tap on in two steps, up to 0.2 s later

KEYS = {"backspace": 8, "tab": 9, "enter": 13, "escape": 27, "space": 32}
KEYS |= {"up": 273, "down": 274, "right": 275, "left": 276, "page up": 280, "page down": 281}
KEYS |= {"home": 278, "end": 279}


class Ui:
    """A running app and the hand that touches it.

    Parameters
    ----------
    app : App
        Not yet running.
    """

    def __init__(self, app: App) -> None:
        start_loop()
        gc.collect()  # widgets of an earlier test would still follow the theme and the window
        self.caught = Caught()
        self.taps: list[str] = []  # what was touched, by its kind and words
        ExceptionManager.add_handler(self.caught)
        self.app = app
        app._run_prepare()
        self.frames(3)
        self.draw()

    # -- time

    def frames(self, count: int = 1) -> None:
        """Let so many frames pass, undrawn; raise what went wrong in them."""
        for _ in range(count):
            pass_time()
            frame_undrawn()
        self._raise_caught()

    def draw(self) -> None:
        """Let a frame pass and draw it."""
        pass_time()
        EventLoop.idle()
        self._raise_caught()

    def _raise_caught(self) -> None:
        if self.caught.seen:
            raise self.caught.seen[0]

    def seconds(self, count: float) -> None:
        """Let app time pass."""
        self.frames(round(count / FRAME_S))

    def pause(self, count: float) -> None:
        """Let app time pass at once, in which nothing moves."""
        pass_time(count)
        self.frames(2)

    def wait(self, condition: Callable[[], Any], what: str, seconds: float = 5.0) -> None:
        """Let time pass until the condition holds."""
        for _ in range(round(seconds / FRAME_S)):
            if condition():
                return
            self.frames()
        raise AssertionError(f"not within {seconds} s: {what}; on screen: {self.texts()}")

    def wait_text(self, text: str, seconds: float = 5.0) -> None:
        """Let time pass until the text is on screen."""
        self.wait(lambda: self.sees(text), f"text '{text}'", seconds)

    def settle(self) -> None:
        """Let layout, transitions and scrolling come to rest, and draw."""
        self.rest()
        self.draw()

    def rest(self) -> None:
        """Let layout, transitions and scrolling come to rest."""
        self.frames(3)
        self.wait(self._is_still, "scrolling to end")
        self.frames(3)

    def _is_still(self) -> bool:
        effects = [e for v in self.all(ScrollView) for e in (v.effect_x, v.effect_y) if e]
        managers = [w for w in self.all() if hasattr(w, "transition")]
        return all(abs(e.velocity) < 1 for e in effects) and not any(
            m.transition.is_active for m in managers
        )

    # -- find

    @property
    def top(self) -> Widget:
        """What lies on top: a sheet, or the app's root."""
        return Window.children[0]

    def all(self, kind: type | tuple[type, ...] = Widget, root: Any = None) -> list[Any]:
        """Widgets of a kind, from back to front."""
        roots = [root] if root is not None else list(reversed(Window.children))
        return [w for r in roots for w in r.walk(restrict=True) if isinstance(w, kind)]

    def one(self, kind: type, root: Any = None) -> Any:
        """The only widget of its kind."""
        found = self.all(kind, root)
        assert len(found) == 1, f"{len(found)} widgets are a {kind.__name__}"
        return found[0]

    def texts(self) -> list[str]:
        """Texts that can be read now on what lies on top, each once, markup removed."""
        found = []
        for widget in self.all(root=self.top):
            for text in texts_of(widget):
                if text.strip() and self._is_seen(widget):
                    found.append(text)
        return list(dict.fromkeys(found))

    def sees(self, text: str) -> bool:
        """Whether the text is on screen, as a whole or within a longer one."""
        return any(text in shown for shown in self.texts())

    def find_text(self, text: str) -> Widget:
        """The widget to touch for a text: a button that carries it, else what shows it."""
        widgets = self.all(root=self.top)
        exact = [w for w in widgets if text in texts_of(w)]
        loose = [w for w in widgets if any(text in t for t in texts_of(w))]
        for found in (exact, loose):
            pressable = [b for b in map(button_of, found) if b is not None and not b.disabled]
            for widget in (*pressable, *found):
                return widget
        raise AssertionError(f"no '{text}' on screen; there is {self.texts()}")

    def _seen_box(self, widget: Widget) -> Box:
        box = box_of(widget)
        for parent in parents(widget):
            box = common(box, box_of(parent))
        return common(box, (0, 0, Window.width, Window.height))

    def _is_seen(self, widget: Widget) -> bool:
        box = self._seen_box(widget)
        return box[2] - box[0] > 1 and box[3] - box[1] > 1

    # -- act

    def show(self, widget: Widget) -> None:
        """Scroll to a widget."""
        self._scroll_to(widget, box_of(widget))

    def _scroll_to(self, widget: Widget, box: Box) -> None:
        """Center a box of a widget in the scrolling area around it, unless it is in view."""
        for area in (p for p in parents(widget) if isinstance(p, ScrollView)):
            frame = box_of(area)
            spare = area.children[0].height - area.height
            if spare > 0 and not (frame[1] <= box[1] and box[3] <= frame[3]):
                away = (box[1] + box[3] - frame[1] - frame[3]) / 2
                area.scroll_y = min(1.0, max(0.0, area.scroll_y + away / spare))
                self.settle()

    def tap(self, target: Widget | Point, frames: int = 1) -> None:
        """Touch a widget's center, or a point, and lift the finger."""
        rest = AFTER_SCROLL_TAP
        self.taps.append(name_of(target) if isinstance(target, Widget) else "point")
        if isinstance(target, Widget):
            self.show(target)
            if not any(isinstance(p, ScrollView) for p in parents(target)):
                rest = AFTER_TAP
        pass_time(BEFORE_TAP_S)
        self._touch(*self._point(target), frames)
        self.frames(rest - 1)

    def bounce(self, target: Widget) -> None:
        """Touch a widget's center, and touch it again while the glove springs back."""
        point = self._point(target)
        pass_time(BEFORE_TAP_S)
        for _ in range(2):
            self._touch(*point, frames=2)
            self.frames(AFTER_TAP)
        self.frames(AFTER_SCROLL_TAP)

    def _touch(self, x: float, y: float, frames: int) -> None:
        finger = new_finger(x, y)
        send("begin", finger)
        self.frames(frames)
        send("end", finger)
        self.frames()

    def tap_text(self, text: str) -> None:
        """Touch what carries the text."""
        self.tap(self.find_text(text))

    def tap_hit(self, view: Any, key: str) -> None:
        """Touch a box of a figure."""
        self._scroll_to(view, view.window_box(key))
        left, bottom, right, top = view.window_box(key)
        self.tap(((left + right) / 2, (bottom + top) / 2))

    def drag(self, points: Sequence[Point], frames: int = 3) -> None:
        """Draw with one finger through window positions."""
        finger = new_finger(*points[0])
        send("begin", finger)
        self.frames()
        for (x0, y0), (x1, y1) in itertools.pairwise(points):
            for i in range(1, frames + 1):
                share = i / frames
                finger.move((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share))
                send("update", finger)
                self.frames()
        send("end", finger)
        self.frames(2)

    def type(self, text: str) -> None:
        """Type into the field that has the focus."""
        for letter in text:
            Window.dispatch("on_textinput", letter)
            self.frames()

    def key(self, name: str, *modifiers: str) -> bool:
        """Press a key of a keyboard; True when something used it."""
        code = KEYS.get(name) or ord(name)
        used = Window.dispatch("on_key_down", code, code, None, list(modifiers))
        used = used or Window.dispatch("on_keyboard", code, code, None, list(modifiers))
        Window.dispatch("on_key_up", code, code)
        self.frames(2)
        return bool(used)

    def back(self) -> bool:
        """Press the system's back key."""
        return self.key("escape")

    def pad(self, number: str) -> None:
        """Type a number on the number pad, key by key."""
        for sign in number:
            self.tap_text("±" if sign == "-" else sign)

    @staticmethod
    def _point(target: Widget | Point) -> Point:
        if not isinstance(target, Widget):
            return target
        x, y = target.to_window(*target.center)
        assert 0 <= x <= Window.width, f"{target} is off screen at {x:.0f}, {y:.0f}"
        assert 0 <= y <= Window.height, f"{target} is off screen at {x:.0f}, {y:.0f}"
        return x, y

    # -- judge

    def pixels(self) -> Image.Image:
        """The window as it is drawn."""
        Window.canvas.ask_update()
        self.draw()
        width, height = Window.system_size
        raw = glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE)
        image = Image.frombytes("RGBA", (width, height), raw)
        return image.transpose(Image.Transpose.FLIP_TOP_BOTTOM).convert("RGB")

    def small_targets(self, floor_dp: float = 48.0) -> list[str]:
        """What can be pressed and is smaller than the floor."""
        return [
            f"{name_of(w)}: {w.width:.0f} × {w.height:.0f}"
            for w in self.all((ButtonBehavior, TextInput), self.top)
            if min(w.size) < dp(floor_dp) - 0.5
        ]

    def overlaps(self, gap_dp: float = 8.0) -> list[str]:
        """Pairs of what can be pressed that lie closer than the gap."""
        pressable = self.all(ButtonBehavior, self.top)
        boxes = [(w, self._seen_box(w)) for w in pressable if self._is_seen(w)]
        return [
            f"{name_of(a)} and {name_of(b)}"
            for (a, box_a), (b, box_b) in itertools.combinations(boxes, 2)
            if not apart(box_a, box_b, dp(gap_dp) - 0.5)
            and a not in parents(b)
            and b not in parents(a)
        ]

    def clipped_labels(self) -> list[str]:
        """Labels whose text is larger than its box, or whose box leaves its frame."""
        found = []
        for label in self.all(Label, self.top):
            if not label.text.strip():
                continue
            width, height = label.texture_size
            if width > label.width + 1 or height > label.height + 1:
                found.append(f"{label.text!r} is larger than its box")
            elif not holds(frame_of(label), box_of(label)):
                found.append(f"{label.text!r} leaves its frame")
        return found

    def off_screen(self) -> list[str]:
        """What can be pressed, is not inside a scrolling area, and leaves the window."""
        screen = (0, 0, Window.width, Window.height)
        return [
            name_of(w)
            for w in self.all(ButtonBehavior, self.top)
            if not any(isinstance(parent, ScrollView) for parent in parents(w))
            if not holds(screen, box_of(w))
        ]

    def close(self) -> None:
        """Stop the app and leave the window empty."""
        self.app.dispatch("on_stop")
        for widget in list(Window.children):
            Window.remove_widget(widget)
        self.app.root = None
        App._running_app = None
        ExceptionManager.remove_handler(self.caught)
        theme.name, theme.text_scale = "day", 1.0
        language.use(language.ENGLISH)
        calm()
