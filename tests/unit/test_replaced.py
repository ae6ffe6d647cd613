"""A charger or breaker that was replaced: what was reckoned with the old one's numbers."""

from typing import Any

import pytest

from checks.assess import assess
from checks.assess.energy import Refused, expected
from checks.assess.leave_behinds import leave_behinds
from checks.codes import profile
from checks.record import SITE, Correction, Panel, Visit, VisitKind
from checks.verdict import Judgement
from tests.builders import (
    NOON,
    PANEL,
    POINT,
    conductor,
    entry,
    hard_wired,
    point,
    visit,
    with_entries,
)

CODE = profile("nec_2023")
NEW = "The charger was replaced since; first check on the new one: Nameplate and listing"
FIRST = f"{NEW}, Current setting"
LISTED = {
    "volts": "208-240",
    "is_listed": True,
    "enclosure": "type_4",
    "model": "M",
    "serial": "S1",
}
READ: dict[str, dict[str, Any]] = {
    "charger.nameplate": {"rated_a": "32 A", **LISTED},
    "charger.configuration": {"configured_a": "24 A", "access": "tool", "is_label_adjusted": True},
    "breaker.rating": {"rated_a": "40 A", "poles": "2", "spaces": "14-16"},
    "run.conductor": conductor("8 AWG"),
}


def call(**over: Any) -> Visit:
    """A 32 A charger set to 24 A, on a 40 A breaker and 8 AWG copper."""
    return with_entries(visit(kind=VisitKind.SERVICE_CALL, **over), READ)


def replaced(part: str, made: Visit | None = None) -> Visit:
    said = {"outcome": "mended", "replaced": part, "done": "A new one"}
    return with_entries(made or call(), {"surroundings.repair": said})


def judged(made: Visit, check: str, at: str = POINT) -> Judgement:
    return assess(made, CODE).row(check, at).judgement


def verdict(made: Visit, check: str, at: str = POINT) -> str:
    return str(judged(made, check, at).verdict)


def limits_of(made: Visit, check: str) -> list[str]:
    return [x.amount.of for x in judged(made, check).limits]


def test_a_larger_charger_is_not_carried_by_what_carried_the_smaller_one() -> None:
    """48 A continuous take 60 A of conductor and breaker (NEC 625.41, 125 %); 8 AWG has 50 A at
    75 °C (Table 310.16)."""
    assert verdict(call(), "run.conductor") == verdict(call(), "breaker.rating") == "within"
    new = replaced("charger")
    for check in ("run.conductor", "breaker.rating"):
        found = judged(new, check)
        assert (str(found.verdict), found.explanation) == ("not measured", FIRST)
        assert not any("charger" in of for of in limits_of(new, check)), "24 A is of the old one"
    assert verdict(new, "charger.configuration") == "not measured"
    plate = {"charger.nameplate": {"rated_a": "48 A", **LISTED}}
    half = with_entries(new, plate)
    said = judged(half, "run.conductor")
    assert str(said.verdict) == "outside", "the nameplate is the most that it can draw"
    setting = {"configured_a": "24 A", "access": "tool", "is_label_adjusted": True}
    whole = with_entries(half, {"charger.configuration": setting})
    assert verdict(whole, "run.conductor") == verdict(whole, "breaker.rating") == "within"


def test_half_read_is_not_enough_for_what_the_other_half_may_change() -> None:
    """The nameplate alone would do; the setting of the new one is owed all the same."""
    half = with_entries(replaced("charger"), {"charger.nameplate": {"rated_a": "24 A", **LISTED}})
    said = judged(half, "run.conductor")
    assert str(said.verdict) == "not measured"
    assert said.explanation.endswith("first check on the new one: Current setting")


def test_another_breaker_is_owed_before_setting_and_conductor_are_held_against_it() -> None:
    new = replaced("breaker")
    for check in ("breaker.rating", "run.conductor", "charger.configuration"):
        assert verdict(new, check) != "within", check
        assert not any("breaker, as installed" in of for of in limits_of(new, check))
    wider = with_entries(
        new,
        {
            "breaker.rating": READ["breaker.rating"] | {"rated_a": "60 A"},
            "run.conductor": conductor("8 AWG"),
        },
    )
    assert verdict(wider, "run.conductor") == "outside", "8 AWG behind 60 A"


def test_what_was_too_small_stays_found_until_it_is_read_again() -> None:
    small = with_entries(call(), {"run.conductor": conductor("12 AWG")})
    assert verdict(small, "run.conductor") == "outside"
    new = judged(replaced("charger", small), "run.conductor")
    assert str(new.verdict) == "outside"
    thicker = with_entries(replaced("charger", small), {"run.conductor": conductor("8 AWG")})
    again = judged(thicker, "run.conductor")
    assert (str(again.verdict), again.explanation) == ("not measured", FIRST)


def test_a_finding_that_rests_on_the_old_charger_alone_stands_and_says_so() -> None:
    over = call()
    over = with_entries(over, {"charger.configuration": {"configured_a": "36 A", "access": "open"}})
    over = with_entries(over, {"charger.nameplate": {"rated_a": "40 A", **LISTED}})
    before, found = (
        judged(over, "breaker.rating"),
        judged(replaced("charger", over), "breaker.rating"),
    )
    assert str(before.verdict) == str(found.verdict) == "outside"
    assert found.explanation == f"{before.explanation}. {FIRST}"
    assert found.severity is before.severity


