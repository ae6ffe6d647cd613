"""What every screen has: a page, the guide that moves between pages, and refusals in words."""

from abc import ABCMeta, abstractmethod
from collections.abc import Callable, Sequence
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, ParamSpec

from kivy.lang import Builder
from kivy.metrics import dp
from kivy.uix.widget import Widget, WidgetMetaclass

from checks.errors import ChecksError
from fieldapp.screens.sheets import trouble
from fieldapp.widgets import (
    Actions,
    Dock,
    Glance,
    KeyButton,
    Page,
    PrimaryButton,
    Readout,
    SecondaryButton,
)

if TYPE_CHECKING:
    from fieldapp.figures.scene import Scene
    from fieldapp.screens.guide import Guide
    from fieldapp.walk.visit import Walk

_EDGE_DP = 12

P = ParamSpec("P")


def load_kv(module_file: str) -> None:
    """Load the rules that stand beside a module; once, when it is imported."""
    Builder.load_file(str(Path(module_file).with_suffix(".kv")))


def guarded(act: Callable[P, None]) -> Callable[P, None]:
    """Show an error that is meant for people on the screen where it happened."""

    @wraps(act)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            act(*args, **kwargs)
        except ChecksError as error:
            trouble(error)

    return run


def key(
    text: str, do: Callable[[], None], kind: type[KeyButton] = SecondaryButton, **more: Any
) -> KeyButton:
    """Make a key with its words and what it does."""
    made = kind(text=text, **more)
    made.bind(on_release=lambda *_: guarded(do)())
    return made


def main_key(text: str, do: Callable[[], None], **more: Any) -> KeyButton:
    """Make the main key of a page."""
    return key(text, do, PrimaryButton, **more)


class _ScreenMeta(WidgetMetaclass, ABCMeta):
    """A widget class whose abstract methods must be there before one is made."""


class Screen(Page, metaclass=_ScreenMeta):
    """One page of the walk; made on its first visit and filled anew on each.

    Parameters
    ----------
    guide : Guide
        Moves between screens and holds what is open.
    """

    is_at_station: ClassVar[bool] = False  # whether ``of`` begins with the station

    def __init__(self, guide: "Guide", **kwargs: Any) -> None:
        self.guide, self.of = guide, ""
        self.filled = 0  # how often: each time it asks or shows something else
        super().__init__(**kwargs)

    @property
    def walk(self) -> "Walk":
        """The visit that is open."""
        return self.guide.open_walk

    @property
    def station(self) -> str | None:
        """The station that is worked at here; it is marked on the path."""
        return self.of.split(".", 1)[0] if self.is_at_station else None

    def path_beside(self) -> "Callable[[float], Scene]":
        """Return what draws the path beside this page, the station of the page marked on it."""
        from fieldapp.screens.diagram import path_diagram  # not before a visit is open

        return path_diagram(self.walk, self.station)

    def enter(self, of: str) -> None:
        """Come up for one thing, as its position on disk names it."""
        self.of = of
        self.fill()
        self.scroll.scroll_y = 1

    @abstractmethod
    def fill(self) -> None:
        """Show what is so now."""

    def leave(self) -> None:
        """Put on disk what still stands in a field."""

    def on_is_flat(self, *_: Any) -> None:
        """Show what has room on a window that was turned."""
        if self.guide.screen is self and self.guide.walk is not None:
            self.room_changed()

    def room_changed(self) -> None:
        """Show what now fits beside the page or no longer does, where it is shown."""

    def photos_changed(self, newest: str = "") -> None:
        """Show what came in, where photos are shown."""

    def up(self) -> None:
        """Go one step out."""
        self.guide.go("path")

    def path_key(self) -> KeyButton:
        """Make the key to the path: the same words everywhere, and the first of the actions."""
        return key("Path", lambda: self.guide.go("path"))

    @guarded
    def on_back(self) -> None:
        """Go one step out: the arrow, and the system's back key."""
        self.up()

    def put(
        self,
        *,
        body: Sequence[Widget] = (),
        glance: Sequence[Widget] = (),
        readout: Sequence[Widget] = (),
        dock: Sequence[Widget] = (),
        actions: Sequence[Widget] = (),
    ) -> None:
        """Replace everything on the page."""
        self.filled += 1
        self.body.clear_widgets()
        for widget in body:
            self.body.add_widget(widget)
        self._take_out(self.glance, self.readout, self.dock, self.actions)
        self.glance = self.readout = self.dock = self.actions = None
        slots = ((Glance, glance), (Readout, readout), (Dock, dock), (Actions, actions))
        for kind, widgets in slots:
            if widgets:
                slot = kind()
                for widget in widgets:
                    slot.add_widget(widget)
                self.add_widget(slot)
        if self.dock is not None and self.actions is None:
            self.dock.padding[3] = dp(_EDGE_DP)
        self.lay_out()

    @staticmethod
    def _take_out(*slots: Widget | None) -> None:
        """Take slots off the page; a cramped one holds them in its body."""
        for slot in slots:
            if slot is not None and slot.parent is not None:
                slot.parent.remove_widget(slot)
