"""The heating curve of a judgement on screen."""

from kivy.uix.widget import Widget

from checks.verdict import Judgement
from fieldapp.figures.heating import heating
from fieldapp.figures.scene import Scene
from fieldapp.widgets import SceneView, theme


def curve(judged: Judgement) -> list[Widget]:
    """Return the figure of a heating series, once it has two readings; else nothing."""
    found = judged.heating
    if found is None or len(found.readings) < 2:  # noqa: PLR2004 - a line has two ends
        return []

    def build(width: float) -> Scene:
        return heating(found, width, text_scale=theme.text_scale)

    return [SceneView(build=build)]
