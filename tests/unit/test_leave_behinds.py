"""What is left at the site: each card only where the record carries it, in its own words."""

from typing import Any

import pytest

from checks.assess import Card, Kind, LeaveBehinds, assess, leave_behinds
from checks.codes import profile
from checks.record import Decision, SignOff, Visit, VisitKind
from tests.builders import NOON, hard_wired, point, visit, with_entries

Entries = dict[str, dict[str, Any]]

BREAKER: Entries = {"breaker.rating": {"rated_a": "50 A", "poles": "2", "spaces": "14-16"}}
PLATE = {"rated_a": "48 A", "volts": "208-240", "is_listed": True, "enclosure": "type_3r"}
SET: Entries = {
    **BREAKER,
    "charger.nameplate": PLATE,
    "charger.configuration": {"configured_a": "40 A", "access": "tool"},
}
ROOM = {"method": "year", "demand_a": "60 A", "is_included": False}
HELD = {"is_managed": True, "manages": "chargers", "managed_a": "64 A"}
GROUP: Entries = {
    "panel.load": {**ROOM, **HELD},
    "panel.management": {
        "device_a": "80 A",
        "set_a": "64 A",
        "set_on": "2025-05-30",
        "is_listed": True,
        "is_restricted": True,
    },
}


def made(entries: Entries, code: str = "nec_2023", **over: Any) -> LeaveBehinds:
    record = with_entries(visit(code=code, **over), entries)
    return leave_behinds(record, assess(record, profile(code)))


def card(found: LeaveBehinds, kind: Kind) -> Card:
    (one,) = [c for c in found.cards if c.kind is kind]
    return one


def lacks(found: LeaveBehinds, kind: Kind) -> str:
    assert kind not in [c.kind for c in found.cards]
    return " ".join(x.why for x in found.lacking if x.kind is kind)


def signed(decision: Decision) -> SignOff:
    return SignOff(at=NOON, decision=decision, strokes=(((1, 2),),))


def test_a_directory_line_says_where_the_breaker_sits_and_what_it_feeds() -> None:
    """NEC 2023 408.4(A): each circuit identified as to its clear, evident and specific purpose."""
    found = made({**BREAKER, "surroundings.place": {"location": "garage"}})
    line = card(found, Kind.DIRECTORY)
    assert line.lines == (("14-16", "EV charger, Bay 1, garage · 50 A, 2-pole"),)
    assert [str(s) for s in line.sources] == ["NEC (NFPA 70) 2023 408.4(A)"]


def test_without_the_breakers_spaces_there_is_no_directory_line() -> None:
    found = made({"breaker.rating": {"rated_a": "50 A", "poles": "2"}})
    assert lacks(found, Kind.DIRECTORY) == "Record at the breaker: its spaces in the panel"


def test_a_charger_set_below_its_nameplate_is_marked_with_the_setting() -> None:
    """NEC 2023 625.42(B): the adjusted rating durably on the label; access restricted."""
    marking = card(made(SET), Kind.ADJUSTED)
    assert marking.lines[0] == ("", "Adjusted rating: 40 A")
    assert ("Circuit", "Panel A, spaces 14-16, 50 A") in marking.lines
    assert "625.42(B)" in str(marking.sources[0])


@pytest.mark.parametrize(
    ("setting", "why"),
    [
        ({"configured_a": "48 A", "access": "tool"}, ""),  # as on the nameplate: nothing adjusted
        ({"configured_a": "40 A", "access": "open"}, "Only a setting that is restricted counts"),
        ({"configured_a": "44 A", "access": "tool"}, "It is set to 44 A, above its limit"),
    ],
)
def test_no_marking_makes_a_setting_look_approved_that_is_not(
    setting: dict[str, str], why: str
) -> None:
    said = lacks(made({**SET, "charger.configuration": setting}), Kind.ADJUSTED)
    assert said.startswith(why)
    assert bool(said) is bool(why)


def test_a_setting_that_no_breaker_is_known_for_is_not_marked() -> None:
    unknown = {check: told for check, told in SET.items() if check != "breaker.rating"}
    assert lacks(made(unknown), Kind.ADJUSTED).startswith("Record the breaker first")


def test_load_management_is_marked_with_setting_sources_loads_and_dates() -> None:
    """NEC 2023 750.30(C), from memory: setting, dates, sources and loads, not to be bypassed."""
    found = made(GROUP, points=(point(), hard_wired(id="bay-2", name="Bay 2")))
    marking = card(found, Kind.MANAGED)
    words = dict(marking.lines[1:-1])
    assert marking.lines[0] == ("", "Limited by load management: 64 A")
    assert words == {
        "Source": "Panel A, device ahead 80 A",
        "Loads held": "Bay 1, Bay 2",
        "Set on": "2025-05-30",
        "Calculated on": "2025-06-02",
    }
    assert marking.lines[-1][1].startswith("Do not bypass")
    assert any("750.30(C) (from memory)" in str(s) for s in marking.sources)


@pytest.mark.parametrize(
    ("over", "why"),
    [
        ({"set_a": "70 A"}, "It is set to 70 A, above its limit"),  # 80 A / 1.25 = 64 A
        ({"is_restricted": False}, "Only a setting that is restricted counts"),
    ],
)
def test_a_wrong_or_open_managed_limit_is_not_marked(over: dict[str, Any], why: str) -> None:
    wrong = {**GROUP, "panel.management": {**GROUP["panel.management"], **over}}
    assert lacks(made(wrong), Kind.MANAGED).startswith(why)


