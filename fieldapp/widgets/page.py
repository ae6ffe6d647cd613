"""A page: header, what is read, what is touched, and the main actions in thumb's reach.

In kv the children find their place by their kind: `Readout`, `Dock` and `Actions` stand still,
everything else scrolls. On a wide or flat window the dock and the actions move to the right; on a
flat one a `Glance` does too, which else comes first in what scrolls, or after the header there.
"""

from typing import Any

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.layout import Layout
from kivy.uix.recycleview import RecycleView
from kivy.uix.scrollview import ScrollView
from kivy.uix.widget import Widget

from fieldapp.figures.scene import text_width, unbroken, wrapped
from fieldapp.theme import LARGE_TEXT, is_flat, is_wide
from fieldapp.widgets.key_row import Actions
from fieldapp.widgets.sheets import UndoBar
from fieldapp.widgets.slab import IconButton
from fieldapp.widgets.theming import theme

_PANE_DP = (320, 440)
_DOCK_SHARE, _ACTIONS_SHARE = 0.45, 0.34
_ACTIONS_MOST = 0.48  # for large text, whose keys wrap less where they are wider
_BODY_LEAST_DP = 64
_SLIVER_DP = 60  # in which a key of what scrolls can still be seen
_TITLE_LINES = 2
_LEAST_OF_BODY = 0.7


class Stack(BoxLayout):
    """A column as high as its content."""


class Body(Stack):
    """What scrolls."""


class Glance(Stack):
    """What the page says in one look: a verdict, a state."""


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
    is_low = BooleanProperty(False)
    title_lines = NumericProperty(0)
    subtitle_lines = NumericProperty(0)

    def title_px(self, text: str, _: float, width: float) -> float:
        """Return the size of a title: on two lines, if text for reading does; no word broken.

        On one line it gets smaller yet, but stays larger than text that nobody enlarged.
        """
        if self.title_lines == 1:
            px = theme.px["body"]
            return px * max(_LEAST_OF_BODY, min(1.0, 0.98 * width / text_width(text, px)))
        sizes = [theme.px[role] for role in ("title", "lead", "body")]
        room = max(width, 1.0)
        size = next((s for s in sizes if len(wrapped(text, s, room)) <= _TITLE_LINES), sizes[-1])
        return unbroken(text, size, room)


