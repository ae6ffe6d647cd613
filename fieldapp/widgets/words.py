"""Words on screen: text that wraps, verdict tags, severity banners."""

from math import inf
from typing import Any, Final

from kivy.metrics import dp
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from fieldapp.figures.marks import color_of, severity_mark, verdict_mark
from fieldapp.figures.scene import cut, held
from fieldapp.language import Said, say
from fieldapp.widgets.slab import Card, Slab
from fieldapp.widgets.theming import theme

_UNPLACED: Final = 1  # width of what no layout gave a width yet. [px]


class Words(Label):
    """Text of one role of the type scale; wraps at its width and is as high as it needs.

    ``fit(text, px, width)`` gives another size where the words need it; none is above ``most_px``.
    Of more than ``most_lines`` the rest is not drawn; ``text`` keeps it.

    It is dressed here and not by a rule: there are dozens on a page, and a rule is read for each.
    """

    role = StringProperty("body")
    tone = StringProperty("ink")
    strong = BooleanProperty(False)
    fit = ObjectProperty(None, allownone=True)
    most_px = NumericProperty(inf)
    most_lines = NumericProperty(0)  # none is no limit

    def __init__(self, **kwargs: Any) -> None:
        place = {"size_hint_y": None, "width": _UNPLACED, "height": 0}
        said = {"text": say(kwargs.get("text", ""))}
        super().__init__(**(place | {"halign": "left", "valign": "middle"} | kwargs | said))
        self.text_size = (self.width, None)
        self._dress()
        self.fbind("text", self._say)  # after the label's own: it draws the text it is called with
        self.fbind("texture_size", self._grow)
        self.fbind("width", self._wrap)
        self.fbind("most_lines", self._trigger_texture)
        for name in ("role", "fit", "most_px", "strong", "tone"):
            self.fbind(name, self._dress)
        theme.follow(self, "_dress")

    def texture_update(self, *args: Any) -> None:
        """Draw the text, once it is known how wide it may be."""
        if self.width > _UNPLACED:
            text = self.text
            if self.most_lines:
                text = cut(Said(text), self.font_size, self.width, self.most_lines)
            self._label.text = held(text, self.font_size, self.width)
            super().texture_update(*args)

    def _say(self, _: Any, text: str) -> None:
        """Say it in the language in use."""
        self.text = say(text)
        self._size()

    def _dress(self, *_: Any) -> None:
        self.font_name = theme.strong if self.strong else theme.font
        self.color = self.disabled_color = theme.color[self.tone]
        self._size()

    def _wrap(self, *_: Any) -> None:
        self.text_size = (self.width, None)
        self._size()

    def _size(self) -> None:
        px = theme.px[self.role]
        if self.fit is not None:
            px = self.fit(self.text, px, self.width)
        self.font_size = min(px, self.most_px)

    def _grow(self, *_: Any) -> None:
        self.height = self.texture_size[1]


class VerdictTag(BoxLayout):
    """A verdict as shape, word and color."""

    verdict = StringProperty("not measured")
    mark = ObjectProperty(None)
    tone = StringProperty("not_measured")

    def __init__(self, **kwargs: Any) -> None:
        self.mark = verdict_mark(kwargs.get("verdict", "not measured"))
        super().__init__(**kwargs)
        self.on_verdict()

    def on_verdict(self, *_: Any) -> None:
        """Follow the word with shape and color."""
        self.mark = verdict_mark(self.verdict)
        self.tone = color_of(self.verdict)


class SeverityBanner(Slab):
    """A signal word on its safety color, and the message under it.

    ``do`` is what to do at once, and comes before what it is about.
    """

    severity = StringProperty("notice")
    text = StringProperty("")
    do = StringProperty("")
    role = StringProperty("lead")
    mark = ObjectProperty(None)
    panel_tone = StringProperty("on_notice")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        if self.do:
            first = Words(
                text=self.do, role="lead", strong=True, padding=(dp(13), dp(10), dp(13), 0)
            )
            self.add_widget(first, index=1)
        self.on_severity()

    def on_severity(self, *_: Any) -> None:
        """Follow the signal word with shape and color."""
        self.mark = severity_mark(self.severity)
        self.rim, self.panel_tone = self.severity, f"on_{self.severity}"


class Message(Card):
    """What the app has to say of itself or of the record; signal words are for hazards."""

    text = StringProperty("")
