"""What figures are drawn from here, and where their words lie."""

from fieldapp.figures.one_line import StationMark
from fieldapp.figures.scene import Scene, Text, text_width
from fieldapp.figures.trend import TrendVisit

PATH = [
    StationMark("service", "Service", "service", "within", "241.8 V"),
    StationMark("panel", "Panel A", "panel", "borderline", "0.02 Ω", quantity="Bond"),
    StationMark(
        "outlet",
        "Outlet in the north garage, left bay",
        "outlet",
        "outside",
        "61 °C",
        quantity="Heat at the hottest spot",
    ),
    StationMark("charger", "Charger", "charger", "not measured"),
    StationMark("vehicle", "Vehicle", "vehicle", "not applicable"),
    StationMark("handover", "Handover", "handover", "not measured", on_path=False),
]

GRIP = [
    TrendVisit(0.0, "2023-06", 4.0, 3.9, 4.1),
    TrendVisit(1.0, "2024-06", 3.0, 2.9, 3.1),
    TrendVisit(2.0, "2025-06", 2.0, 1.95, 2.05),
]


def texts(scene: Scene) -> list[Text]:
    return [item for item in scene.items if isinstance(item, Text)]


def box(text: Text) -> tuple[float, float, float, float]:
    w = text_width(text.text, text.size)
    left = {"start": 0.0, "middle": w / 2, "end": w}[text.anchor]
    x, y = text.at
    return x - left, y - text.size * 0.6, x - left + w, y + text.size * 0.6
