"""Figures as plain geometry with color tokens: drawn by a widget on screen and on the page.

Here belongs what a figure looks like; not how a toolkit draws it, and not what it means.
"""

from fieldapp.figures.gauge import GaugeLimit, Reading, Side, gauge
from fieldapp.figures.heating import heating
from fieldapp.figures.icons import ICONS, icon
from fieldapp.figures.marks import color_of, severity_mark, verdict_mark
from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.photo_mark import photo_mark
from fieldapp.figures.scene import (
    Circle,
    Hit,
    Item,
    Line,
    Polygon,
    Polyline,
    Rect,
    Scene,
    Text,
    line_count,
    text_width,
    unbroken,
    wrapped,
)
from fieldapp.figures.signature import SIGNATURE_ASPECT, signature
from fieldapp.figures.staircase import Step, VoltLimit, staircase, stairs
from fieldapp.figures.symbols import SYMBOLS
from fieldapp.figures.ticks import nice_ticks
from fieldapp.figures.trend import Course, TrendVisit, trend_plot, trend_scene

__all__ = [
    "ICONS",
    "SIGNATURE_ASPECT",
    "SYMBOLS",
    "Circle",
    "Course",
    "GaugeLimit",
    "Hit",
    "Item",
    "Line",
    "Polygon",
    "Polyline",
    "Reading",
    "Rect",
    "Scene",
    "Side",
    "StationMark",
    "Step",
    "Text",
    "TrendVisit",
    "VoltLimit",
    "color_of",
    "gauge",
    "heating",
    "icon",
    "line_count",
    "nice_ticks",
    "one_line",
    "photo_mark",
    "severity_mark",
    "signature",
    "staircase",
    "stairs",
    "text_width",
    "trend_plot",
    "trend_scene",
    "unbroken",
    "verdict_mark",
    "wrapped",
]