def test_the_charger_of_one_bay_makes_the_room_for_all_of_them_open() -> None:
    room = {
        "service.rating": {"service_a": "200 A", "main_a": "200 A"},
        "service.load": {"method": "year", "demand_a": "60 A", "is_included": False}
        | {"is_managed": False},
    }
    two = call(points=(point(), point(id="bay-2", name="Bay 2")))
    made = with_entries(two, room)
    number = max(e.number for e in made.entries)
    beside = tuple(
        entry(check, "bay-2", number + n, **READ[check])
        for n, check in enumerate(("charger.nameplate", "charger.configuration"), 1)
    )
    both = made.model_copy(update={"entries": (*made.entries, *beside)})
    assert verdict(both, "service.load", SITE) == "within"
    new = replaced("charger", both)
    said = judged(new, "service.load", SITE)
    assert str(said.verdict) != "within"
    assert f"Bay 1: {FIRST}" in said.explanation


def test_a_hard_wired_charger_takes_its_terminals_with_it() -> None:
    torque = {"occasion": "tightening", "label": "2.8 N·m", "applied": "2.8 N·m"}
    made = with_entries(call(), {"outlet.terminal_torque": torque | {"are_all_done": True}})
    for here, is_gone in ((point(), False), (hard_wired(), True)):
        new = replaced("charger", made.model_copy(update={"points": (here,)}))
        row = assess(new, CODE).row("outlet.terminal_torque", POINT)
        assert row.is_owed_again is is_gone
        assert ("The charger was replaced since this" in row.judgement.explanation) is is_gone


@pytest.mark.parametrize("part", ["breaker", "receptacle"])
def test_the_marking_of_a_new_terminal_is_read_and_the_wire_stays_what_it_is(part: str) -> None:
    """NEC 110.14(C): the lowest marking of both ends counts."""
    drop = {"run.length": {"basis": "measured", "length": "20.0 m"}}
    old, new = (with_entries(made, drop) for made in (call(), replaced(part)))
    assert verdict(new, "run.conductor") == "not measured"
    assert "8 AWG" in judged(old, "run.length").explanation
    if part == "receptacle":
        assert judged(new, "run.length") == judged(old, "run.length")


def test_neither_card_nor_power_is_made_of_the_old_numbers() -> None:
    old, new = call(), replaced("charger")
    assert [c.title for c in leave_behinds(old, assess(old, CODE)).cards][:2] == [
        "Circuit directory",
        "Adjusted rating",
    ]
    left = leave_behinds(new, assess(new, CODE))
    assert "Adjusted rating" not in [c.title for c in left.cards]
    assert FIRST in [x.why for x in left.lacking]
    (power,) = expected(new, assess(new, CODE))
    assert isinstance(power, Refused)
    assert power.why == FIRST
    other = replaced("breaker")
    assert "Circuit directory" not in [
        c.title for c in leave_behinds(other, assess(other, CODE)).cards
    ]


def test_a_new_bus_takes_every_breaker_off_and_stays_new_though_the_point_is_fed_elsewhere() -> (
    None
):
    """Common practice, no source: each breaker is seated anew, and its wire landed anew."""
    two = (point(), point(id="bay-2", name="Bay 2"))
    panels = (Panel(id=PANEL, name="Panel"), Panel(id="p2", name="Other"))
    sound = {"has_heat_marks": False, "is_damaged": False, "is_tripped_unknown": False}
    made = with_entries(
        call(points=two, panels=panels), {"panel.rating": {"bus_a": "200 A", "main_a": "200 A"}}
    )
    beside = entry("breaker.condition", "bay-2", 60, **sound)
    new = replaced("bus", made.model_copy(update={"entries": (*made.entries, beside)}))
    rows = assess(new, CODE)
    assert rows.row("breaker.condition", "bay-2").is_owed_again
    assert rows.row("panel.rating", PANEL).is_owed_again
    alone = replaced("breaker", made.model_copy(update={"entries": (*made.entries, beside)}))
    assert not assess(alone, CODE).row("breaker.condition", "bay-2").is_owed_again
    last = max(e.number for e in new.entries) + 1
    was = (Correction(number=last, at=NOON, points=(two[0],)),)
    moved = (two[0].model_copy(update={"panel": "p2"}), two[1])
    later = new.model_copy(update={"points": moved, "corrections": was})
    assert assess(later, CODE).row("panel.rating", PANEL).is_owed_again


@pytest.mark.parametrize("part", ["breaker", "bus", "receptacle", "both", "charger"])
@pytest.mark.parametrize("device", ["both", "upstream", "charger"])
def test_causes_are_ranked_whatever_was_looked_at_before_a_part_was_replaced(
    part: str, device: str
) -> None:
    """What was asked first is told of the old part, and nothing of the new one."""
    looked = {
        "outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": False},
        "outlet.ground_fault_history": {"device": device},
        "charger.damage": {
            "is_case_broken": False,
            "is_cable_cut": False,
            "has_heat_marks": False,
            "has_water": False,
        },
        "surroundings.circumstances": {"is_after_rain": False, "is_on_hot_days": True},
    }
    made = replaced(part, with_entries(call(), looked))
    assert assess(made, CODE).causes[0].causes
