"""Names of charging points, and of panels, are their own in a visit. The rule is our own."""

import pytest

from checks.record import Panel
from fieldapp.walk import forms
from fieldapp.walk.visit import Walk
from tests.builders import PANEL, POINT, point
from tests.unit.walk.reopened import Walks
from tests.unit.walk.test_desk import POINT as OTHER
from tests.unit.walk.test_desk import desk, fill

TWO_PANELS = (Panel(id=PANEL, name="Panel A"), Panel(id="panel-b", name="Panel B"))
BAYS = (point(), point(id="bay-2", name="Bay 2"))
BAY = {**OTHER, "name": "Bay 1"}
TWINS = (point(), point(id="bay-2"))


def names(walk: Walk) -> list[str]:
    return [p.name for p in walk.visit.points]


@pytest.mark.parametrize("name", ["Bay 1", " bay  1"])
def test_a_point_is_not_corrected_to_the_name_of_another(walks: Walks, name: str):
    w = walks(points=BAYS)
    w.refused(lambda walk: walk.correct("name@bay-2", name), "two charging points would be called")
    w.do(lambda walk: walk.correct("name@bay-2", "Bay 3"))
    w.do(lambda walk: walk.correct("name@bay-2", "bay 3"))  # its own, spelled otherwise
    assert names(w.walk) == ["Bay 1", "bay 3"]


def test_a_panel_is_not_corrected_to_the_name_of_another(walks: Walks):
    w = walks(panels=TWO_PANELS)
    w.refused(lambda walk: walk.correct("panel@panel-b", "panel a"), "two panels would be called")
    w.do(lambda walk: walk.correct("panel@panel-b", "Bay 1"))  # a panel and a point are no twins


@pytest.mark.parametrize(
    ("form", "name"), [(forms.POINT, "BAY 1"), (forms.PANEL, "Panel  a"), (forms.POINT, "bay 2")]
)
def test_what_is_added_has_a_name_that_no_other_has(walks: Walks, form, name: str):
    w = walks(points=BAYS, panels=TWO_PANELS)
    w.refused(lambda walk: walk.require_free_name(form.id, name), "Give each a name of its own")
    w.do(lambda walk: walk.require_free_name(form.id, "Bay 7"))


def test_a_copy_gets_a_name_that_nothing_has_however_it_is_spelled(walks: Walks):
    w = walks(points=(point(name="Garage"), point(id="bay-2", name="garage  2")))
    w.do(lambda walk: walk.copy_point(POINT))
    assert names(w.walk) == ["Garage", "garage  2", "Garage 3"]


def added(w, form, said: dict[str, str]) -> None:
    """What is added by its form, filled in whole."""
    fill(w.store, form, said)
    made = desk(w.store).form(form).entry
    w.do(lambda x: x.add_point(made, PANEL) if form is forms.POINT else x.add_panel(made))


def test_what_comes_back_leaves_its_name_to_what_has_it_by_now(walks: Walks):
    w = walks(points=BAYS, panels=TWO_PANELS)
    w.do(lambda walk: walk.take_away("bay-2", earlier=()))
    w.do(lambda walk: walk.take_away("panel-b", earlier=()))
    added(w, forms.POINT, {**BAY, "name": "bay 2"})
    added(w, forms.PANEL, {"name": "Panel B", "is_service": "no"})
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.undo())
    assert names(w.walk) == ["Bay 1", "Bay 3", "bay 2"]
    assert [p.name for p in w.walk.visit.panels] == ["Panel A", "Panel B 2", "Panel B"]


@pytest.mark.parametrize(
    ("form", "said"),
    [(forms.POINT, BAY), (forms.PANEL, {"name": "Panel A", "is_service": "no"})],
)
def test_no_twin_is_added_whatever_a_form_holds(walks: Walks, form, said: dict[str, str]):
    w = walks()
    fill(w.store, form, said)
    made = desk(w.store).form(form).entry
    w.refused(
        lambda x: x.add_point(made, PANEL) if form is forms.POINT else x.add_panel(made),
        "would be called so",
    )


def test_a_correction_is_not_undone_into_the_name_of_what_was_added_since(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.correct(f"name@{POINT}", "Bay 9"))
    added(w, forms.POINT, BAY)
    w.refused(lambda walk: walk.undo(), "two charging points would be called so")


def test_a_record_that_came_with_twins_is_gone_on_with_and_set_right(walks: Walks):
    w = walks(points=TWINS)
    w.do(lambda walk: walk.correct("permit@site", "P-0000"))
    w.do(lambda walk: walk.correct("name@bay-2", "Bay 2"))
    w.refused(lambda walk: walk.correct("name@bay-2", "Bay 1"), "two charging points")
