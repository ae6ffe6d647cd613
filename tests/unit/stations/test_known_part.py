"""A sum that lacks a term is at least what is known of it: beyond a limit it stays outside."""

from typing import Any, Final

import pytest

from checks.record import Occupancy, Panel, Site, SupplySystem, Visit
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import PANEL, entry, judge, point, visit

SHOP: Final = Site(name="Invented shop", occupancy=Occupancy.OTHER)
FEEDER: Final = (Panel(id=PANEL, name="Panel A", is_service_equipment=False),)
ROOM: Final = {"method": "year", "demand_a": "90 A", "is_included": False, "is_managed": False}
SERVICE: Final = {"service_a": "100 A", "main_a": "100 A"}
CHARGER: Final = ("charger.configuration", "bay-1", {"configured_a": "40 A"})
Said = tuple[str, str, dict[str, Any]]


def bays(*said: Said, count: int = 2, **over: Any) -> Visit:
    """A visit to charging points of which only the first one's current may be recorded."""
    volts = over.get("system", SupplySystem.SPLIT_PHASE).level_2_v
    points = tuple(
        point(id=f"bay-{i}", name=f"Bay {i}", nominal_v=volts) for i in range(1, count + 1)
    )
    entries = tuple(entry(check, at, n, **plain) for n, (check, at, plain) in enumerate(said, 1))
    return visit(points=points, entries=entries, **over)


def room(demand: str = "90 A", count: int = 2, **load: Any) -> Judgement:
    said = {**ROOM, "demand_a": demand, **load}
    entries = ("service.rating", "site", SERVICE), ("service.load", "site", said), CHARGER
    return judge(bays(*entries, count=count), "service.load")


def says_more(judged: Judgement, missing: str) -> bool:
    return "More is to be added" in judged.explanation and missing in judged.explanation


def test_a_known_excess_on_the_service_stands_beside_a_charger_whose_current_is_not_recorded():
    whole, part = room(count=1), room(count=2)
    # 1.25 × 90 A and 40 A are more than 100 A, whatever the second charger takes
    assert whole.verdict is part.verdict is Verdict.OUTSIDE
    assert whole.severity is part.severity is Severity.WARNING
    assert whole.measured == part.measured
    assert says_more(part, "Bay 2")


def test_what_is_known_and_fits_is_not_within_while_a_charger_is_missing():
    assert room("20 A", count=1).verdict is Verdict.WITHIN
    part = room("20 A", count=2)
    assert part.verdict is Verdict.NOT_MEASURED
    assert part.explanation == "Record the charger's current first: Bay 2"


@pytest.mark.parametrize(
    ("left_out", "demand", "verdict"),
    [
        # chargers alone: 1.25 × 40 A on 100 A
        ("demand_a", "90 A", Verdict.NOT_MEASURED),
        # demand alone: 1.25 × 90 A
        ("is_included", "90 A", Verdict.OUTSIDE),
        ("is_included", "70 A", Verdict.NOT_MEASURED),
        # it may hold the whole service to what fits
        ("is_managed", "90 A", Verdict.NOT_MEASURED),
    ],
)
def test_the_demand_or_the_chargers_are_judged_by_themselves_where_the_other_is_open(
    left_out: str, demand: str, verdict: Verdict
):
    said = {k: v for k, v in {**ROOM, "demand_a": demand}.items() if k != left_out}
    entries = ("service.rating", "site", SERVICE), ("service.load", "site", said), CHARGER
    found = judge(bays(*entries, count=1), "service.load")
    assert found.verdict is verdict
    assert "Still open" in found.explanation


def test_chargers_that_are_too_much_alone_stay_so_without_the_demand():
    said = {k: v for k, v in ROOM.items() if k != "demand_a"}
    big = ("charger.configuration", "bay-1", {"configured_a": "81 A"})
    entries = ("service.rating", "site", SERVICE), ("service.load", "site", said), big
    found = judge(bays(*entries, count=1), "service.load")
    assert found.verdict is Verdict.OUTSIDE  # 1.25 × 81 A = 101 A
    assert says_more(found, "Still open: existing demand")


@pytest.mark.parametrize(("demand", "verdict"), [("90 A", "outside"), ("70 A", "not measured")])
def test_demand_alone_is_judged_while_the_limit_of_the_load_management_is_open(
    demand: str, verdict: str
):
    held = {"is_managed": True, "manages": "chargers"}
    assert room(demand, count=1, **held).verdict == verdict


