"""The heating curve as geometry: what a reader must be able to see, checked without a screen."""

from itertools import combinations

import pytest

from checks.verdict import HeatEnd, HeatingCurve, HeatLine, HeatPoint
from fieldapp import theme
from fieldapp.figures.heating import heating
from fieldapp.figures.scene import Circle, Line, Polygon, Rect, Scene, Text, text_width
from fieldapp.language import say

LINES = (
    HeatLine(label="air", value="22"),
    HeatLine(label="limit, 20 K over air", value="42"),
    HeatLine(label="stop", value="60", is_stop=True),
)


def points(*values: float) -> tuple[HeatPoint, ...]:
    return tuple(HeatPoint(minute=str(2 * i), value=str(v)) for i, v in enumerate(values))


def curve(high: str = "36", *, left_out: int | None = None, unit: str = "°C") -> HeatingCurve:
    """Five readings up to minute 8, and a curve that goes on to minute 20."""
    readings = points(22.0, 26.0, 28.0, 29.0, 30.0)
    if left_out is not None:
        odd = readings[left_out].model_copy(update={"is_left_out": True})
        readings = (*readings[:left_out], odd, *readings[left_out + 1 :])
    return HeatingCurve(
        unit=unit,
        says="so far",
        readings=readings,
        like=points(22.0, 25.0, 27.0),
        curve=points(22.0, 26.0, 28.0, 29.0, 30.0, 30.5, 31.0, 31.4, 31.7, 31.9, 32.0),
        ends=(
            HeatEnd(label="32 A", low="30", value="32", high=high),
            HeatEnd(label="40 A", low="34", value="37", high=high and "46"),
        ),
        lines=LINES,
    )


def of(kind: type, scene: Scene) -> list:
    return [item for item in scene.items if isinstance(item, kind)]


def y_at(scene: Scene, label: str) -> float:
    """Height of a line that is held against, by its color and width."""
    drawn = {"stop": ("outside", 3.2), "limit": ("outside", 2.6), "air": ("edge", 1.6)}[label]
    plot = [i for i in of(Line, scene) if (i.color, i.width) == drawn]
    return plot[0].start[1]


def test_readings_like_part_and_what_was_left_out_are_told_apart_without_color():
    scene = heating(curve(left_out=2))
    dots = of(Circle, scene)
    filled = [d for d in dots if d.stroke is None]
    rings = [d for d in dots if d.stroke is not None]
    crosses = [i for i in of(Line, scene) if i.color == "borderline"]
    assert len(filled) == 4 + 1  # and its sample in the legend
    assert len(rings) == 3 + 1
    assert len(crosses) == 2


def test_hotter_is_higher_and_the_stop_is_above_the_limit_above_the_air():
    scene = heating(curve())
    assert y_at(scene, "stop") < y_at(scene, "limit") < y_at(scene, "air")
    heights = [d.center[1] for d in of(Circle, scene) if d.stroke is None][:5]
    assert heights == sorted(heights, reverse=True)


def test_a_closed_end_is_a_bar_between_its_bounds():
    scene = heating(curve())
    bars = [r for r in of(Rect, scene) if r.fill == "accent"][:2]
    px_per_k = (y_at(scene, "air") - y_at(scene, "limit")) / 20
    assert bars[0].h == pytest.approx(6 * px_per_k)  # 30 to 36
    assert bars[1].h == pytest.approx(12 * px_per_k)  # 34 to 46
    assert not [p for p in of(Polygon, scene) if p.fill == "accent"]


def test_an_open_end_is_an_arrow_out_of_the_plot_and_says_so():
    scene = heating(curve(high=""))
    arrows = [p for p in of(Polygon, scene) if p.fill == "accent"]
    assert len(arrows) == 2
    assert min(y for _, y in arrows[0].points) < y_at(scene, "stop")
    assert "still open" in " ".join(t.text for t in of(Text, scene))


def test_the_band_opens_from_the_last_reading():
    scene = heating(curve())
    *band, sample = [p for p in of(Polygon, scene) if p.fill == "accent_tint"]
    assert len(sample.points) == 3  # in the legend, which says what it is
    assert "what may follow" in [t.text for t in of(Text, scene)]
    last = [d.center for d in of(Circle, scene) if d.stroke is None][4]
    assert min(x for p in band for x, _ in p.points) == pytest.approx(last[0])
    heights = [max(y for _, y in p.points) - min(y for _, y in p.points) for p in band]
    assert heights == sorted(heights)


def test_every_color_is_a_token_of_the_theme():
    scene = heating(curve(left_out=1))
    used = {getattr(i, n, None) for i in scene.items for n in ("color", "fill", "stroke")}
    assert used - {None} <= set(theme.PALETTES["day"])


@pytest.mark.parametrize("text_scale", [1.0, 1.3, 2.0])
@pytest.mark.parametrize("width", [300.0, 500.0])
@pytest.mark.parametrize("made", [curve(), curve(high=""), curve(unit="°F")])
def test_words_stay_inside_and_apart(made: HeatingCurve, width: float, text_scale: float):
    scene = heating(made, width, text_scale=text_scale)
    boxes = [_box(text) for text in of(Text, scene)]
    assert all(x0 >= -0.01 and x1 <= width + 0.01 and y1 <= scene.height for x0, _, x1, y1 in boxes)
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (a, b)


def _box(text: Text) -> tuple[float, float, float, float]:
    width = text_width(text.text, text.size)
    left = text.at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    return left, text.at[1] - text.size / 2, left + width, text.at[1] + text.size / 2


def test_one_reading_alone_and_no_fit_are_drawn_too():
    bare = HeatingCurve(unit="°C", says="", readings=points(23.0), lines=LINES)
    scene = heating(bare)
    assert scene.height > 0
    assert not [p for p in of(Polygon, scene)]


def test_degrees_below_zero_have_a_true_minus():
    winter = curve().model_copy(update={"readings": points(-8.0, -4.0), "like": ()})
    cold = winter.model_copy(update={"lines": (HeatLine(label="air", value="-8"),)})
    words = [say(text.text) for text in of(Text, heating(cold))]
    assert "air: \N{MINUS SIGN}8 °C" in words
    assert not [w for w in words if w.startswith("-")]
