"""How a group's limit is shared through a night: by hand, as laws, and refused where it must be."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.assess import NightPlan, Refused, assess, nights
from checks.assess.night import NIGHT_H, ON_ONE_LINE, TURNS
from checks.codes import profile
from checks.electrical.pilot import LEAST_A
from checks.electrical.sharing import Need, Night, through_a_night
from checks.errors import OutOfRangeError
from checks.record import SITE, Decision, Panel, SignOff, SupplySystem, Visit
from tests.builders import NOON, PANEL, entry, hard_wired, visit

ROOM = {"method": "year", "demand_a": "60 A", "is_included": False}
HELD = {"is_managed": True, "manages": "chargers"}
SETTING = {
    "device_a": "80 A",
    "set_a": "64 A",
    "set_on": "2025-05-30",
    "is_listed": True,
    "is_restricted": True,
    "is_marked": True,
}


def garage(*set_a: str, **over: Any) -> Visit:
    """A garage whose load management holds chargers set to these currents to one limit."""
    points = tuple(hard_wired(id=f"bay-{i}", name=f"Bay {i}") for i in range(1, len(set_a) + 1))
    told: list[tuple[str, str, dict[str, Any]]] = [
        ("panel.load", PANEL, {**ROOM, **HELD, "managed_a": over.get("set_a", "64 A")}),
        ("panel.management", PANEL, {**SETTING, **over}),
    ]
    for point, amps in zip(points, set_a, strict=True):
        plate = {"rated_a": "48 A", "volts": "208-240", "is_listed": True, "enclosure": "type_3r"}
        told.append(("charger.nameplate", point.id, plate))
        setting = {"configured_a": amps, "access": "tool", "is_label_adjusted": True}
        told.append(("charger.configuration", point.id, setting))
    entries = (entry(check, at, n, **said) for n, (check, at, said) in enumerate(told, 1))
    return visit(points=points, entries=tuple(entries))


def planned(made: Visit) -> NightPlan:
    (plan,) = nights(made, assess(made, profile(made.code)))
    assert isinstance(plan, NightPlan), plan
    return plan


def refused(made: Visit) -> str:
    (why,) = nights(made, assess(made, profile(made.code)))
    assert isinstance(why, Refused)
    return why.why


def given_wall_kwh(night: Night, needs: list[Need]) -> list[float]:
    """Add up volts times amps times hours, step by step."""
    return [
        sum(n.volts * s.shares_a[i] * (s.to_h - s.from_h) / 1000 for s in night.steps)
        for i, n in enumerate(needs)
    ]


# -- the physics ---------------------------------------------------------------------------------
def test_four_on_32_a_get_8_a_each_and_in_ten_hours_19_kwh_at_240_v() -> None:
    """Check values worked out beside the sources: 8.0 A; 10 h at 8 A: 19.2 kWh, 208 V: 16.6 kWh."""
    needs = [Need(32.0, volts, 100.0) for volts in (240.0, 240.0, 208.0, 208.0)]
    night = through_a_night(32.0, needs, 10.0)
    assert [s.shares_a for s in night.steps] == [(8.0,) * 4]
    assert night.wall_kwh == pytest.approx((19.2, 19.2, 16.64, 16.64))
    assert night.done_h == (None,) * 4


def test_who_is_full_leaves_its_part_to_the_others() -> None:
    """By hand: 80 A for 16, 32 and 48 A at 240 V are 16, 32 and 32 A; 3.84, 7.68 and 7.68 kW.

    The second has its 7.68 kWh after 1 h; then the third gets its 48 A, 11.52 kW: 19.2 - 7.68 =
    11.52 kWh take one hour more. The first has 19.2 kWh after 5 h.
    """
    needs = [Need(16.0, 240.0, 19.2), Need(32.0, 240.0, 7.68), Need(48.0, 240.0, 19.2)]
    night = through_a_night(80.0, needs, 8.0)
    assert night.done_h == pytest.approx((5.0, 1.0, 2.0))
    assert [s.shares_a for s in night.steps] == [
        (16.0, 32.0, 32.0),
        (16.0, 0.0, 48.0),
        (16.0, 0.0, 0.0),
        (0.0, 0.0, 0.0),
    ]
    assert [s.to_h for s in night.steps] == pytest.approx([1.0, 2.0, 5.0, 8.0])


def test_where_there_is_too_little_for_all_they_take_turns() -> None:
    """By hand: 12 A serve two of three with 6 A; in 3 h each waits once and has 2 h of 1.44 kW."""
    needs = [Need(32.0, 240.0, 50.0)] * 3
    night = through_a_night(12.0, needs, 3.0)
    assert [s.shares_a for s in night.steps] == [(6.0, 6.0, 0.0), (6.0, 0.0, 6.0), (0.0, 6.0, 6.0)]
    assert night.wall_kwh == pytest.approx((2.88,) * 3)


@pytest.mark.parametrize("need", [Need(32.0, 0.0, 10.0), Need(32.0, 240.0, 0.0)])
def test_a_vehicle_without_volts_or_need_is_refused(need: Need) -> None:
    with pytest.raises(OutOfRangeError, match="without volts or without a need"):
        through_a_night(80.0, [need], 10.0)


NEEDS = st.lists(
    st.builds(
        Need,
        wish_a=st.floats(6, 80),
        volts=st.sampled_from([120.0, 208.0, 240.0]),
        wall_kwh=st.floats(0.1, 120),
    ),
    min_size=1,
    max_size=9,
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(NEEDS, st.floats(0, 200), st.floats(0.5, 14))
def test_a_night_keeps_its_limit_its_energy_and_its_end(
    needs: list[Need], limit_a: float, night_h: float
) -> None:
    night = through_a_night(limit_a, needs, night_h)

    steps = night.steps
    assert (steps[0].from_h, steps[-1].to_h) == (0.0, night_h)
    assert all(a.to_h == b.from_h and a.from_h < a.to_h for a, b in pairwise(steps))
    for step in steps:
        assert sum(step.shares_a) <= limit_a + 1e-6
        assert all(a == 0 or a >= LEAST_A - 1e-6 for a in step.shares_a)
        assert all(a <= n.wish_a for a, n in zip(step.shares_a, needs, strict=True))
    # energy is conserved: what the steps carry is what each has got, and nobody gets too much
    assert given_wall_kwh(night, needs) == pytest.approx(night.wall_kwh, abs=1e-6)
    for need, got, done in zip(needs, night.wall_kwh, night.done_h, strict=True):
        assert got <= need.wall_kwh + 1e-6
        assert (done is not None) == (got == pytest.approx(need.wall_kwh, abs=1e-6))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(1, 8), st.floats(6, 60), st.floats(5, 200))
def test_those_who_are_alike_get_alike_but_for_one_turn(
    count: int, limit_a: float, kwh: float
) -> None:
    night = through_a_night(limit_a, [Need(32.0, 240.0, kwh)] * count, 10.0)
    one_turn_kwh = 240.0 * 32.0 / 1000
    assert max(night.wall_kwh) - min(night.wall_kwh) <= one_turn_kwh


# -- the plan of a record ------------------------------------------------------------------------
def test_a_plan_shares_the_limit_as_set_among_what_the_chargers_are_set_to() -> None:
    """Check value worked out beside the sources: 80 A for 16, 32, 48, 48 A: 16 and 21.33 A."""
    plan = planned(garage("16 A", "32 A", "48 A", "48 A", device_a="100 A", set_a="80 A"))
    first, others = plan.shares
    assert (plan.where, plan.limit_a, plan.night_h) == ("Panel A", 80.0, NIGHT_H)
    assert first.names == ("Bay 1",)
    assert others.names == ("Bay 2", "Bay 3", "Bay 4")
    assert first.stretches[0].current_a == 16.0
    assert others.stretches[0].current_a == pytest.approx(21.333, abs=0.005)
    # 30 kWh / 0.87 / (240 V x 21.33 A) = 6.735 h, / (240 V x 16 A) = 8.980 h
    assert others.stretches[0].to_h == pytest.approx(6.735, abs=0.001)
    assert first.says == "30 kWh after 9.0 h"
    assert [s.current_a for s in plan.together] == pytest.approx([80.0, 16.0, 0.0])
    assert plan.outcomes[1] == "30 kWh each: the last has it after 9.0 h"
    # in 10 h at 3.84 kW 38.4 kWh x 0.87 = 33.4 kWh; 60 kWh / 0.87 / 5.12 kW = 13.5 h is too long
    assert plan.outcomes[2] == "60 kWh each: 0 of 4 have it after 10 h, the least gets 33 kWh"
    assert not {TURNS, ON_ONE_LINE} & {*plan.rests_on}


def test_a_plan_says_that_turns_are_taken_and_when_lines_are_not_told_apart() -> None:
    made = garage(*["32 A"] * 4, set_a="16 A")
    assert TURNS in planned(made).rests_on
    on_208 = made.model_copy(
        update={
            "system": SupplySystem.WYE_208,
            "points": tuple(p.model_copy(update={"nominal_v": 208}) for p in made.points),
        }
    )
    assert ON_ONE_LINE in planned(on_208).rests_on


def without(made: Visit, check: str, name: str = "") -> Visit:
    """The record without a check's entries, or without one of its answers."""
    entries = []
    for each in made.entries:
        if each.check == check:
            left = tuple(a for a in each.answers if name and a.input != name)
            if not left:
                continue
            each = each.model_copy(update={"answers": left})
        entries.append(each)
    return made.model_copy(update={"entries": tuple(entries)})


