"""What comes between: a caution that must be acknowledged, and a bar that undoes."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.floatlayout import FloatLayout

from fieldapp.figures.scene import text_width
from fieldapp.widgets.scrolling import is_at_end, read_on
from fieldapp.widgets.theming import theme
from fieldapp.widgets.words import SeverityBanner

_KEY_MARGIN_DP = 44


class CautionSheet(FloatLayout):
    """Cautions over the page; only the acknowledging key lets the work go on.

    Parameters
    ----------
    title : str
        What the work is that needs the cautions.
    cautions : sequence of (signal word, text)
        Most severe first.
    on_accept, on_decline : callable
        Called after the sheet is gone. The back key declines.
    """

    title = StringProperty("")
    accept_text = StringProperty("Understood")
    decline_text = StringProperty("Go back")
    is_read = BooleanProperty(False)
    is_gated = BooleanProperty(True)  # the key that goes on reads on first, to the end
    # of the sheet in it; a rule that looked at `root.ids` would keep its widget for ever
    sheet_top = NumericProperty(0.0)

    def __init__(
        self,
        cautions: Sequence[tuple[str, str]],
        on_accept: Callable[[], None],
        on_decline: Callable[[], None] | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(**kwargs)
        if not self.title:
            self.ids.content.clear_widgets()
        self._on_accept, self._on_decline = on_accept, on_decline
        for severity, text in cautions:
            self.ids.content.add_widget(SeverityBanner(severity=severity, text=text))
        self._reached_end = False
        self._look = Clock.create_trigger(self._check_read)
        self.ids.scroll.bind(scroll_y=self._look, height=self._look)
        self.ids.content.bind(height=self._look)

    def open(self) -> None:
        """Cover the page."""
        Window.add_widget(self)
        self._look()

    def accept(self) -> None:
        """Go on once the cautions were read; read on while there is more of them."""
        if self.is_gated and not self.is_read:
            read_on(self.ids.scroll)
            return
        self._close()
        self._on_accept()

    def decline(self) -> None:
        """Go back without starting the work."""
        self._close()
        if self._on_decline is not None:
            self._on_decline()

    def _close(self) -> None:
        self._look.cancel()
        Window.remove_widget(self)

    def _check_read(self, *_: Any) -> None:
        area = self.ids.scroll
        self._reached_end = self._reached_end or (area.scroll_y < 1 and is_at_end(area))
        self.is_read = self._reached_end or is_at_end(area)

    def on_touch_down(self, touch: Any) -> bool:
        """Keep every touch from the page beneath."""
        super().on_touch_down(touch)
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Keep every touch from the page beneath."""
        super().on_touch_move(touch)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Keep every touch from the page beneath."""
        super().on_touch_up(touch)
        return True


class UndoBar(BoxLayout):
    """Says what was done and takes it back; leaves by itself."""

    text = StringProperty("")
    action = StringProperty("Undo")
    undo_width = NumericProperty(100)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.undo_width = text_width(self.action, theme.px["action"]) + dp(_KEY_MARGIN_DP)

    def start(
        self, undo: Callable[[], None], close: Callable[["UndoBar"], None], seconds: float
    ) -> None:
        """Wait for the key or for the time to pass."""
        self._undo, self._close = undo, close
        self._timer = Clock.schedule_once(self._expire, seconds)

    def undone(self) -> None:
        """Take back what was done."""
        self._timer.cancel()
        self._close(self)
        self._undo()

    def _expire(self, *_: Any) -> None:
        self._close(self)