def test_a_dwelling_that_is_too_much_already_stays_so_whatever_is_still_to_be_read():
    said = {
        "method": "dwelling",
        "is_new": False,
        "floor_area": "300 m²",
        "basement_area": "0 m²",
        "appliance_circuits": 2,
        "laundry_circuits": 1,
        "range_va": "12 kVA",
        "dryer_va": "5 kVA",
        "water_heater_va": "5 kVA",
        "heated_water_va": "20 kVA",
        "other_va": "10 kVA",
        "heating_va": "20 kVA",
        "heating_units": 1,
        "heat_pump_va": "0 kVA",
        "cooling_va": "5 kVA",
        "is_interlocked": True,
        "adds_climate": False,
        "is_managed": False,
    }

    def judged(count: int, *left_out: str, **over: Any) -> Judgement:
        plain = {k: v for k, v in {**said, **over}.items() if k not in left_out}
        entries = ("service.rating", "site", SERVICE), ("service.load", "site", plain), CHARGER
        return judge(bays(*entries, count=count), "service.load")

    assert judged(1).verdict is Verdict.OUTSIDE
    assert says_more(judged(2), "Bay 2")
    assert judged(2).severity is Severity.WARNING
    assert says_more(judged(1, "dryer_va"), "Still open: clothes dryer")
    # what decides how the loads count is no load
    assert judged(1, "is_new").verdict is Verdict.NOT_MEASURED
    light = {n: "0 kVA" for n in ("heated_water_va", "heating_va", "other_va", "range_va")}
    small = judged(1, "dryer_va", floor_area="60 m²", heating_units=0, **light)
    assert small.verdict is Verdict.NOT_MEASURED


def test_a_panel_past_its_feeder_stays_so_beside_a_charger_that_is_not_read():
    said = (
        ("panel.rating", PANEL, {"bus_a": "100 A", "ahead": "feeder", "main_a": "100 A"}),
        ("panel.load", PANEL, ROOM),
        CHARGER,
    )
    found = judge(bays(*said, panels=FEEDER), "panel.load")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert says_more(found, "Bay 2")


@pytest.mark.parametrize(
    ("rated", "other", "verdict"),
    [
        # 240 V × 40 A = 9.6 kVA of one charger
        ("9 kVA", None, Verdict.OUTSIDE),
        ("20 kVA", "15 kVA", Verdict.OUTSIDE),
        ("30 kVA", "15 kVA", Verdict.NOT_MEASURED),
        ("30 kVA", None, Verdict.NOT_MEASURED),
    ],
)
def test_a_transformer_is_held_against_what_is_known_of_its_load(
    rated: str, other: str | None, verdict: Verdict
):
    plain = {"is_present": True, "rated": rated} | ({"other": other} if other else {})
    found = judge(
        bays(("service.transformer", "site", plain), CHARGER, site=SHOP), "service.transformer"
    )
    assert found.verdict is verdict
    assert "Bay 2" in found.explanation


MANAGED: Final = (
    ("panel.load", PANEL, {"is_managed": True, "manages": "chargers", "managed_a": "60 A"}),
    ("panel.management", PANEL, {"device_a": "100 A", "set_a": "60 A"}),
)
AT_WORK: Final = {"charging": 2, "is_reduced": True, "is_restored": True}


def shown(amps: str) -> Said:
    return "charger.together", "bay-1", {"is_held": True, "with_all": amps, "fallback": amps}


@pytest.mark.parametrize(
    ("amps", "clamp", "verdict"),
    [
        ("70.0 A", {}, Verdict.OUTSIDE),
        # the clamp may have been on another line
        ("70.0 A", {"drawn": "50.0 A"}, Verdict.OUTSIDE),
        ("40.0 A", {}, Verdict.NOT_MEASURED),
        # it reads the sum itself
        ("40.0 A", {"drawn": "50.0 A"}, Verdict.WITHIN),
    ],
)
def test_displays_that_add_up_past_the_limit_stand_though_one_is_not_read(
    amps: str, clamp: dict[str, Any], verdict: Verdict
):
    said = (*MANAGED, shown(amps), ("panel.management_limit", PANEL, {**AT_WORK, **clamp}))
    assert judge(bays(*said), "panel.management_limit").verdict is verdict


