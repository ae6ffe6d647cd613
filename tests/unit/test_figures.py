"""Figures as geometry: what a reader must be able to see, checked without a screen."""

from itertools import combinations, pairwise
from math import hypot

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from checks.errors import ChecksError
from checks.record import Mark, MarkShape
from checks.verdict import Verdict, VoltageStep
from fieldapp import theme
from fieldapp.figures.gauge import GaugeLimit, Reading, gauge
from fieldapp.figures.icons import ICONS, icon
from fieldapp.figures.marks import severity_mark, verdict_mark
from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.photo_marks import photo_marks
from fieldapp.figures.scene import (
    Circle,
    Item,
    Line,
    Polygon,
    Polyline,
    Rect,
    Scene,
    Text,
    cut,
    line_count,
    text_width,
    wrapped,
)
from fieldapp.figures.signature import SIGNATURE_ASPECT, signature
from fieldapp.figures.staircase import Step, VoltLimit, staircase, stairs
from fieldapp.figures.symbols import SYMBOLS
from fieldapp.figures.ticks import nice_ticks
from fieldapp.figures.trend import Course, TrendVisit, trend_plot
from fieldapp.language import say
from tests.wcag import contrast_ratio

MAIN_DP = 56.0  # of a main target under a glove: common practice, no source
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


def colors(scene: Scene) -> set[str]:
    found: set[str | None] = set()
    for item in scene.items:
        found |= {getattr(item, name, None) for name in ("color", "fill", "stroke")}
    return {color for color in found if color}


def geometry(scene: Scene) -> tuple[object, ...]:
    """The items without their colors."""

    def bare(item: Item) -> tuple[object, ...]:
        fields = {k: v for k, v in item._asdict().items() if k not in ("color", "fill", "stroke")}
        fields["filled"] = bool(getattr(item, "fill", None))
        return (type(item).__name__, *sorted(fields.items()))

    return tuple(bare(item) for item in scene.items)


def test_the_five_verdicts_are_told_apart_without_color():
    shapes = [geometry(verdict_mark(word)) for word in Verdict]
    assert all(a != b for a, b in combinations(shapes, 2))


def test_the_four_severities_are_told_apart_without_color():
    shapes = [geometry(severity_mark(word)) for word in theme.SEVERITIES]
    assert all(a != b for a, b in combinations(shapes, 2))


def test_an_unknown_word_gets_no_mark():
    with pytest.raises(ChecksError, match="no verdict"):
        verdict_mark("fine")
    with pytest.raises(ChecksError, match="no severity"):
        severity_mark("within")


def test_every_color_of_every_figure_is_a_token_of_the_theme():
    scenes = [
        *map(verdict_mark, Verdict),
        *map(severity_mark, theme.SEVERITIES),
        *map(icon, ICONS),
        *[one_line([StationMark("a", "A", name, "within")], 300) for name in SYMBOLS],
        one_line(PATH, 328, current="outlet"),
        one_line(PATH, 900, "horizontal", current="outlet"),
        staircase([Step("A", 240, 236)], [VoltLimit("limit", 232.8)]),
        gauge([GaugeLimit(3, "3 %")], Reading(2, 1.8, 2.2, "within"), 0, 6, "below"),
        trend_plot(GRIP, GaugeLimit(1.1, "at least 1.1 N"), "above", "N", Course(4, 2, 2.9)),
        signature([[(0.1, 0.1), (0.2, 0.2)], [(0.5, 0.2)]]),
    ]
    used = set().union(*map(colors, scenes))
    assert used <= set(theme.PALETTES["day"])


FONT = TTFont(theme.asset(theme.FONT_FILES["semibold"]))


@given(
    st.text(
        alphabet=[chr(c) for c in range(32, 127)] + list("Ω°Δ²±×–→≤≥−éèàâçîïñóúÉÀÑœ«»¿¡’"),
        max_size=40,
    )
)
def test_measured_width_is_never_less_than_the_font_sets(text):
    glyphs, advances = FONT.getBestCmap(), FONT["hmtx"]
    exact = sum(advances[glyphs[ord(c)]][0] for c in text) / FONT["head"].unitsPerEm
    assert text_width(text, 1.0) >= exact - 1e-9


