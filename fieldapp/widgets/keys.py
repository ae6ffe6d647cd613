"""The physical keyboard: Tab and Shift+Tab move, Enter presses, Escape goes back, digits type.

Arrows move the mark on a photo.
"""

from typing import Any

from kivy.core.window import Window
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

from fieldapp.widgets.number_pad import BACK, POINT, SIGN, NumberPad
from fieldapp.widgets.page import Page, PageScroll
from fieldapp.widgets.photos import PhotoView
from fieldapp.widgets.sheets import CautionSheet
from fieldapp.widgets.slab import Pressable

_BACKSPACE, _TAB, _ENTER, _ESCAPE, _SPACE = 8, 9, 13, 27, 32
_PAD_FIRST, _PAD_LAST, _PAD_ENTER = 256, 265, 271
_ARROWS = {273: (0, -1), 274: (0, 1), 275: (1, 0), 276: (-1, 0)}
_TYPED = {_BACKSPACE: BACK, ord("."): POINT, ord(","): POINT, ord("-"): SIGN, 266: POINT}
_TYPED.update({ord(digit): digit for digit in "0123456789"})
_TYPED.update({key: str(key - _PAD_FIRST) for key in range(_PAD_FIRST, _PAD_LAST + 1)})


def on_key_down(_window: Any, key: int, _code: int, _text: str, modifiers: list[str]) -> bool:
    """Give a key to what is on top; True when it was used."""
    if not Window.children:
        return False
    top = Window.children[0]
    if any(w.focus for w in _all(top, TextInput)):
        return False
    if key == _ESCAPE:
        return _escape(top)
    if key == _TAB:
        return _move(top, -1 if "shift" in (modifiers or ()) else 1)
    if key in (_ENTER, _PAD_ENTER, _SPACE):
        return _press(top, key)
    return _type(top, key)


def _type(top: Widget, key: int) -> bool:
    """Give a digit to the pad, or an arrow to the mark on a photo."""
    pads = _all(top, NumberPad)
    if pads and key in _TYPED:
        pads[0].key(_TYPED[key])
        return True
    marked = [view for view in _all(top, PhotoView) if view.is_markable]
    if marked and key in _ARROWS:
        marked[0].nudge(*_ARROWS[key])
        return True
    return False


def _all(top: Widget, kind: type) -> list[Any]:
    return [w for w in top.walk(restrict=True) if isinstance(w, kind)]


def _escape(top: Widget) -> bool:
    if isinstance(top, CautionSheet):
        top.decline()
        return True
    pages = [page for page in _all(top, Page) if page.has_back]
    if pages:
        pages[0].dispatch("on_back")
    return bool(pages)


def _move(top: Widget, step: int) -> bool:
    stops = [w for w in _all(top, Pressable) if not w.disabled]
    if not stops:
        return False
    now = next((i for i, w in enumerate(stops) if w.focused), -1 if step > 0 else 0)
    for stop in stops:
        stop.focused = False
    stop = stops[(now + step) % len(stops)]
    stop.focused = True
    parent = stop.parent
    while parent is not None and parent is not Window:
        if isinstance(parent, PageScroll):
            parent.scroll_to(stop)
        parent = parent.parent
    return True


def _press(top: Widget, key: int) -> bool:
    focused = [w for w in _all(top, Pressable) if w.focused]
    pads = _all(top, NumberPad)
    if focused:
        focused[0].press()
    elif pads and key != _SPACE:
        pads[0].dispatch("on_done")
    else:
        return False
    return True


Window.bind(on_key_down=on_key_down)