def test_a_group_past_the_limit_as_set_stays_so_while_the_device_ahead_is_not_read():
    plain = {**AT_WORK, "drawn": "70.0 A"}
    said = (
        MANAGED[0],
        ("panel.management", PANEL, {"set_a": "60 A"}),
        ("panel.management_limit", PANEL, plain),
    )
    found = judge(bays(*said), "panel.management_limit")
    assert found.verdict is Verdict.OUTSIDE
    assert says_more(found, "the device ahead, is missing")
    said = (MANAGED[0], ("panel.management", PANEL, {"set_a": "70 A"}))
    # 60 A are counted in the room
    assert judge(bays(*said), "panel.management").verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(("amps", "verdict"), [("70 A", "outside"), ("40 A", "not measured")])
def test_what_falls_back_past_the_limit_stands_though_one_setting_is_not_read(
    amps: str, verdict: str
):
    at_loss = ("panel.management_fail_safe", PANEL, {"means": "function", "left": "10.0 A"})
    group = ("panel.management", PANEL, {"device_a": "80 A", "set_a": "60 A"})
    said = (MANAGED[0], group, shown(amps), at_loss)
    found = judge(bays(*said), "panel.management_fail_safe")
    assert found.verdict == verdict
    assert "bay-2" in found.explanation or "Bay 2" in found.explanation


def test_what_stays_past_the_device_itself_stands_though_the_house_is_not_known():
    whole = ("panel.load", PANEL, {"is_managed": True, "manages": "service", "managed_a": "60 A"})
    lost = ("panel.management_fail_safe", PANEL, {"means": "function", "left": "90.0 A"})
    found = judge(bays(whole, MANAGED[1], lost), "panel.management_fail_safe")
    assert found.verdict is Verdict.OUTSIDE  # 100 A / 1.25 = 80 A
    assert says_more(found, "What the house takes is missing")


@pytest.mark.parametrize(("device", "verdict"), [("130 A", "outside"), ("100 A", "not measured")])
def test_a_bus_fed_from_two_sides_is_held_against_the_one_that_is_known(device: str, verdict: str):
    plain = {"is_present": True, "place": "opposite end", "bus_a": "100 A", "device_a": device}
    found = judge(bays(("service.other_sources", "site", plain)), "service.other_sources")
    assert found.verdict == verdict  # 120 % of 100 A


@pytest.mark.parametrize(
    ("charger", "other", "verdict"),
    [
        (None, "25 A", Verdict.OUTSIDE),
        ("40 A", None, Verdict.OUTSIDE),  # 1.25 × 40 A = 50 A
        ("12 A", None, Verdict.NOT_MEASURED),
        (None, "10 A", Verdict.NOT_MEASURED),
    ],
)
def test_a_shared_circuit_is_held_against_the_load_that_is_known(
    charger: str | None, other: str | None, verdict: Verdict
):
    read = [("charger.configuration", "bay-1", {"configured_a": charger})] if charger else []
    plain = {"is_alone": False} | ({"other_a": other} if other else {})
    said = (*read, ("breaker.rating", "bay-1", {"rated_a": "20 A"}))
    record = bays(*said, ("run.dedicated", "bay-1", plain), count=1)
    judged = judge(record, "run.dedicated")
    sums = [line for line in judged.explanation.split(". ") if "A on 20 A" in line]
    assert bool(sums) is (verdict is Verdict.OUTSIDE)


def test_one_charger_loads_a_line_of_three_in_full_wherever_it_is():
    """What is known of two chargers is no less than what the one known would be alone."""
    wye = {"system": SupplySystem.WYE_208}
    said = (
        ("service.rating", "site", SERVICE),
        ("service.load", "site", {**ROOM, "demand_a": "50 A"}),
        CHARGER,
    )
    one, two = (judge(bays(*said, count=n, **wye), "service.load") for n in (1, 2))
    assert one.verdict is Verdict.OUTSIDE  # 1.25 × 50 A + 40 A
    assert two.verdict is Verdict.OUTSIDE
    assert one.measured == two.measured


@pytest.mark.parametrize("check", ["service.transformer", "service.load"])
@pytest.mark.parametrize("system", SupplySystem)
def test_where_no_charger_is_read_what_is_held_is_judged_by_the_rest(
    check: str, system: SupplySystem
):
    held = {"is_managed": True, "manages": "chargers", "managed_a": "40 A"}
    said = (
        ("service.rating", "site", SERVICE),
        ("service.load", "site", {**ROOM, **held}),
        ("service.transformer", "site", {"is_present": True, "rated": "9 kVA", "other": "10 kVA"}),
    )
    found = judge(bays(*said, site=SHOP, system=system), check)
    assert found.verdict is Verdict.OUTSIDE
    assert says_more(found, "Bay 1, Bay 2")
