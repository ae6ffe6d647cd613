"""A ground-fault device trips in the rain: what is asked, what a reading proves, and what not.

Facts of the trade here: common practice, no source.
"""

from checks.causes import Ranking, View
from checks.causes.explaining import explained
from checks.check import Situation
from checks.codes import profile
from tests.unit.causes.calls import NO_CIRCUMSTANCE, Plain, find, ranked, service_call, share

DARK: Plain = {"charger.behavior": {"start": "dead"}}
OPENED: Plain = {"outlet.ground_fault_history": {"device": "upstream", "when": "idle"}}
RAIN: Plain = {"surroundings.circumstances": NO_CIRCUMSTANCE | {"is_after_rain": True}}
WATER: Plain = {"outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": True}}


def shares(found: Ranking) -> dict[str, str]:
    return {c.cause: c.share for c in found.causes}


def test_behind_an_open_device_every_charger_is_dark() -> None:
    told = OPENED | RAIN | WATER
    asked, dark = ranked(service_call(told)), ranked(service_call(DARK | told))
    assert shares(dark) == shares(asked)
    assert dark.causes[0].cause == "moisture"
    moisture = find(dark, "moisture")
    assert moisture is not None
    assert "No light on the charger" not in [g.words for g in moisture.speaks_against]


def test_a_breaker_that_shows_a_ground_fault_leaves_it_dark_as_well() -> None:
    tripped = {"breaker.trip_history": {"when": "random", "kind": "ground_fault"}}
    assert shares(ranked(service_call(DARK | tripped | RAIN))) == shares(
        ranked(service_call(tripped | RAIN))
    )


def test_a_dark_charger_behind_a_closed_device_still_tells_of_its_supply() -> None:
    closed = {"outlet.ground_fault_history": {"device": "none"}}
    assert share(ranked(service_call(DARK | closed)), "supply_off") > 0.3


def test_what_explains_the_open_device_explains_the_dark_charger() -> None:
    made = service_call(DARK | OPENED)
    view = View(Situation(made, profile("nec_2023"), "bay-1"), {})
    assert set(explained(view, {"run_insulation"})) == {
        "charger.behavior",
        "outlet.ground_fault_history",
    }
    assert explained(view, {"vehicle_timer"}) == ()
