"""What has every charger of a group charge at once waits until each was energised and tested.

First energised after the tests made dead, a load only after those made live: NFPA 70E practice,
common practice, no source for the group.
"""

import pytest

from checks import codes
from checks.assess import Assessment, assess
from checks.check import CircuitState
from checks.record import Panel, Visit
from fieldapp.walk.agenda import steps
from tests.builders import PANEL, entry, point, visit
from tests.unit.walk.reopened import said_to_be

HELD = {"is_managed": True, "manages": "chargers", "managed_a": "40 A"}
GROUP = ("panel.management_limit", "panel.management_fail_safe", "charger.together")
WAITS = "not before these have been energised and tested without load: "


def group(*states: str) -> Visit:
    """Three bays in these states, two at a panel that holds them, the third at another."""
    panels = tuple(Panel(id=p, name=p, is_service_equipment=False) for p in (PANEL, "panel-b"))
    bays = tuple(
        point(id=f"c{i}", name=f"Bay {i}", panel=PANEL if i < 3 else "panel-b") for i in (1, 2, 3)
    )
    said = [s for s in enumerate(states, start=1) if s[1]]
    return visit(
        points=bays,
        panels=panels,
        entries=(entry("panel.load", PANEL, 10, **HELD),),
        states=tuple(said_to_be(state, i, at=f"c{i}") for i, state in said),
    )


def shut(made: Visit, *, ready: tuple[str, ...] = ()) -> dict[str, str]:
    """Return why the group's tests are shut at Bay 1, the gates of some bays being open."""
    found = assess(made, codes.profile(made.code))
    here = steps(made, _opened(found, ready), made.points[0])
    return {s.row.check: s.shut_because for s in here if s.row.check in GROUP}


def _opened(found: Assessment, ready: tuple[str, ...]) -> Assessment:
    points = tuple(
        p.model_copy(
            update={"gates": tuple(g.model_copy(update={"is_open": True}) for g in p.gates)}
        )
        if p.point in ready
        else p
        for p in found.points
    )
    return found.model_copy(update={"points": points})


@pytest.mark.parametrize("state", ["", "dead and proved", "energised", "under load"])
def test_they_wait_for_each_bay_that_is_dead_or_was_not_tested_live(state: str) -> None:
    found = shut(group("under load", state, state))
    assert set(found) == set(GROUP)
    for check in GROUP:
        bays = "Bay 2" if check.startswith("panel") else "Bay 2, Bay 3"
        assert found[check] == f"{WAITS}{bays}"


def test_a_bay_that_is_dead_shuts_them_whatever_it_has_passed() -> None:
    assert "Bay 2" in shut(group("under load", "dead and proved"), ready=("c2",))[GROUP[0]]


@pytest.mark.parametrize("state", ["energised", "under load"])
def test_they_open_with_the_last_bay(state: str) -> None:
    """Once every bay is live and ready for a load, only the own circuit's state counts."""
    ready = ("c1", "c2", "c3")
    assert set(shut(group("under load", state, state), ready=ready).values()) == {""}
    own = shut(group("energised", state, state), ready=ready)
    assert set(own.values()) == {CircuitState.UNDER_LOAD.demand}


def test_a_bay_of_another_panel_keeps_no_group_waiting() -> None:
    found = shut(group("under load", "energised", "dead and proved"), ready=("c1", "c2"))
    assert found["panel.management_limit"] == ""
    assert found["charger.together"] == f"{WAITS}Bay 3"
