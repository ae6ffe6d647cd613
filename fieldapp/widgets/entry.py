"""Free text: a label, a field, and what is wrong with it."""

from typing import Any

from kivy.core.window import Window
from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.language import say

Window.softinput_mode = "below_target"


class TextEntry(BoxLayout):
    """One text; put it in the upper half of a page, the soft keyboard takes the lower."""

    label = StringProperty("")
    text = StringProperty("")
    hint = StringProperty("")
    problem = StringProperty("")
    multiline = BooleanProperty(False)

    __events__ = ("on_done",)

    def on_hint(self, _: Any, hint: str) -> None:
        """Say it in the language in use."""
        self.hint = say(hint)

    def on_done(self) -> None:
        """Take the text: Enter was pressed in a field of one line."""

    def take_focus(self) -> None:
        """Open the keyboard for this field."""
        self.ids.field.focus = True
