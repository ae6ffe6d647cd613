"""The frame around the screens: the edges that stay free, and on a tablet the path beside them."""

from typing import Any

from kivy.core.window import Window
from kivy.metrics import dp
from kivy.properties import BooleanProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.device.port import Device
from fieldapp.screens.diagram import path_diagram
from fieldapp.screens.screen import Screen, guarded, load_kv
from fieldapp.theme import is_flat, is_wide

load_kv(__file__)


class Shell(BoxLayout):
    """Holds the screen, and beside it the path of the visit where there is room for both."""

    screen = ObjectProperty(None, allownone=True)
    has_side = BooleanProperty(False)

    def __init__(self, device: Device, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._device = device
        self._side = self.ids.side.__self__  # kept while it is out of the tree
        self.remove_widget(self._side)
        self.bind(size=self._arrange)
        Window.bind(size=self._edges)
        self._edges()

    @property
    def has_room(self) -> bool:
        """Whether path and page fit beside each other; a flat window is all the page's."""
        width_dp, height_dp = self.width / dp(1), self.height / dp(1)
        return is_wide(width_dp) and not is_flat(width_dp, height_dp)

    def show(self, screen: Screen) -> None:
        """Put a screen in the frame."""
        slot = self.ids.slot
        if self.screen is not screen:
            slot.clear_widgets()
            slot.add_widget(screen)
            self.screen = screen
        self._arrange()

    def _arrange(self, *_: Any) -> None:
        walk = self.screen.guide.walk if self.screen is not None else None
        wanted = walk is not None and self.has_room
        if wanted != (self._side.parent is not None):
            if wanted:
                self.add_widget(self._side, index=1)
            else:
                self.remove_widget(self._side)
        self.has_side = wanted
        if walk is not None and wanted:
            self.ids.diagram.build = path_diagram(walk, self.screen.station)

    @guarded
    def hit(self, station: str) -> None:
        """Go to the station that was touched beside the page."""
        self.screen.guide.go("station", station)

    def _edges(self, *_: Any) -> None:
        free = self._device.insets()
        self.padding = [free.left_px, free.top_px, free.right_px, free.bottom_px]
