"""Long lists and long work."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import (
    BooleanProperty,
    BoundedNumericProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.recycleview import RecycleView

from fieldapp.figures.icons import icon
from fieldapp.figures.marks import severity_mark, verdict_mark
from fieldapp.figures.scene import line_count
from fieldapp.language import say
from fieldapp.theme import SEVERITIES
from fieldapp.widgets.scrolling import bring
from fieldapp.widgets.slab import Pressable
from fieldapp.widgets.theming import theme

_LEAST_DP = 76
_BESIDE_WORDS_DP = 24 + 28 + 24 + 20  # margins of list and row, gaps, chevron
_ABOVE_BELOW_DP = 16
MESSAGE: Final = "message"  # of the app, no verdict and no hazard
_LEADING = 1.33
_UNPLACED_PX = 100  # the width of a widget that no layout has placed yet


@lru_cache(maxsize=20_000)
def _lines(text: str, size: float, room: float) -> int:
    """Lines of a row's title or subtitle; a subtitle may have line ends of its own."""
    if "\n" in text:
        return sum(line_count(part, size, room) for part in text.split("\n"))
    return line_count(text, size, room) if text else 0


class ListRow(Pressable):
    """A row of a `RowList`; its state lives in the list's data.

    ``sign`` is a verdict's or a severity's word, `MESSAGE`, or nothing.
    """

    title = StringProperty("")
    subtitle = StringProperty("")
    sign = StringProperty("")
    key = ObjectProperty(None, allownone=True)
    number = NumericProperty(-1)  # of the row in its list
    chosen = ObjectProperty(None, allownone=True)
    mark = ObjectProperty(None, allownone=True)
    row_size = ObjectProperty((0, 0))

    def on_sign(self, *_: Any) -> None:
        """Follow the word with its shape."""
        if not self.sign:
            self.mark = None
        elif self.sign in SEVERITIES:
            self.mark = severity_mark(self.sign)
        elif self.sign == MESSAGE:
            self.mark = icon(MESSAGE)
        else:
            self.mark = verdict_mark(self.sign)

    def on_number(self, *_: Any) -> None:
        """Become another row: the keyboard stays with the one it was at."""
        self.focused = False

    def on_release(self) -> None:
        """Tell the list which row it was."""
        if self.chosen is not None:
            self.chosen(self.key)


class RowList(RecycleView):
    """``show(rows, chosen)``: rows are dicts of title, subtitle, sign and key.

    The height of every row is computed from its words, also of those not yet on screen, so that
    the list neither jumps nor lays itself out twice. The keyboard is at one row at a time.
    """

    focused = BooleanProperty(False)
    at = NumericProperty(0)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._rows: list[dict[str, Any]] = []
        self._measure = Clock.create_trigger(self._remeasure, -1)
        self.fbind("width", self._measure)
        self._ring = Clock.create_trigger(self._show_ring)
        for name in ("focused", "at", "scroll_y", "data"):
            self.fbind(name, self._ring)
        theme.follow(self, "_measure")

    def show(self, rows: list[dict[str, Any]], chosen: Any) -> None:
        """Fill the list; ``chosen(key)`` is called when a row is pressed."""
        self._rows = [
            {
                "sign": "",
                "chosen": chosen,
                "number": number,
                **row,
                "title": say(row["title"]),
                "subtitle": say(row.get("subtitle", "")),
            }
            for number, row in enumerate(rows)
        ]
        self.at = 0
        self._measure()

    def _remeasure(self, *_: Any) -> None:
        if self.width != _UNPLACED_PX:  # else each row would be measured twice
            size = self._sizer()
            self.data = [{**row, "row_size": size(row)} for row in self._rows]

    def step(self, by: int, *, is_page: bool = False, all_the_way: bool = False) -> bool:
        """Bring the keyboard to another row, and the row into view; False past an end."""
        if is_page:
            by *= max(1, int(self.height // dp(_LEAST_DP)))
        last = len(self.data) - 1
        to = (last if by > 0 else 0) if all_the_way else self.at + by
        to = min(last, max(0, to)) if is_page else to
        if not 0 <= to <= last or to == self.at:
            return False
        self.at = to
        bring(self, self.row_box)
        return True

    def press(self) -> None:
        """Choose the row at which the keyboard is."""
        row = self.data[self.at]
        row["chosen"](row["key"])

    @property
    def row_box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in the window of the row that has the keyboard. [px]."""
        inside = self.children[0]
        above = sum(row["row_size"][1] + inside.spacing for row in self.data[: self.at])
        top = inside.height - inside.padding[1] - above
        x, y = inside.to_window(inside.x + inside.padding[0], inside.y + top)
        return x, y - self.data[self.at]["row_size"][1], x + inside.width, y

    def _show_ring(self, *_: Any) -> None:
        for row in self.children[0].children:
            row.focused = self.focused and row.number == self.at

    def _sizer(self) -> Callable[[dict[str, Any]], tuple[float, float]]:
        """Return what sizes a row at the width and the text sizes of now."""
        width, lead, body = self.width, theme.px["lead"], theme.px["body"]
        plain = max(1.0, width - dp(_BESIDE_WORDS_DP))
        signed = max(1.0, plain - theme.px["reading"])
        least, around = dp(_LEAST_DP), dp(_ABOVE_BELOW_DP) + theme.foot

        def size(row: dict[str, Any]) -> tuple[float, float]:
            room = signed if row["sign"] else plain
            height = _lines(row["title"], lead, room) * lead
            height += _lines(row["subtitle"], body, room) * body
            return width, max(least, height * _LEADING + around)

        return size


class WorkBar(BoxLayout):
    """How much of a long work is done; it never spins."""

    fraction = BoundedNumericProperty(0.0, min=0.0, max=1.0)
    text = StringProperty("")
