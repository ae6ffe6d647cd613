"""The frame around the screens: the edges that stay free, and on a tablet the path beside them."""

from typing import Any

from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import BooleanProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.device.port import Device
from fieldapp.screens.screen import Screen, guarded, load_kv
from fieldapp.theme import is_flat, is_wide

load_kv(__file__)


class Shell(BoxLayout):
    """Holds the screen, and beside it the path of the visit where there is room for both."""

    screen = ObjectProperty(None, allownone=True)
    has_room = BooleanProperty(False)  # for path and page beside each other
    has_side = BooleanProperty(False)

    def __init__(self, device: Device, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._device = device
        self._side = self.ids.side.__self__  # kept while it is out of the tree
        self.remove_widget(self._side)
        self.bind(size=self._measure)
        Window.bind(size=self._edges)
        self._edges()

    def _measure(self, *_: Any) -> None:
        """See whether there is room; a flat window is all the page's."""
        width_dp, height_dp = self.width / dp(1), self.height / dp(1)
        self.has_room = is_wide(width_dp) and not is_flat(width_dp, height_dp)
        self._arrange()

    def on_has_room(self, *_: Any) -> None:
        """Let the page take the path in, or give it up."""
        if self.screen is not None:
            self.screen.room_changed()

    def show(self, screen: Screen) -> None:
        """Put a screen in the frame."""
        slot = self.ids.slot
        if self.screen is not screen:
            slot.clear_widgets()
            slot.add_widget(screen)
            self.screen = screen
        self._arrange()

    def _arrange(self) -> None:
        walk = self.screen.guide.walk if self.screen is not None else None
        wanted = walk is not None and self.has_room
        if wanted != (self._side.parent is not None):
            if wanted:
                self.add_widget(self._side, index=1)
            else:
                self.remove_widget(self._side)
        self.has_side = wanted
        if walk is not None and wanted:
            self.ids.diagram.build = self.screen.path_beside()

    @guarded
    def hit(self, station: str) -> None:
        """Go to the station that was touched beside the page."""
        self.screen.guide.go("station", station)

    def _edges(self, *_: Any) -> None:
        free = self._device.insets()
        self.padding = [free.left_px, free.top_px, free.right_px, free.bottom_px]
