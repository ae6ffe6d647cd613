"""The theme as kv sees it: one object whose change redraws everything."""

from typing import Any
from weakref import WeakKeyDictionary

from kivy.core.text import LabelBase
from kivy.event import EventDispatcher
from kivy.lang.parser import global_idmap
from kivy.metrics import Metrics, dp, sp
from kivy.properties import (
    BooleanProperty,
    BoundedNumericProperty,
    NumericProperty,
    ObjectProperty,
    OptionProperty,
    StringProperty,
)
from kivy.uix.widget import Widget

from fieldapp.theme import (
    EDGE_DP,
    FONT_FILES,
    FOOT_DP,
    MAX_TEXT_SCALE,
    PALETTES,
    RADIUS_DP,
    TYPE_SP,
    asset,
    rgb,
    scaled_sp,
)

REGULAR, MEDIUM, SEMIBOLD = "Sheet", "SheetMedium", "SheetSemibold"


class Theme(EventDispatcher):
    """Palette, text sizes and edges in use; set ``name`` or ``text_scale`` at any time.

    In kv: ``theme.color['ink']`` is a color, ``theme.px['body']`` a text size in pixels that
    follows the user's text size, ``theme.font`` and ``theme.strong`` are font names.
    """

    name = OptionProperty("day", options=list(PALETTES))
    text_scale = BoundedNumericProperty(1.0, min=1.0, max=MAX_TEXT_SCALE)
    color = ObjectProperty({})
    px = ObjectProperty({})
    font = StringProperty(REGULAR)
    strong = StringProperty(SEMIBOLD)
    edge = NumericProperty(1.0)
    foot = NumericProperty(4.0)
    radius = NumericProperty(RADIUS_DP)
    is_outdoor = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        # Weak and without order: a binding would outlive its widget and slow the next ones down.
        self._followers: WeakKeyDictionary[Widget, set[str]] = WeakKeyDictionary()
        super().__init__(**kwargs)
        self.bind(name=self._refresh, text_scale=self._refresh)
        Metrics.bind(density=self._refresh, fontscale=self._refresh)
        self._refresh()

    def follow(self, widget: Widget, method: str) -> None:
        """Call a method of a widget when colors or sizes are new, for as long as it lives."""
        self._followers.setdefault(widget, set()).add(method)

    def _refresh(self, *_: Any) -> None:
        self.color = {token: (*rgb(value), 1.0) for token, value in PALETTES[self.name].items()}
        self.px = {role: sp(scaled_sp(size, self.text_scale)) for role, size in TYPE_SP.items()}
        self.is_outdoor = self.name == "outdoor"
        self.font = MEDIUM if self.is_outdoor else REGULAR
        self.edge, self.foot = dp(EDGE_DP[self.name]), dp(FOOT_DP[self.name])
        self.radius = dp(RADIUS_DP)
        for widget, methods in list(self._followers.items()):
            for method in methods:
                getattr(widget, method)()


def register_fonts() -> None:
    """Make the three weights known to Kivy by name."""
    semibold = str(asset(FONT_FILES["semibold"]))
    LabelBase.register(REGULAR, str(asset(FONT_FILES["regular"])), fn_bold=semibold)
    LabelBase.register(MEDIUM, str(asset(FONT_FILES["medium"])), fn_bold=semibold)
    LabelBase.register(SEMIBOLD, semibold)


register_fonts()
theme = Theme()
global_idmap["theme"] = theme
