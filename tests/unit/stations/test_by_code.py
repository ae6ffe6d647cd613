"""What a station says by the Canadian code, where it differs from the other."""

from collections.abc import Mapping
from typing import Any, Final

import pytest

from checks.record import ChargingPoint, SupplySystem
from checks.verdict import Verdict
from tests.builders import hard_wired, judge, level_1, point, visit, with_entries

Entries = dict[str, Mapping[str, Any]]


def found(check: str, entries: Entries, here: ChargingPoint, code: str = "cec_2021"):
    return judge(with_entries(visit(points=(here,)), entries), check, code=code)


def circuit(rated: str, poles: str = "1") -> Entries:
    return {"breaker.rating": {"rated_a": rated, "poles": poles}}


@pytest.mark.parametrize(
    ("rated", "count", "cec", "nec"),
    [
        # CE Code 2021 86-306 1): at 125 V a single 5-20 on 20 A; NEC 2023 625.44, 210.21(B)(3)
        ("20 A", "single", Verdict.WITHIN, Verdict.WITHIN),
        ("20 A", "duplex", Verdict.OUTSIDE, Verdict.WITHIN),
        ("15 A", "single", Verdict.OUTSIDE, Verdict.WITHIN),
    ],
)
def test_a_5_20_by_its_circuit_and_count(rated: str, count: str, cec: Verdict, nec: Verdict):
    entries = {**circuit(rated), "outlet.configuration": {"kind": "5-20", "count": count}}
    for code, verdict in (("cec_2021", cec), ("nec_2023", nec)):
        assert found("outlet.configuration", entries, level_1(), code).verdict is verdict, code


@pytest.mark.parametrize(
    ("seen", "cec", "nec"),
    [
        # CE Code 2021 86-304: a disconnecting means from 60 A on, within sight (its text was read
        # in an older edition, so that a yes stays borderline); NEC 2023 625.43: above 60 A
        ({"is_in_sight": False}, Verdict.OUTSIDE, Verdict.WITHIN),
        ({"is_in_sight": True}, Verdict.BORDERLINE, Verdict.WITHIN),
        ({}, Verdict.NOT_MEASURED, Verdict.WITHIN),
    ],
)
def test_the_disconnect_is_in_sight_where_the_code_asks(
    seen: dict[str, bool], cec: Verdict, nec: Verdict
):
    entries: Entries = {
        "charger.nameplate": {"rated_a": "60 A"},
        "charger.disconnect": {
            "is_present": True,
            "is_lockable": True,
            "is_accessible": True,
            **seen,
        },
    }
    for code, verdict in (("cec_2021", cec), ("nec_2023", nec)):
        assert found("charger.disconnect", entries, hard_wired(), code).verdict is verdict, code


def test_a_high_leg_needs_a_disconnect_that_120_volts_to_ground_do_not():
    # NEC 2023 625.43: above 60 A or above 150 V to ground; 120 V × √3 = 208 V on the high leg
    entries = {
        "charger.nameplate": {"rated_a": "48 A"},
        "charger.disconnect": {"is_present": False},
    }
    for system, verdict in (
        (SupplySystem.SPLIT_PHASE, Verdict.WITHIN),
        (SupplySystem.HIGH_LEG_DELTA, Verdict.OUTSIDE),
    ):
        made = with_entries(visit(system=system, points=(hard_wired(),)), entries)
        assert judge(made, "charger.disconnect").verdict is verdict


@pytest.mark.parametrize(
    ("legs", "verdict"),
    [
        # circuit theory: between the two lines of 120 V no leg is high; 208 V is above 150 V
        (("120.3 V", "120.2 V"), Verdict.WITHIN),
        (("120.3 V", "208.2 V"), Verdict.OUTSIDE),
        (("120.3 V", "0.4 V"), Verdict.OUTSIDE),  # a line that is off says nothing
    ],
)
def test_the_lines_that_a_circuit_takes_show_in_its_volts(legs: tuple[str, str], verdict: Verdict):
    entries = {
        "charger.nameplate": {"rated_a": "48 A"},
        "charger.disconnect": {"is_present": False},
        "outlet.no_load_voltage": {"l1_ground": legs[0], "l2_ground": legs[1]},
    }
    made = with_entries(visit(system=SupplySystem.HIGH_LEG_DELTA, points=(hard_wired(),)), entries)
    assert judge(made, "charger.disconnect").verdict is verdict


OUTDOORS: Final[Entries] = {
    "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"},
    "outlet.ground_fault": {"device": "none"},
}


@pytest.mark.parametrize(
    ("here", "rated", "kind", "verdict"),
    [
        # CE Code 2021 86-306 2): a 5-20 for charging outdoors has Class A protection
        (level_1(), "20 A", "5-20", Verdict.OUTSIDE),
        # no rule of that section on 250 V configurations
        (point(), "50 A", "14-50", Verdict.WITHIN),
        (point(), "50 A", None, Verdict.NOT_MEASURED),
    ],
)
def test_which_receptacle_decides_on_ground_fault_protection(
    here: ChargingPoint, rated: str, kind: str | None, verdict: Verdict
):
    entries = {**OUTDOORS, **circuit(rated)}
    if kind is not None:
        entries["outlet.configuration"] = {"kind": kind, "count": "single"}
    judged = found("outlet.ground_fault", entries, here)
    assert judged.verdict is verdict, judged.explanation
    if verdict is Verdict.NOT_MEASURED:
        assert "receptacle's configuration" in judged.explanation
