"""Colors, sizes and assets, checked against published formulas and the design's floors."""

import re
from itertools import product

import pytest
from fontTools.ttLib import TTFont

from checks.errors import ChecksError
from checks.verdict import Verdict
from fieldapp import theme
from fieldapp.figures.marks import color_of
from tests.wcag import contrast_ratio

TEXT_PAIRS = [
    *product(("ink", "ink_soft", "accent"), ("ground", "surface")),
    *product(("ink", "ink_soft"), ("key",)),
    ("ink", "pressed"),
    ("ink", "accent_tint"),
    ("on_action", "action"),
    ("on_destroy", "destroy"),
    *product([color_of(v) for v in Verdict], ("ground", "surface")),
    ("within", "within_tint"),
    ("outside", "outside_tint"),
    *[(f"on_{s}", s) for s in theme.SEVERITIES],
]
LINE_PAIRS = [
    *product(("edge", "accent", "ink"), ("ground", "surface", "key")),
    *product(("within", "outside", "borderline"), ("within_tint", "outside_tint", "surface")),
]


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#FFFFFF", 21.0),  # WCAG 2.2, contrast ratio: the range is 1 to 21
        ("#FFFFFF", "#FFFFFF", 1.0),
        ("#777777", "#FFFFFF", 4.48),  # widely printed just-failing gray; from memory
        ("#767676", "#FFFFFF", 4.54),  # widely printed just-passing gray; from memory
        ("#FF0000", "#FFFFFF", 4.00),  # 1.05 / (0.2126 + 0.05), by hand from the definition
    ],
)
def test_contrast_follows_the_published_definition(one, other, ratio):
    assert contrast_ratio(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast_ratio(other, one) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("name", theme.PALETTES)
@pytest.mark.parametrize(("text", "under"), TEXT_PAIRS)
def test_text_is_legible_in_every_palette(name, text, under):
    floor = 7.0 if name == "outdoor" else 4.5  # WCAG 2.2, 1.4.6 and 1.4.3
    palette = theme.PALETTES[name]
    assert contrast_ratio(palette[text], palette[under]) >= floor


@pytest.mark.parametrize("name", theme.PALETTES)
@pytest.mark.parametrize(("line", "under"), LINE_PAIRS)
def test_lines_that_mean_something_are_seen(name, line, under):
    palette = theme.PALETTES[name]
    assert contrast_ratio(palette[line], palette[under]) >= 3.0  # WCAG 2.2, 1.4.11


def test_outdoor_body_text_and_verdicts_reach_eleven():
    palette = theme.PALETTES["outdoor"]
    for token in ("ink", "ink_soft", *(color_of(v) for v in Verdict)):
        assert contrast_ratio(palette[token], palette["surface"]) >= 11.0


def test_palettes_hold_the_same_tokens_as_plain_hex():
    day = set(theme.PALETTES["day"])
    for palette in theme.PALETTES.values():
        assert set(palette) == day
        assert all(re.fullmatch("#[0-9A-F]{6}", color) for color in palette.values())


def test_text_and_touch_sizes_keep_the_floors_of_the_design():
    assert min(theme.TYPE_SP.values()) >= 16
    assert theme.TYPE_SP["value"] >= 48
    assert theme.TOUCH_ACTION_DP >= 64


@pytest.mark.parametrize("file", theme.FONT_FILES.values())
def test_each_font_has_the_signs_of_the_trade(file):
    glyphs = TTFont(theme.asset(file)).getBestCmap()
    signs = "Ω\u2126°Δ²³µ±×·–—…→≤≥−√∞\u202f\u00a0“”‘’éèêçàùñ"
    assert not [sign for sign in signs if ord(sign) not in glyphs]


def test_a_missing_asset_is_named():
    with pytest.raises(ChecksError, match=r"fonts/none\.ttf"):
        theme.asset("fonts/none.ttf")
