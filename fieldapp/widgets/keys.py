"""The physical keyboard, for all that a finger does but drawing a signature.

Tab and Shift+Tab move and so do the arrows, Enter and Space press, Escape goes back, digits type;
Page Up, Page Down, Home and End scroll. Where a photo is marked the arrows move the mark.
"""

from typing import Any

from kivy.core.window import Window
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

from fieldapp.widgets import focus
from fieldapp.widgets.number_pad import BACK, POINT, SIGN, NumberPad
from fieldapp.widgets.page import Page
from fieldapp.widgets.sheets import CautionSheet
from fieldapp.widgets.slab import PrimaryButton

_BACKSPACE, _TAB, _ENTER, _ESCAPE, _SPACE = 8, 9, 13, 27, 32
_PAD_FIRST, _PAD_LAST, _PAD_ENTER = 256, 265, 271
_ARROWS = {273: (0, 1), 274: (0, -1), 275: (1, 0), 276: (-1, 0)}  # right, up
_PAGES = {280: (1, False), 281: (-1, False), 278: (1, True), 279: (-1, True)}  # up, to the end
_TYPED = {_BACKSPACE: BACK, ord("."): POINT, ord(","): POINT, ord("-"): SIGN, 266: POINT, 269: SIGN}
_TYPED.update({ord(digit): digit for digit in "0123456789"})
_TYPED.update({key: str(key - _PAD_FIRST) for key in range(_PAD_FIRST, _PAD_LAST + 1)})
# The row of digits by its place (USB HID usage tables, from memory): its unshifted signs differ.
_DIGIT_ROW = {30 + i: str((i + 1) % 10) for i in range(10)}


def on_key_down(_window: Any, key: int, code: int, _text: str, modifiers: list[str]) -> bool:
    """Give a key to what is on top; True when it was used."""
    if not Window.children:
        return False
    top = Window.children[0]
    if key == _TAB:
        return focus.step(top, -1 if "shift" in (modifiers or ()) else 1)
    writing = next((w for w in _all(top, TextInput) if w.focus), None)
    if writing is not None:
        leaves = key in _ARROWS and not _ARROWS[key][0] and not writing.multiline
        return leaves and focus.move(top, *_ARROWS[key])
    if key == _ESCAPE:
        return _escape(top)
    if key in (_ENTER, _PAD_ENTER, _SPACE):
        return _press(top, key)
    if key in _PAGES:
        up, all_the_way = _PAGES[key]
        return focus.page(top, up, all_the_way=all_the_way)
    return _arrow(top, *_ARROWS[key]) if key in _ARROWS else _type(top, key, code)


def _type(top: Widget, key: int, code: int) -> bool:
    """Give a digit to the pad."""
    typed = _TYPED.get(key) or _DIGIT_ROW.get(code)
    pads = _all(top, NumberPad)
    if not pads or not typed:
        return False
    pads[0].key(typed)
    return True


def _arrow(top: Widget, right: int, up: int) -> bool:
    marked = next((w for w in _all(top, Widget) if getattr(w, "is_markable", False)), None)
    if marked is not None:
        marked.nudge(right, -up)
        return True
    return focus.move(top, right, up)


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


def _press(top: Widget, key: int) -> bool:
    """Press where the keyboard is; a number that was just typed is taken by Enter alone."""
    here = focus.focused(top)
    main = [w for w in _all(top, PrimaryButton) if not w.disabled]
    if here is not None:
        here.press()
    elif key != _SPACE and _all(top, NumberPad) and len(main) == 1:
        main[0].press()
    else:
        return False
    return True


Window.bind(on_key_down=on_key_down)