@given(st.text(max_size=60), st.floats(20, 400))
def test_wrapping_keeps_every_letter_and_the_width(text, width):
    lines = wrapped(text, 16, width)
    assert "".join("".join(lines).split()) == "".join(say(text).split())
    assert all(text_width(line, 16) <= width or len(line) == 1 for line in lines)
    assert line_count(text, 16, width) == len(lines)


@given(
    st.floats(-1e6, 1e6, allow_nan=False),
    st.floats(1e-3, 1e6),
    st.integers(2, 10),
)
def test_ticks_cover_the_span_in_round_steps(lo, span, about):
    ticks = nice_ticks(lo, lo + span, about)
    steps = [b - a for a, b in pairwise(ticks)]
    assert ticks[0] <= lo + span * 1e-6
    assert ticks[-1] >= lo + span * (1 - 1e-6)
    assert len(ticks) <= about + 2
    assert steps == pytest.approx([steps[0]] * len(steps), rel=1e-3)
    assert f"{steps[0]:.0e}"[0] in "125"


@pytest.mark.parametrize(
    ("lo", "hi", "expected"),
    [(232, 241, [232, 234, 236, 238, 240, 242]), (0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1.0])],
)  # 1-2-5 series, by hand
def test_ticks_by_hand(lo, hi, expected):
    assert nice_ticks(lo, hi) == pytest.approx(expected)


LAID_OUT = [(328, "vertical"), (640, "folded"), (848, "folded"), (900, "horizontal")]


@pytest.mark.parametrize(("width", "orientation"), LAID_OUT)
@pytest.mark.parametrize("text_scale", [1.0, 1.5, 2.0])
def test_each_station_can_be_touched_and_boxes_do_not_overlap(width, orientation, text_scale):
    scene = one_line(PATH, width, orientation, text_scale=text_scale)
    assert [hit.key for hit in scene.hits] == [station.key for station in PATH]
    assert all(min(hit.w, hit.h) >= MAIN_DP for hit in scene.hits)
    for a, b in combinations(scene.hits, 2):
        middle = (b.x + b.w / 2, b.y + b.h / 2)
        assert not a.holds(middle)


@pytest.mark.parametrize(("width", "orientation"), [(300, "vertical"), *LAID_OUT[1:]])
@pytest.mark.parametrize("text_scale", [1.0, 1.3, 2.0])
def test_words_of_the_diagram_stay_inside_and_apart(width, orientation, text_scale):
    scene = one_line(PATH, width, orientation, text_scale=text_scale)
    boxes = [box(text) for text in texts(scene)]
    assert all(x0 >= 0 and x1 <= width for x0, _, x1, _ in boxes)
    assert all(y0 >= 0 and y1 <= scene.height for _, y0, _, y1 in boxes)
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def box(text: Text) -> tuple[float, float, float, float]:
    w = text_width(text.text, text.size)
    left = {"start": 0.0, "middle": w / 2, "end": w}[text.anchor]
    x, y = text.at
    return x - left, y - text.size * 0.6, x - left + w, y + text.size * 0.6


def test_the_conductor_is_dashed_below_what_was_not_measured():
    def strokes(verdict: str) -> int:
        pair = [PATH[0], StationMark("b", "B", "panel", "within")]
        pair[0] = StationMark("a", "A", "service", verdict)
        return sum(isinstance(i, Line) and i.color == "accent" for i in one_line(pair, 328).items)

    assert strokes("within") == strokes("outside") == 1
    assert strokes("not measured") > 2


def test_the_folded_path_is_one_conductor_and_as_high_as_a_phone_on_its_side_has_room():
    """Of 392 dp, the header takes 70 and the keys 74."""
    scene = one_line(PATH, 824, "folded")
    assert scene.height <= 392 - 70 - 74
    lines = [i for i in scene.items if isinstance(i, Line)]
    end = lines[0].start
    for line in lines:
        if hypot(line.start[0] - end[0], line.start[1] - end[1]) > 13:
            break  # longer than between two dashes: not the trunk any more
        end = line.end
    vehicle = next(hit for hit in scene.hits if hit.key == "vehicle")
    assert vehicle.holds(end)
    assert len({hit.x for hit in scene.hits}) == 3


