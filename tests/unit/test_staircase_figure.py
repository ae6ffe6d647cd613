"""The voltage staircase: down with the volts, and what is missing said."""

from itertools import combinations, pairwise

import pytest

from checks.verdict import VoltageStep
from fieldapp.figures.scene import Line, Polyline
from fieldapp.figures.staircase import Step, VoltLimit, staircase, stairs
from tests.unit.figure_items import box, texts


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
