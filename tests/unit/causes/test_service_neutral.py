"""A loose neutral of the service: one leg up, the other down.

Facts of the trade here: common practice, no source. With the neutral open the loads of the two legs
hang in series on the volts between the lines, and share them as their resistances do (Kirchhoff).
"""

from typing import Any

import pytest

from checks.assess import assess
from checks.causes import Standing, Status
from checks.check import CircuitState
from checks.codes import profile
from checks.record import SupplySystem
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries
from tests.unit.causes.calls import (
    CHARGES,
    LEVEL_2,
    NO_CIRCUMSTANCE,
    Plain,
    find,
    ranked,
    service_call,
    share,
)

STILL: Plain = {
    "outlet.loaded_voltage": {
        "load": "vehicle",
        "plan": "outlet_legs",
        "outlet_no_load": "241.0 V",
        "l1_no_load": "120.6 V",
        "l2_no_load": "120.4 V",
        "current": "32.0 A",
        "outlet_loaded": "237.0 V",
        "l1_loaded": "118.6 V",
        "l2_loaded": "118.4 V",
    }
}
# 20 Ω on one leg and 24 Ω on the other share 237 V as 107.7 V and 129.3 V
APART: dict[str, Any] = {"l1_loaded": "129.3 V", "l2_loaded": "107.7 V"}
TOLD: Plain = {
    "charger.behavior": CHARGES | {"stops": "random"},
    "surroundings.circumstances": NO_CIRCUMSTANCE | {"is_with_other_loads": True},
}


def load_test(**changed: str) -> Plain:
    return LEVEL_2 | {"outlet.loaded_voltage": STILL["outlet.loaded_voltage"] | changed}


@pytest.mark.parametrize("places", [("",), ("panel_",), ("panel_", "")])
def test_legs_that_move_apart_under_load_are_a_danger_for_the_utility(places: tuple[str, ...]):
    legs = {name: volts for name, volts in load_test(**APART)["outlet.loaded_voltage"].items()}
    moved = {f"{p}{k}": v for p in places for k, v in legs.items() if k[:2] in ("l1", "l2")}
    others = {k: v for k, v in legs.items() if k[:2] not in ("l1", "l2")}
    test = {"outlet.loaded_voltage": {**others, "plan": "panel_legs", **moved}}
    made = with_entries(visit(), LEVEL_2 | test)
    found = judge(made, "outlet.loaded_voltage")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "L1 rose by 8.7 V and L2 fell by 12.7 V" in found.explanation
    assert "call the utility" in found.remedy
    assert "nobody works on the line side" in found.remedy
    gates = {g.state: g for g in assess(made, profile("nec_2023")).points[0].gates}
    assert "outlet.loaded_voltage" in gates[CircuitState.UNDER_LOAD].waiting


@pytest.mark.parametrize(
    "changed",
    [
        {},  # both fall
        {"l1_loaded": "121.6 V"},  # what the house switches meanwhile moves a leg by a volt
        {"l1_loaded": "114.0 V", "l2_loaded": "120.4 V"},  # one falls alone: a joint
    ],
)
def test_legs_that_fall_under_load_speak_of_no_neutral(changed: dict[str, str]):
    made = with_entries(visit(), load_test(**changed))
    assert "rose by" not in judge(made, "outlet.loaded_voltage").explanation


def test_on_a_wye_a_leg_may_rise_under_load_of_two_lines() -> None:
    """Its current leads one leg by 30° and lags the other: what is reactive lifts one of them."""
    made = with_entries(
        visit(system=SupplySystem.WYE_208, points=(point(nominal_v=208),)), load_test(**APART)
    )
    assert "rose by" not in judge(made, "outlet.loaded_voltage").explanation


@pytest.mark.parametrize(
    ("sign", "is_proven"),
    [
        (
            {"service.supply_voltage": {"l1_l2": "240.0 V", "l1_n": "131.0 V", "l2_n": "109.0 V"}},
            True,
        ),
        (load_test(**APART), True),
        (
            {
                "surroundings.circumstances": TOLD["surroundings.circumstances"]
                | {"is_with_lights": True}
            },
            False,
        ),
    ],
)
def test_what_speaks_for_a_loose_service_neutral(sign: Plain, is_proven: bool) -> None:
    before, found = ranked(service_call(TOLD)), ranked(service_call(TOLD | sign))
    assert share(found, "loose_service_neutral") > 3 * share(before, "loose_service_neutral")
    named = find(found, "loose_service_neutral")
    assert named is not None
    assert named.severity is Severity.DANGER
    assert (named.standing is Standing.PROVEN) is is_proven
    assert (found.status is Status.PROVEN) is is_proven
    if is_proven:
        assert found.causes[0] == named
        assert "call the utility" in named.remedy


def test_legs_that_agree_clear_the_service_neutral() -> None:
    alike = {"service.supply_voltage": {"l1_l2": "240.0 V", "l1_n": "120.2 V", "l2_n": "119.8 V"}}
    before, found = ranked(service_call(TOLD)), ranked(service_call(TOLD | alike))
    assert share(found, "loose_service_neutral") < share(before, "loose_service_neutral") / 2


def test_lights_may_be_passed_over() -> None:
    """Common practice, no source: a caller who saw no lights has nothing to say of them."""
    asked = BY_ID["surroundings.circumstances"].input("is_with_lights")
    assert asked is not None
    assert asked.optional
    told = judge(service_call(TOLD), "surroundings.circumstances")
    assert told.verdict is Verdict.OUTSIDE
