"""Gauge and trend: a value beside its limit, at one visit and over several."""

from itertools import combinations

import pytest

from fieldapp.figures.gauge import GaugeLimit, Reading, gauge
from fieldapp.figures.scene import Line, Polygon, Rect, Scene
from fieldapp.figures.trend import Course, trend_plot
from fieldapp.language import say
from tests.unit.figure_items import GRIP, box, texts


def bar(scene: Scene, verdict: str) -> Rect:
    return next(i for i in scene.items if isinstance(i, Rect) and i.fill == verdict)


def post(scene: Scene) -> float:
    return next(i.start[0] for i in scene.items if isinstance(i, Line) and i.color == "ink")


def test_a_borderline_interval_is_seen_across_its_limit():
    reading = Reading(2.9, 2.6, 3.2, "borderline")
    scene = gauge([GaugeLimit(3, "at most 3 %")], reading, 0, 6, "below", 300)
    across = bar(scene, "borderline")
    assert across.x < post(scene) < across.x + across.w


@pytest.mark.parametrize(
    ("value", "side", "verdict", "is_left"),
    [(2, "below", "within", True), (5, "below", "outside", False), (5, "above", "within", False)],
)
def test_a_clear_reading_lies_on_its_side_of_the_limit(value, side, verdict, is_left):
    reading = Reading(value, value - 0.2, value + 0.2, verdict)
    scene = gauge([GaugeLimit(3, "3 %")], reading, 0, 6, side, 300)
    clear = bar(scene, verdict)
    assert (clear.x + clear.w < post(scene)) == is_left


@pytest.mark.parametrize(
    ("side", "limits", "bad_spans"),
    [
        ("below", [3.0], [(150, 298)]),
        ("above", [3.0], [(2, 150)]),
        ("between", [2.0, 4.0], [(2, 101), (199, 298)]),
    ],
)
def test_the_bad_side_is_hatched(side, limits, bad_spans):
    scene = gauge([GaugeLimit(v, f"{v:g}") for v in limits], None, 0, 6, side, 300)
    strokes = [i for i in scene.items if isinstance(i, Line) and i.color == "outside"]
    assert strokes
    for stroke in strokes:
        xs = sorted((stroke.start[0], stroke.end[0]))
        assert any(left <= xs[0] and xs[1] <= right for left, right in bad_spans)


@pytest.mark.parametrize(("value", "x"), [(9, 300.0), (-2, 0.0)])
def test_a_reading_off_the_scale_is_an_arrow_at_that_end(value, x):
    reading = Reading(value, value - 0.1, value + 0.1, "outside")
    scene = gauge([GaugeLimit(3, "3")], reading, 0, 6, "below", 300)
    arrow = next(i for i in scene.items if isinstance(i, Polygon) and i.fill == "outside")
    assert arrow.points[0][0] == x


def test_a_limit_below_zero_has_a_true_minus_and_a_word_keeps_its_hyphen():
    scene = gauge([GaugeLimit(-3, "at most -3 % of no-load")], None, -6, 0, "below", 300)
    assert [say(t.text) for t in texts(scene)] == ["at most \N{MINUS SIGN}3 % of no-load"]


@pytest.mark.parametrize("text_scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("course", [None, Course(4, 2), Course(4, 2, 2.9, "2026-04")])
def test_words_of_a_trend_stay_inside_and_apart(course, text_scale):
    limit = GaugeLimit(1.1, "at least 1.112 N")
    scene = trend_plot(GRIP, limit, "above", "N", course, 300, text_scale=text_scale)
    boxes = [box(text) for text in texts(scene)]
    assert all(x0 >= -1e-9 and x1 <= 300 + 1e-9 for x0, _, x1, _ in boxes)
    assert all(y0 >= -1e-9 and y1 <= scene.height for _, y0, _, y1 in boxes)
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_trend_shows_each_interval_and_meets_its_limit_where_the_dashes_do():
    limit = GaugeLimit(1.1, "at least 1.1 N")
    scene = trend_plot(GRIP, limit, "above", "N", Course(4, 2, 2.9, "2026-04"), 328)
    bars = [i for i in scene.items if isinstance(i, Rect) and i.fill == "ink_soft"]
    heights = [b.h for b in bars]
    assert heights[0] == pytest.approx(heights[1])  # 0.2 N each, and the last half of that
    assert heights[0] == pytest.approx(2 * heights[2])
    course = [i for i in scene.items if isinstance(i, Line) and i.color == "accent"]
    across = [i for i in scene.items if isinstance(i, Line) and i.color == "outside"]
    farthest = max(course, key=lambda line: line.end[0])
    assert farthest.end[1] == pytest.approx(across[0].start[1])
    assert course[0].end[1] > course[0].start[1]  # it falls, and the page counts downward