def test_what_stands_beside_the_path_is_not_on_the_conductor():
    path = [*PATH[:2], PATH[-1]]
    ends = [i.end[1] for i in one_line(path, 328).items if isinstance(i, Line) and i.width == 4.0]
    handover = one_line(path, 328).hits[-1]
    assert max(ends) < handover.y


def test_reading_and_verdict_word_of_every_station_are_shown():
    shown = {text.text for text in texts(one_line(PATH, 328))}
    assert {"241.8 V", "0.02 Ω", "61 °C", "within", "borderline", "outside"} <= shown


@pytest.mark.parametrize(("width", "orientation"), LAID_OUT)
def test_what_a_bare_number_is_stands_beside_it(width, orientation):
    shown = {text.text: text.at for text in texts(one_line(PATH, width, orientation))}
    (x, y), (of_x, of_y) = shown["0.02 Ω"], shown["Bond"]
    assert x == of_x
    assert 0 < of_y - y <= 40


def test_a_phone_of_360_dp_shows_four_stations_where_460_dp_are_left():
    """Of 640 dp the header takes 98 and the keys 82; what is said of the path and gaps 140."""
    tops = [hit.y for hit in one_line(PATH, 336).hits]
    assert tops[4] <= 640 - 98 - 82 - 140


def test_an_unknown_symbol_is_refused():
    with pytest.raises(ChecksError, match="no symbol 'coil'"):
        one_line([StationMark("a", "A", "coil", "within")], 300)


def test_the_staircase_goes_down_with_the_volts():
    steps = [Step("Panel", 241.8, 240.1), Step("Outlet", 241.6, 234.9), Step("Charger", None, 234)]
    loaded = next(
        i for i in staircase(steps).items if isinstance(i, Polyline) and i.color == "accent"
    )
    treads = [x for x, _ in loaded.points[::3]]
    assert treads == sorted(treads, reverse=True)
    widths = [a - b for a, b in pairwise(treads)]
    assert widths[0] / widths[1] == pytest.approx((240.1 - 234.9) / (234.9 - 234))


def test_a_station_without_volts_breaks_the_staircase_and_says_so():
    steps = [Step("Panel", 241.8, 240.1), Step("Outlet", None, None), Step("Charger", 241, 234)]
    scene = staircase(steps)
    flights = [i for i in scene.items if isinstance(i, Polyline) and i.color == "accent"]
    assert len(flights) == 2
    assert "not measured" in [text.text for text in texts(scene)]


def test_the_staircase_shows_what_metal_alone_would_leave():
    read = [
        VoltageStep(label="Panel", no_load_v="243.0", loaded_v="242.0", metal_v="242.0"),
        VoltageStep(label="Outlet", no_load_v="243.0", loaded_v="233.5", metal_v="237.8"),
    ]
    scene = stairs(read, 328)
    assert scene is not None
    words = [text.text for text in texts(scene)]
    assert words.count("metal alone") == 1  # in the legend
    assert [w for w in words if w.startswith("metal alone ")] == ["metal alone 237.8 V"]
    heavy = next(i for i in scene.items if isinstance(i, Polyline) and i.color == "accent")
    posts = {i.start[0] for i in scene.items if isinstance(i, Line) and i.color == "ink"}
    panel_x, outlet_x = heavy.points[0][0], heavy.points[-1][0]
    inside = [x for x in posts if outlet_x < x < panel_x]
    # 237.8 lies 4.3 V of 8.5 V from the outlet's 233.5 to the panel's 242.0
    assert [(x - outlet_x) / (panel_x - outlet_x) for x in inside] == [
        pytest.approx(4.3 / 8.5, abs=0.001)
    ]


