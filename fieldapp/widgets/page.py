"""A page: header, what is read, what is touched, and the main actions in thumb's reach.

In kv the children find their place by their kind: `Readout`, `Dock` and `Actions` stand still,
everything else scrolls. On a wide or flat window the dock and the actions move to the right.
"""

from typing import Any

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.scrollview import ScrollView
from kivy.uix.widget import Widget

from fieldapp.figures import text_width
from fieldapp.theme import TWO_PANES_FROM_DP
from fieldapp.widgets.sheets import UndoBar
from fieldapp.widgets.slab import KeyButton, IconButton
from fieldapp.widgets.theming import theme

_FLAT_DP = 500
_PANE_DP = (320, 440)


class Stack(BoxLayout):
    """A column as high as its content."""


class Body(Stack):
    """What scrolls."""


class Readout(Stack):
    """What must stay in view while something is typed."""


class Dock(Stack):
    """Pad, choices or signature: never inside a scrolling area."""


class PageScroll(ScrollView):
    """Scrolls up and down only."""


class PageHeader(BoxLayout):
    """Title, subtitle and the rule that shows how much of the work is done."""

    title = StringProperty("")
    subtitle = StringProperty("")
    progress = NumericProperty(0.0)


class Actions(BoxLayout):
    """Main actions, the primary one last: side by side, or stacked when the words need it."""

    def __init__(self, **kwargs: Any) -> None:
        self._stack = Clock.create_trigger(self._arrange, -1)
        super().__init__(size_hint_y=None, **kwargs)
        self.bind(minimum_height=self.setter("height"), width=self._stack, children=self._stack)
        theme.bind(on_change=self._stack)

    def _arrange(self, *_: Any) -> None:
        buttons = [w for w in self.children if isinstance(w, KeyButton)]
        share = self.width / max(1, len(buttons)) - dp(52)
        size = theme.px["action"]
        fits = all(
            text_width(word, size) <= share for button in buttons for word in button.text.split()
        ) and all(text_width(button.text, size) <= 1.7 * share for button in buttons)
        self.orientation = "horizontal" if fits else "vertical"


class Page(BoxLayout):
    """One screen's content; ``on_back`` comes from the header, Escape or the system's back key."""

    title = StringProperty("")
    subtitle = StringProperty("")
    progress = NumericProperty(0.0)
    has_back = BooleanProperty(True)
    scrolls = BooleanProperty(True)
    is_wide = BooleanProperty(False)

    __events__ = ("on_back",)

    def __init__(self, **kwargs: Any) -> None:
        self.header = PageHeader()
        self.body = Body()
        self.scroll = PageScroll()
        self.readout: Readout | None = None
        self.dock: Dock | None = None
        self.actions: Actions | None = None
        self.undo_bar: UndoBar | None = None
        self._settle = Clock.create_trigger(self._arrange, -1)
        super().__init__(**kwargs)
        self.back = IconButton(icon="back", text="Back")
        self.back.bind(on_release=self._go_back)
        for name in ("title", "subtitle", "progress"):
            self.fbind(name, self.header.setter(name))
            setattr(self.header, name, getattr(self, name))
        self.bind(size=self._settle, has_back=self._settle, scrolls=self._settle)
        theme.bind(on_change=self._settle)
        self._arrange()

    def on_back(self) -> None:
        """Leave the page."""

    def add_widget(self, widget: Widget, *args: Any, **kwargs: Any) -> None:
        """Give the child its place by its kind."""
        for kind, slot in ((Readout, "readout"), (Dock, "dock"), (Actions, "actions")):
            if isinstance(widget, kind):
                setattr(self, slot, widget)
                self._settle()
                return
        self.body.add_widget(widget, *args, **kwargs)

    def add_to_header(self, widget: Widget) -> None:
        """Put a small control at the right end of the header."""
        self.header.ids.line.add_widget(widget)

    def offer_undo(self, text: str, undo: Any, action: str = "Undo", seconds: float = 10) -> None:
        """Say what was done, above the actions, with a key that takes it back."""
        self.undo_bar = UndoBar(text=text, action=action)
        self.undo_bar.start(undo, self._close_undo, seconds)
        self._settle()

    def _close_undo(self, bar: UndoBar) -> None:
        if bar is self.undo_bar:
            self.undo_bar = None
            self._settle()

    def _go_back(self, *_: Any) -> None:
        self.dispatch("on_back")

    def _arrange(self, *_: Any) -> None:
        is_flat = self.width > self.height and self.height < dp(_FLAT_DP)
        self.is_wide = self.width >= dp(TWO_PANES_FROM_DP)
        panes = self.is_wide and (self.dock is not None or (is_flat and self.actions is not None))
        self._release()
        self._fill_header()
        self._fill_scroll()
        left = [self.header, self.scroll if self.scrolls else self.body, self.readout]
        right = [self.dock, self.undo_bar, self.actions]
        super().clear_widgets()
        if not panes:
            self._column(self, [*left, *right])
            return
        low, high = (dp(x) for x in _PANE_DP)
        share = 0.45 if self.dock is not None else 0.34
        width = min(high, max(low, self.width * share)) if self.dock else self.width * share
        columns = BoxLayout()
        self._column(columns_left := BoxLayout(orientation="vertical"), left)
        column = BoxLayout(orientation="vertical", size_hint_x=None, width=width)
        column.add_widget(Widget())
        self._column(column, right)
        columns.add_widget(columns_left)
        columns.add_widget(column)
        super().add_widget(columns)

    def _release(self) -> None:
        parts = (self.header, self.scroll, self.body, self.readout, self.dock, self.actions)
        for part in (*parts, self.undo_bar):
            if part is not None and part.parent is not None:
                part.parent.remove_widget(part)

    def _fill_header(self) -> None:
        line = self.header.ids.line
        if self.has_back and self.back.parent is None:
            line.add_widget(self.back, index=len(line.children))
        elif not self.has_back and self.back.parent is not None:
            line.remove_widget(self.back)

    def _fill_scroll(self) -> None:
        if self.scrolls:
            self.scroll.add_widget(self.body)
        self.body.size_hint_y = None if self.scrolls else 1
        self.body.padding = ["16dp", "14dp"] if self.scrolls else 0

    def _column(self, box: BoxLayout, parts: list[Widget | None]) -> None:
        add = super().add_widget if box is self else box.add_widget
        for part in parts:
            if part is not None:
                add(part)
