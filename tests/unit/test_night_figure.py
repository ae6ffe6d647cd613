"""The night's sharing plan as geometry: what a reader must be able to see, without a screen."""

from itertools import combinations, pairwise

import pytest

from checks.assess import NightPlan
from fieldapp.figures.night import night_scene
from fieldapp.figures.scene import Line, Rect, Scene, Text, text_width
from tests.unit.test_night import garage, planned

STEPS = planned(garage("16 A", "32 A", "48 A", "48 A", device_a="100 A", set_a="80 A"))
TURNS = planned(garage(*["32 A"] * 6, set_a="16 A"))


def of(kind: type, scene: Scene) -> list:
    return [item for item in scene.items if isinstance(item, kind)]


def words(scene: Scene) -> str:
    return " ".join(t.text for t in of(Text, scene))


def box(text: Text) -> tuple[float, float, float, float]:
    width, half = text_width(text.text, text.size), text.size * 0.4
    x = text.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return x, text.at[1] - half, x + width, text.at[1] + half


def test_each_charger_is_named_with_its_amps_its_energy_and_its_hours():
    said = words(night_scene(STEPS))
    for text in ("Bay 1", "up to 16 A: 30 kWh after 9.0 h", "Bay 2, Bay 3, Bay 4"):
        assert text in said
    assert "up to 21.3 A each: 30 kWh after 6.7 h" in said
    assert "All together up to 80 A" in said
    assert "limit as set: 80 A for all together" in said
    assert "0 h" in said


def test_the_steps_are_as_wide_as_their_hours_and_as_high_as_their_amps():
    scene = night_scene(STEPS)
    first, others, full, rest = of(Rect, scene)  # a step without current has no area
    assert first.w / others.w == pytest.approx(8.980 / 6.735, abs=0.001)
    assert first.h / others.h == pytest.approx(16 / 21.333, abs=0.001)
    assert full.h / rest.h == pytest.approx(80 / 16)
    assert rest.x == pytest.approx(full.x + full.w)


def test_the_limit_is_a_dashed_line_that_no_step_rises_above():
    scene = night_scene(STEPS)
    limit = [i for i in of(Line, scene) if i.color == "outside" and i.start[1] == i.end[1]]
    tops = {i.start[1] for i in limit[:-2]}
    (y,) = {i.start[1] for i in limit if i.end[0] > 100}  # but its sample in the legend
    assert y in tops
    assert of(Rect, scene)[2].y == pytest.approx(y)  # all together, at the limit


def test_no_current_leaves_a_gap_and_not_only_another_color():
    first = [r for r in of(Rect, night_scene(TURNS)) if r.h > 0][:4]
    starts = [r.x for r in first]
    assert starts == sorted(starts)
    assert all(a.x + a.w < b.x for a, b in pairwise(first))


@pytest.mark.parametrize("plan", [STEPS, TURNS])
@pytest.mark.parametrize(("width", "text_scale"), [(290.0, 1.0), (290.0, 2.0), (760.0, 1.3)])
def test_no_text_leaves_the_figure_or_lies_over_another(
    plan: NightPlan, width: float, text_scale: float
):
    scene = night_scene(plan, width, text_scale=text_scale)
    boxes = [(t.text, box(t)) for t in of(Text, scene)]
    for text, (x0, y0, x1, y1) in boxes:
        assert x0 >= -0.5, text
        assert y0 >= -0.5, text
        assert x1 <= scene.width + 0.5, text
        assert y1 <= scene.height + 0.5, text
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, (one, other)