def test_without_metal_the_staircase_does_not_speak_of_it():
    scene = stairs([VoltageStep(label="Outlet", no_load_v="243.0", loaded_v="233.5")], 328)
    assert scene is not None
    assert not any("metal" in text.text for text in texts(scene))
    assert stairs([VoltageStep(label="Outlet")], 328) is None


def test_volts_that_were_read_in_one_state_only_say_in_which():
    steps = [
        VoltageStep(label="Service", no_load_v="229.4"),
        VoltageStep(label="Outlet", loaded_v="219.2"),
    ]
    scene = stairs(steps, 328)
    assert scene is not None
    said = {text.text for text in texts(scene)}
    assert {"229.4 V, no load", "219.2 V, under load"} <= said


@pytest.mark.parametrize("text_scale", [1.0, 1.5, 2.0])
def test_words_of_the_staircase_stay_inside(text_scale):
    steps = [
        Step("Receptacle, north garage, left bay", 241.8, 240.1, 240.8),
        Step("Charger", 241, 234.2, 237.3),
    ]
    limits = [VoltLimit("recommended least at the outlet", 232.8)]
    scene = staircase(steps, limits, 300, text_scale=text_scale)
    boxes = [box(text) for text in texts(scene)]
    assert all(x0 >= -0.01 and x1 <= 300.01 and y1 <= scene.height for x0, _, x1, y1 in boxes)
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("steps", [[], [Step("Panel", None, None)]])
def test_a_staircase_of_nothing_says_what_is_missing(steps):
    assert [text.text for text in texts(staircase(steps))] == ["No voltage measured yet"]


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


def test_a_signature_keeps_its_strokes_inside_its_box():
    strokes = [[(0.0, 0.0), (0.5, 0.4), (1.0, 0.1), (0.9, SIGNATURE_ASPECT)], [(0.3, 0.2)]]
    scene = signature(strokes)
    assert [type(item) for item in scene.items] == [Polyline, Circle]
    line = scene.items[0]
    assert line.points[0] == (0.0, 0.0)
    assert line.points[-1] == pytest.approx((90.0, scene.height))
    assert all(0 <= x <= scene.width and 0 <= y <= scene.height for x, y in line.points)


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


def test_a_mark_lies_where_it_points_whatever_the_size_of_the_picture():
    # by hand: a quarter from the left of 400 is 100; the rim is 0.1 of the width, 40, from there
    circle = Mark(shape=MarkShape.CIRCLE, x=2500, y=5000, from_x=3500, from_y=5000)
    for width in (400, 800):
        drawn = photo_marks([circle], width, width * 0.75)
        assert {(c.center[0] / width, c.center[1] / width) for c in drawn.items} == {(0.25, 0.5)}
        assert [c.radius / width for c in drawn.items] == pytest.approx([0.1, 0.1])
    pointed = circle.model_copy(update={"shape": MarkShape.ARROW})
    arrow = photo_marks([pointed], 400, 300)
    shafts = [item for item in arrow.items if hasattr(item, "end")]
    assert {(s.end, s.start) for s in shafts} == {((100, 200), (140, 200))}
    assert photo_marks([circle, pointed], 400, 300).items == (
        *photo_marks([circle], 400, 300).items,
        *arrow.items,
    )
    assert photo_marks([], 400, 300).items == ()


def test_a_mark_is_seen_on_any_picture():
    # WCAG 2.2, 1.4.11: of white and black, one always stands out by more than 3
    pair = [theme.PALETTES["day"][token] for token in ("mark", "mark_halo")]
    for gray in range(256):
        under = f"#{gray:02x}{gray:02x}{gray:02x}"
        assert max(contrast_ratio(color, under) for color in pair) >= 4.5


def test_a_long_name_ends_in_an_ellipsis_on_its_last_line_and_a_short_one_is_whole() -> None:
    name = "Receptacle against circuit and branch conductors of the garage"
    short = cut(name, 16, 150, 2)
    assert len(wrapped(short, 16, 150)) == 2
    assert short.endswith("…")
    assert name.startswith(short.removesuffix("…"))
    assert cut(name, 16, 1000, 2) == name
