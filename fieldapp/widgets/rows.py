"""Long lists and long work."""

from typing import Any

from kivy.properties import BoundedNumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.recycleview import RecycleView

from fieldapp.figures import severity_mark, verdict_mark
from fieldapp.theme import SEVERITIES
from fieldapp.widgets.slab import Pressable


class ListRow(Pressable):
    """A row of a `RowList`; its state lives in the list's data.

    ``sign`` is a verdict's or a severity's word, or nothing.
    """

    title = StringProperty("")
    subtitle = StringProperty("")
    sign = StringProperty("")
    key = ObjectProperty(None, allownone=True)
    chosen = ObjectProperty(None, allownone=True)
    mark = ObjectProperty(None, allownone=True)

    def on_sign(self, *_: Any) -> None:
        """Follow the word with its shape."""
        if not self.sign:
            self.mark = None
        elif self.sign in SEVERITIES:
            self.mark = severity_mark(self.sign)
        else:
            self.mark = verdict_mark(self.sign)

    def on_release(self) -> None:
        """Tell the list which row it was."""
        if self.chosen is not None:
            self.chosen(self.key)


class RowList(RecycleView):
    """``show(rows, chosen)``: rows are dicts of title, subtitle, sign and key."""

    def show(self, rows: list[dict[str, Any]], chosen: Any) -> None:
        """Fill the list; ``chosen(key)`` is called when a row is pressed."""
        self.data = [{"subtitle": "", "sign": "", "chosen": chosen, **row} for row in rows]


class WorkBar(BoxLayout):
    """How much of a long work is done; it never spins."""

    fraction = BoundedNumericProperty(0.0, min=0.0, max=1.0)
    text = StringProperty("")
