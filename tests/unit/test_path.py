"""The path of the current, derived from what is installed."""

import pytest

from checks.path import BESIDE, Scope, Station, path, subject, subjects, title
from checks.record import ChargerForm, ChargingPoint, Coupler, Panel
from tests.builders import PANEL, POINT, hard_wired, level_1, point, visit

TO_THE_CONNECTOR = ["service", "panel", "breaker", "run", "outlet", "charger", "connector"]


@pytest.mark.parametrize(
    ("connector", "inlet", "beyond"),
    [
        (Coupler.TYPE_1, Coupler.TYPE_1, ["vehicle"]),
        (Coupler.TYPE_1, Coupler.J3400, ["adapter", "vehicle"]),
        (Coupler.J3400, Coupler.TYPE_1, ["adapter", "vehicle"]),
        (Coupler.J3400, None, []),
    ],
)
def test_an_adapter_stands_only_between_two_that_differ(
    connector: Coupler, inlet: Coupler | None, beyond: list[str]
):
    assert list(path(point(connector=connector, inlet=inlet))) == [*TO_THE_CONNECTOR, *beyond]


@pytest.mark.parametrize(
    ("made", "outlet", "charger"),
    [
        (point(), "Receptacle", "Charger"),
        (hard_wired(), "Outlet, hard-wired", "Charger"),
        (level_1(), "Receptacle", "Charger in the cord"),
        (level_1(charger_form=ChargerForm.FIXED), "Receptacle", "Charger"),
    ],
)
def test_stations_are_called_by_what_is_installed(made: ChargingPoint, outlet: str, charger: str):
    assert title(Station.OUTLET, made) == outlet
    assert title(Station.CHARGER, made) == charger
    assert title(Station.RUN, made) == title(Station.RUN) == "Run"


def test_points_share_their_service_and_panel():
    second = point(id="bay-2", panel="panel-b", inlet=None)
    made = visit(
        panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")),
        points=(point(), second),
    )
    assert subject(Station.SERVICE, second) == subject(Station.HANDOVER, second) == "site"
    assert subject(Station.PANEL, second) == "panel-b"
    assert subject(Station.OUTLET, second) == "bay-2"
    assert subjects(Station.SERVICE, made) == ("site",)
    assert subjects(Station.PANEL, made) == (PANEL, "panel-b")
    assert subjects(Station.OUTLET, made) == (POINT, "bay-2")
    assert subjects(Station.SURROUNDINGS, made) == (POINT, "bay-2")
    assert subjects(Station.VEHICLE, made) == (POINT,)  # no vehicle stands at the second
    assert subjects(Station.ADAPTER, made) == ()


def test_each_station_has_one_scope():
    by_scope = {scope: [s for s in Station if s.scope is scope] for scope in Scope}
    assert by_scope[Scope.SITE] == [Station.SERVICE, Station.HANDOVER]
    assert by_scope[Scope.PANEL] == [Station.PANEL]
    assert not set(BESIDE) & set(path(point()))
