"""The path as a diagram: touched, read and followed without a scroll."""

from itertools import combinations
from math import hypot

import pytest

from checks.errors import ChecksError
from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.scene import Line
from tests.unit.figure_items import PATH, box, texts

MAIN_DP = 56.0  # of a main target under a glove: common practice, no source


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
