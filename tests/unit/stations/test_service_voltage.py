"""The volts of the supply at the service."""

import pytest

from checks.check import Situation
from checks.codes import profile
from checks.record import SITE, Role, SupplySystem
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import judge, point, visit, with_entries

VOLTS = {"l1_l2": "241.2 V", "l1_n": "120.7 V", "l2_n": "120.5 V"}


@pytest.mark.parametrize(
    ("change", "verdict", "severity"),
    [
        # ANSI C84.1 range A, service: 228 to 252 V, 114 to 126 V
        ({}, Verdict.WITHIN, None),
        ({"l1_l2": "224.0 V"}, Verdict.OUTSIDE, Severity.CAUTION),
        ({"l1_l2": "210.0 V"}, Verdict.OUTSIDE, Severity.WARNING),
        ({"l1_l2": "229.0 V"}, Verdict.BORDERLINE, Severity.CAUTION),
        ({"l1_n": "133.0 V", "l2_n": "108.0 V"}, Verdict.OUTSIDE, Severity.DANGER),  # neutral
    ],
)
def test_the_supply(change: dict[str, str], verdict: Verdict, severity: Severity | None):
    made = with_entries(visit(), {"service.supply_voltage": {**VOLTS, **change}})
    found = judge(made, "service.supply_voltage")
    assert (found.verdict, found.severity) == (verdict, severity)


def test_a_208_volt_supply_has_its_own_range():
    # ANSI C84.1 range A, service: 197 to 218 V
    made = visit(system=SupplySystem.WYE_208, points=(point(nominal_v=208),))
    volts = {**VOLTS, "l1_l2": "208.4 V"}
    third = {"l3_n": "120.1 V", "l2_l3": "208.0 V", "l3_l1": "207.7 V"}
    wye = with_entries(made, {"service.supply_voltage": volts | third})
    assert judge(wye, "service.supply_voltage").verdict is Verdict.WITHIN
    low_leg = with_entries(made, {"service.supply_voltage": volts | third | {"l2_l3": "180.0 V"}})
    assert judge(low_leg, "service.supply_voltage").verdict is Verdict.OUTSIDE
    # a third line that nobody read may be lost: never within
    unread = with_entries(made, {"service.supply_voltage": volts})
    assert judge(unread, "service.supply_voltage").verdict is Verdict.NOT_MEASURED
    assert (
        judge(
            with_entries(visit(), {"service.supply_voltage": volts}), "service.supply_voltage"
        ).verdict
        is Verdict.OUTSIDE
    )


def test_two_lines_of_a_wye_are_a_supply_of_their_own():
    """Common practice: what a unit of an apartment house gets; it has no third line to read."""
    unit = visit(system=SupplySystem.TWO_OF_WYE, points=(point(nominal_v=208),))
    volts = {"l1_l2": "207.6 V", "l1_n": "119.9 V", "l2_n": "119.7 V"}
    found = judge(with_entries(unit, {"service.supply_voltage": volts}), "service.supply_voltage")
    assert found.verdict is Verdict.WITHIN
    asked = BY_ID["service.supply_voltage"].at(Situation(unit, profile("nec_2023"), SITE))
    assert [i.name for i in asked.inputs] == ["l1_l2", "l1_n", "l2_n"]


HIGH_LEG = {
    "l1_l2": "240.8 V",
    "l2_l3": "240.5 V",
    "l3_l1": "240.9 V",
    "l1_n": "120.2 V",
    "l2_n": "208.5 V",
    "l3_n": "120.6 V",
}


@pytest.mark.parametrize(
    ("over", "verdict", "severity"),
    [
        # the middle line of a 240/120 V delta stands 208 V from the neutral: 120 V × √3
        ({}, Verdict.WITHIN, None),
        ({"l2_n": "120.4 V"}, Verdict.OUTSIDE, Severity.WARNING),  # then it is no such supply
        ({"l1_n": "131.0 V", "l3_n": "109.0 V"}, Verdict.OUTSIDE, Severity.DANGER),  # neutral
    ],
)
def test_a_high_leg_is_expected_where_the_supply_has_one(
    over: dict[str, str], verdict: Verdict, severity: Severity | None
):
    made = visit(system=SupplySystem.HIGH_LEG_DELTA)
    found = judge(
        with_entries(made, {"service.supply_voltage": {**HIGH_LEG, **over}}),
        "service.supply_voltage",
    )
    assert (found.verdict, found.severity) == (verdict, severity), found.explanation


def test_the_supply_starts_the_voltage_staircase():
    made = with_entries(visit(), {"service.supply_voltage": VOLTS})
    steps = judge(made, "service.supply_voltage").steps
    assert [(s.label, s.no_load_v) for s in steps] == [("Service", "241.2")]


def test_the_supplys_range_is_in_view_before_it_is_measured():
    found = judge(visit(), "service.supply_voltage")
    assert found.verdict is Verdict.NOT_MEASURED
    assert [limit.value for limit in found.limits] == [228.0, 252.0, 114.0, 126.0, 114.0, 126.0]
    inspects = visit(role=Role.INSPECTS)
    assert judge(inspects, "service.supply_voltage").verdict is Verdict.NOT_APPLICABLE