TWO = garage("32 A", "32 A")


@pytest.mark.parametrize(
    ("made", "why"),
    [
        (without(TWO, "panel.management"), "Record first the limit as set"),
        (without(TWO, "panel.load", "manages"), "Record first what the load management holds"),
        (
            without(without(TWO, "charger.nameplate"), "charger.configuration"),
            "Record the charger's current first: Bay 1, Bay 2",
        ),
        (garage("32 A", "5 A"), "Set below 6 A, the least that can be offered: Bay 2"),
        (garage("32 A", "32 A", set_a="5 A"), "The limit as set lies below 6 A"),
        # 80 A / 1.25 = 64 A: a judge found the setting too high, and nothing is planned on it
        (garage("32 A", "32 A", set_a="70 A"), "Do not charge here until this is mended: Load m"),
        (garage("32 A", "32 A", is_listed=False), "Do not charge here until this is mended"),
    ],
)
def test_no_plan_is_made_of_what_is_not_known_or_not_in_order(made: Visit, why: str) -> None:
    assert refused(made).startswith(why)


def test_a_limit_that_house_and_chargers_share_has_no_plan() -> None:
    house = entry("panel.load", PANEL, 90, **{**ROOM, **HELD, "manages": "service"})
    made = TWO.model_copy(update={"entries": (*TWO.entries, house)})
    assert refused(made).startswith("The limit is shared with the house")