def test_where_no_load_management_is_there_is_no_word_of_it() -> None:
    found = made({"panel.load": {**ROOM, "is_managed": False}})
    assert lacks(found, Kind.MANAGED) == ""


@pytest.mark.parametrize("decision", Decision)
def test_the_tag_is_for_what_a_person_decided_to_keep_out(decision: Decision) -> None:
    found = made({"panel.condition": {"has_heat_marks": True}}, signoff=signed(decision))
    kinds = [c.kind for c in found.cards]
    assert (Kind.TAG in kinds) is (decision is Decision.KEEP_OUT)
    if decision is Decision.KEEP_OUT:
        tag = dict(card(found, Kind.TAG).lines)
        assert tag["Why"] == "Panel condition: outside."  # a tag is small
        assert tag["Applied by"] == "Invented Person"


@pytest.mark.parametrize(
    ("started", "months", "day"),
    [
        ("2025-06-02T12:00:00Z", "12 months", "2026-06-02"),
        ("2024-01-31T12:00:00Z", "1 months", "2024-02-29"),
        ("2025-11-30T12:00:00Z", "3 months", "2026-02-28"),
    ],
)
def test_the_next_inspection_is_so_many_months_after_it_was_agreed(
    started: str, months: str, day: str
) -> None:
    agreed = {"use": "few", "months": months, "is_plan_left": True}
    record = with_entries(visit(started=started), {"handover.upkeep": agreed})
    at = tuple(e.model_copy(update={"at": started}) for e in record.entries)
    record = record.model_copy(update={"entries": at})
    found = leave_behinds(record, assess(record, profile("nec_2023")))
    assert card(found, Kind.NEXT).lines[0] == ("", f"Next inspection: {day}")


def test_without_an_agreed_time_the_card_is_said_to_be_missing_but_not_on_a_service_call() -> None:
    assert lacks(made({}), Kind.NEXT) == "Agree on it with the owner, at the handover"
    assert lacks(made({}, kind=VisitKind.SERVICE_CALL), Kind.NEXT) == ""


@pytest.mark.parametrize("months", ["0 months", "1201 months", "999999999 months"])
def test_a_time_that_is_none_is_not_printed(months: str) -> None:
    agreed = {"use": "few", "months": months, "is_plan_left": True}
    record = made({"handover.upkeep": agreed})
    assert lacks(record, Kind.NEXT) == "Agree on it with the owner, at the handover"


DEVICE = {"device": "breaker", "device_class": "class_a", "is_accessible": True}


def test_the_owners_card_has_cautions_steps_what_if_not_and_a_line_for_each_month() -> None:
    """Common practice, no source: button, dark, reset; it fails: off, no charging, call."""
    monthly = card(made({**BREAKER, "outlet.ground_fault": DEVICE}), Kind.MONTHLY)
    assert monthly.lines[0] == (
        "Device",
        "the breaker with a test button, Panel A, spaces 14-16",
    )
    assert [word.value for word, _ in monthly.cautions] == ["danger", "warning", "warning"]
    assert "Press TEST on the breaker" in " ".join(monthly.steps)
    assert "do not charge, and call an electrician" in dict(monthly.lines)["It fails"]
    assert monthly.fill_in[:1] + monthly.fill_in[-1:] == ("2025-07", "2026-06")
    assert len(monthly.fill_in) == 12
    assert "from memory" in str(monthly.sources[0])


def test_a_device_that_failed_its_test_gets_no_card_and_none_is_asked_for_where_none_is() -> None:
    failed = {"outlet.ground_fault_trip": {"is_tripped_by_button": False}}
    found = made({"outlet.ground_fault": DEVICE, **failed})
    assert lacks(found, Kind.MONTHLY).startswith("The device failed its test")
    # its steps end with switching on: no card for what is locked off
    burnt = {"outlet.damage": {"has_heat_marks": True, "is_cracked": False, "is_wet": False}}
    off = made({**BREAKER, "outlet.ground_fault": DEVICE, **burnt})
    assert lacks(off, Kind.MONTHLY).startswith("Not while it is out of service")
    none = made({"outlet.ground_fault": {"device": "none"}})
    assert lacks(none, Kind.MONTHLY) == ""
    assert lacks(made({}), Kind.MONTHLY).startswith("Record at the outlet")


@pytest.mark.parametrize("code", ["nec_2023", "cec_2021"])
def test_every_card_says_what_asks_for_it(code: str) -> None:
    agreed = {"use": "few", "months": "12 months", "is_plan_left": True}
    told = {"outlet.ground_fault": DEVICE, "handover.upkeep": agreed}
    for decision, missing in ((Decision.KEEP_OUT, Kind.MONTHLY), (Decision.RETURN, Kind.TAG)):
        found = made({**SET, **GROUP, **told}, code, signoff=signed(decision))
        assert {c.kind for c in found.cards} == set(Kind) - {missing}
        assert all(c.sources and c.goes for c in found.cards)


def test_an_empty_record_makes_no_card() -> None:
    empty: Visit = visit()
    assert leave_behinds(empty, assess(empty, profile("nec_2023"))).cards == ()
