"""Words on screen: text that wraps, verdict tags, severity banners."""

from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from fieldapp.figures import color_of, severity_mark, verdict_mark
from fieldapp.language import say
from fieldapp.widgets.slab import Slab


class Words(Label):
    """Text of one role of the type scale; wraps at its width and is as high as it needs."""

    role = StringProperty("body")
    tone = StringProperty("ink")
    strong = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.fbind("text", self._say)  # after the label's own: it draws the text it is called with
        self._say(self, self.text)

    def _say(self, _: Any, text: str) -> None:
        """Say it in the language in use."""
        self.text = say(text)


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
    """A signal word on its safety color, and the message under it."""

    severity = StringProperty("notice")
    text = StringProperty("")
    mark = ObjectProperty(None)
    panel_tone = StringProperty("on_notice")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.on_severity()

    def on_severity(self, *_: Any) -> None:
        """Follow the signal word with shape and color."""
        self.mark = severity_mark(self.severity)
        self.rim, self.panel_tone = self.severity, f"on_{self.severity}"