def test_a_limit_inside_another_has_no_plan() -> None:
    outer = entry("service.load", SITE, 90, **{**ROOM, **HELD, "managed_a": "64 A"})
    made = TWO.model_copy(update={"entries": (*TWO.entries, outer)})
    assessed = assess(made, profile(made.code))
    assert [n.why for n in nights(made, assessed) if isinstance(n, Refused)] == [
        "One limit lies inside another: which of them gives way first is not recorded"
    ] * 2


def test_nothing_is_planned_for_what_is_kept_out_of_service() -> None:
    out = SignOff(at=NOON, decision=Decision.KEEP_OUT, strokes=(((1, 2),),))
    assert refused(TWO.model_copy(update={"signoff": out})).startswith("It was decided to keep it")


def test_one_charger_or_none_that_is_held_has_nothing_to_share() -> None:
    for made in (garage("32 A"), without(TWO, "panel.load")):
        assert nights(made, assess(made, profile(made.code))) == ()


def test_each_panel_has_a_plan_of_its_own() -> None:
    second = Panel(id="panel-b", name="Panel B")
    moved = [p.model_copy(update={"id": f"b-{p.id}", "panel": "panel-b"}) for p in TWO.points]
    subjects = {PANEL: "panel-b", **{p.id: f"b-{p.id}" for p in TWO.points}}
    copied = [
        e.model_copy(update={"number": e.number + 50, "subject": subjects[e.subject]})
        for e in TWO.entries
    ]
    made = TWO.model_copy(
        update={
            "panels": (*TWO.panels, second),
            "points": (*TWO.points, *moved),
            "entries": (*TWO.entries, *copied),
        }
    )
    plans = nights(made, assess(made, profile(made.code)))
    assert [p.where for p in plans if isinstance(p, NightPlan)] == ["Panel A", "Panel B"]