class Page(BoxLayout):
    """One screen's content; ``on_back`` comes from the header, Escape or the system's back key."""

    title = StringProperty("")
    subtitle = StringProperty("")
    title_lines = NumericProperty(_TITLE_LINES)  # in large text; 0 keeps a question whole
    progress = NumericProperty(0.0)
    has_back = BooleanProperty(True)
    scrolls = BooleanProperty(True)
    is_across = BooleanProperty(False)  # what it shows needs the whole width of a flat window
    is_wide = BooleanProperty(False)
    is_flat = BooleanProperty(False)

    __events__ = ("on_back",)

    def __init__(self, **kwargs: Any) -> None:
        self.header = PageHeader()
        self.body = Body()
        self.scroll = PageScroll()
        self._flow = Stack()  # what scrolls: as wide as the page, like what does not
        self.glance: Glance | None = None
        self.readout: Readout | None = None
        self.dock: Dock | None = None
        self.actions: Actions | None = None
        self.undo_bar: UndoBar | None = None
        self._words = BoxLayout(orientation="vertical", padding=(0, 0, 0, "10dp"))
        self._hand = BoxLayout(orientation="vertical", size_hint_x=None)
        self._over_hand = PageScroll()  # where the glance of a flat window is, or nothing
        self._columns = BoxLayout()
        self._columns.add_widget(self._words)
        self._columns.add_widget(self._hand)
        self._plan: tuple[Any, ...] = ()
        self._settle = Clock.create_trigger(self._arrange, -1)
        super().__init__(**kwargs)
        self.back = IconButton(icon="back", text="Back", pos_hint={"center_y": 0.5})
        self.back.bind(on_release=self._go_back)
        for name in ("title", "subtitle", "progress"):
            self.fbind(name, self.header.setter(name))
            setattr(self.header, name, getattr(self, name))
        self.header.fbind("height", self._settle)
        self.bind(size=self._settle, has_back=self._settle, scrolls=self._settle)
        self.fbind("title_lines", self._settle)
        theme.follow(self, "_settle")
        self._arrange()

    def on_back(self) -> None:
        """Leave the page."""

    def add_widget(self, widget: Widget, *args: Any, **kwargs: Any) -> None:
        """Give the child its place by its kind."""
        for kind, slot in _SLOTS:
            if isinstance(widget, kind):
                setattr(self, slot, widget)
                widget.fbind("height", self._settle)
                self._settle()
                return
        self.body.add_widget(widget, *args, **kwargs)

    def add_to_header(self, widget: Widget) -> None:
        """Put a small control at the right end of the header."""
        widget.pos_hint = {"center_y": 0.5}
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

    def lay_out(self) -> None:
        """Give everything on the page its width now, so that no text is drawn for another one."""
        self._settle.cancel()
        self._arrange()
        _lay_out(self)

    def _arrange(self, *_: Any) -> None:
        """Lay the parts out anew, but only when their places change."""
        width_dp, height_dp = self.width / dp(1), self.height / dp(1)
        self.is_wide, self.is_flat = is_wide(width_dp), is_flat(width_dp, height_dp)
        is_large = theme.text_scale >= LARGE_TEXT
        is_low = self.is_flat and not is_large
        under_hand = self.actions if self.is_flat and not (is_low and self.is_across) else None
        panes = self.is_wide and (self.dock is not None or under_hand is not None)
        glance = self.glance if panes and is_low and self.dock is None else None
        right = [self.dock, self.undo_bar, self.actions]
        self.header.is_low = is_low or self.title_lines == 1
        is_one_line = is_large or self.title_lines == 1
        self.header.title_lines = self.title_lines if is_one_line else 0
        self.header.subtitle_lines = int(is_one_line)
        above, inside, below = self._left([] if panes else right)
        if self.glance is not None and glance is None:
            at = inside.index(self.header) + 1 if self.header in inside else 0
            inside.insert(at, self.glance)
        self._hand.width = self._hand_width(glance)
        sides = (panes, *above, None, *inside, None, *below, glance, *right)
        plan = (*sides, is_low, self.has_back, self.scrolls)
        if plan == self._plan:
            return
        self._plan = plan
        self._release()
        if self.actions is not None:
            self.actions.is_low = is_low and not panes
        self._fill_header()
        self._fill_scroll(inside, "6dp" if is_low else "12dp")
        left = [*above, self.scroll if self.scrolls else self.body, *below]
        if panes:
            super().add_widget(self._columns)
            self._fill(self._words, left)
            self._fill(self._over_hand, [glance])
            self._fill(self._hand, [self._over_hand, *right])
        else:
            self._fill(self, [*left, *right])

    def _left(self, under: list[Widget | None]) -> tuple[list[Widget], list[Widget], list[Widget]]:
        """Sort what stands above the scrolling part, in it, and below it.

        Where the window is cramped the header scrolls. A readout stays in view as long as it leaves
        a little of what scrolls; else it scrolls too, before the header where not even the two have
        room together. What a number is asked for stays in view while it is typed, if need be
        without what scrolls, which its page about the check tells as well.
        """
        readout = [self.readout] if self.readout is not None else []
        fixed = [part for part in (*readout, *under) if part is not None]
        # a few lines of what scrolls stay in view, however large the text
        least = dp(_BODY_LEAST_DP) * theme.text_scale**2
        room = self.height - least - sum(part.height for part in fixed)
        is_asked = bool(readout) and self.dock in under and theme.text_scale < LARGE_TEXT
        if not self.scrolls or room + least * is_asked >= self.header.height:
            return [self.header], [], readout
        if room >= 0 or (readout and room + least >= dp(_SLIVER_DP)):
            return [], [self.header], readout
        if room + least >= self.header.height:
            return [], [self.header, *readout], []
        return [], [*readout, self.header], []

    def _hand_width(self, glance: Glance | None) -> float:
        """Width of the pane under the hand, when there are two."""
        if self.dock is None and glance is None:
            grown = min(_ACTIONS_MOST, _ACTIONS_SHARE * theme.text_scale)
            return float(self.width * grown)
        low, high = (dp(x) for x in _PANE_DP)
        return float(min(high, max(low, self.width * _DOCK_SHARE)))

    def _release(self) -> None:
        parts = (self.header, self.scroll, self._flow, self.body, self.glance, self.readout)
        for part in (
            *parts,
            self.dock,
            self.actions,
            *self.children,
            *self._words.children,
            *self._hand.children,
        ):
            if part is not None and part.parent is not None:
                part.parent.remove_widget(part)

    def _fill_header(self) -> None:
        line = self.header.ids.line
        if self.has_back and self.back.parent is None:
            line.add_widget(self.back, index=len(line.children))
        elif not self.has_back and self.back.parent is not None:
            line.remove_widget(self.back)

    def _fill_scroll(self, inside: list[Widget], above: str) -> None:
        self.body.size_hint_y = None if self.scrolls else 1
        self.body.padding = ["12dp", above, "12dp", "12dp"] if self.scrolls else 0
        if self.scrolls:
            self._fill(self._flow, [*inside, self.body])
            self.scroll.add_widget(self._flow)

    def _fill(self, box: Widget, parts: list[Any]) -> None:
        add = super().add_widget if box is self else box.add_widget
        for part in parts:
            if part is not None:
                add(part)


def _lay_out(widget: Widget) -> None:
    """Lay out from the outside in; the toolkit does it in the order in which the parts were made.

    A long list knows itself which of its rows there are.
    """
    if isinstance(widget, RecycleView):
        return
    if isinstance(widget, Layout):
        widget._trigger_layout.cancel()
        widget.do_layout()
    for child in widget.children:
        _lay_out(child)


_SLOTS = ((Glance, "glance"), (Readout, "readout"), (Dock, "dock"), (Actions, "actions"))
