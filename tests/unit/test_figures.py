"""Figures as geometry, checked without a screen: marks, colors, words, ticks, signature, photos."""

from itertools import combinations, pairwise

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from checks.errors import ChecksError
from checks.record import Mark, MarkShape
from checks.verdict import Verdict
from fieldapp import theme
from fieldapp.figures.gauge import GaugeLimit, Reading, gauge
from fieldapp.figures.icons import ICONS, icon
from fieldapp.figures.marks import severity_mark, verdict_mark
from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.photo_marks import photo_marks
from fieldapp.figures.scene import (
    Circle,
    Item,
    Polyline,
    Scene,
    cut,
    line_count,
    text_width,
    wrapped,
)
from fieldapp.figures.signature import SIGNATURE_ASPECT, signature
from fieldapp.figures.staircase import Step, VoltLimit, staircase
from fieldapp.figures.symbols import SYMBOLS
from fieldapp.figures.ticks import nice_ticks
from fieldapp.figures.trend import Course, trend_plot
from fieldapp.language import say
from tests.unit.figure_items import GRIP, PATH
from tests.wcag import contrast_ratio


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


def test_a_signature_keeps_its_strokes_inside_its_box():
    strokes = [[(0.0, 0.0), (0.5, 0.4), (1.0, 0.1), (0.9, SIGNATURE_ASPECT)], [(0.3, 0.2)]]
    scene = signature(strokes)
    assert [type(item) for item in scene.items] == [Polyline, Circle]
    line = scene.items[0]
    assert line.points[0] == (0.0, 0.0)
    assert line.points[-1] == pytest.approx((90.0, scene.height))
    assert all(0 <= x <= scene.width and 0 <= y <= scene.height for x, y in line.points)


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


@pytest.mark.parametrize("text", ["Ohmmeter, 200 mA", "Reads 5.0 ± 0.1 V here", "Bay 2 · Panel A"])
def test_no_line_ends_between_a_number_and_its_unit_where_they_fit_a_line(text: str) -> None:
    """Typesetting of quantities: common practice, no source."""
    for width in range(20, 300):
        lines = wrapped(text, 18.0, float(width))
        assert line_count(text, 18.0, float(width)) == len(lines)
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")
        for held_together in ("200 mA", "5.0 ± 0.1 V", "2 ·"):
            if held_together in text and text_width(held_together, 18.0) <= width:
                assert any(held_together in line for line in lines)
