"""A charge that stops when the handle is moved: the latch, its switch, or the contacts.

Facts of the trade here: common practice, no source.
"""

import pytest

from checks.causes import Standing, Status
from tests.unit.causes.calls import (
    CHARGES,
    NO_CIRCUMSTANCE,
    Plain,
    find,
    ranked,
    service_call,
    share,
)

TOUCHED: Plain = {
    "charger.behavior": CHARGES | {"stops": "touched"},
    "outlet.ground_fault_history": {"device": "none"},
    "breaker.trip_history": {"when": "never"},
    "outlet.burn_pattern": {"place": "none"},
}
HOMED: Plain = {
    "connector.seating": {
        "is_held": True,
        "has_clicked": True,
        "is_rocking": False,
        "gap": "0.4 mm",
        "latched_ohm": "150 Ω",
        "pressed_ohm": "480 Ω",
    }
}
LOOSE: Plain = {
    "connector.seating": HOMED["connector.seating"]
    | {"is_held": False, "has_clicked": False, "is_rocking": True, "gap": "3.0 mm"}
}
CLEAN: Plain = {
    "connector.pins": dict.fromkeys(
        ("has_burn_marks", "is_pitted", "has_debris", "is_cracked"), False
    )
}


def test_a_latch_that_lets_go_settles_it_and_clean_pins_do_not_take_that_back() -> None:
    found = ranked(service_call(TOUCHED | LOOSE | CLEAN))
    assert (found.causes[0].cause, found.status) == ("worn_latch", Status.PROVEN)
    assert found.next_test is None
    assert ranked(service_call(TOUCHED | LOOSE)).causes[0].cause == "worn_latch"


def test_the_faces_are_looked_at_and_then_the_seat_before_anything_is_opened() -> None:
    """Common practice, no source: nothing that may be burnt is pushed home to see."""
    looked = {"vehicle.inlet_condition": CLEAN["connector.pins"]}
    seen = TOUCHED | CLEAN | looked
    for made, check in ((TOUCHED, "connector.pins"), (seen, "connector.seating")):
        test = ranked(service_call(made)).next_test
        assert test is not None
        assert test.check == check


def test_a_connector_that_sits_home_is_no_worn_latch() -> None:
    assert share(ranked(service_call(TOUCHED | HOMED)), "worn_latch") < 0.1


def test_wrong_proximity_ohms_in_a_connector_that_holds_are_the_switch_s() -> None:
    """SAE J1772: 150 Ω with the button free, 480 Ω with it pressed."""
    ohms = HOMED["connector.seating"] | {"latched_ohm": "480 Ω"}
    found = ranked(service_call(TOUCHED | CLEAN | {"connector.seating": ohms}))
    assert (found.causes[0].cause, found.status) == ("proximity_switch", Status.PROVEN)
    latch = find(found, "worn_latch")
    assert latch is None or "The connector does not sit home" not in [
        g.words for g in latch.speaks_for
    ]


CRACKED: Plain = {"connector.pins": CLEAN["connector.pins"] | {"is_cracked": True}}
OPENS: Plain = {
    "outlet.ground_fault_history": {"device": "charger", "when": "random"},
    "breaker.trip_history": {"when": "never"},
    "surroundings.circumstances": NO_CIRCUMSTANCE | {"is_after_rain": True},
}
BENT: Plain = {
    "charger.behavior": CHARGES | {"stops": "touched"},
    "outlet.ground_fault_history": {"device": "charger", "when": "random"},
    "surroundings.circumstances": NO_CIRCUMSTANCE,
}


@pytest.mark.parametrize(
    ("told", "cause"),
    [
        # common practice, no source: what was dropped or driven over holds no latch, lets water to
        # the pins, and breaks or shorts the pilot behind them
        (TOUCHED, "worn_latch"),
        (TOUCHED, "proximity_switch"),
        (OPENS, "moisture"),
        (BENT, "charger_cable"),
        ({"charger.behavior": {"start": "fault", "fault": "pilot"}}, "pilot_short"),
        ({"charger.behavior": {"start": "fault", "fault": "pilot"}}, "pilot_resistance"),
    ],
)
def test_a_cracked_housing_speaks_for_what_a_blow_or_water_makes(told: Plain, cause: str) -> None:
    whole, cracked = ranked(service_call(told | CLEAN)), ranked(service_call(told | CRACKED))
    assert share(cracked, cause) > share(whole, cause)
    named = find(cracked, cause)
    assert named is not None
    words = "Housing or latch of the connector is cracked"
    assert words in [ground.words for ground in named.speaks_for]


def test_a_cracked_housing_proves_no_worn_contact() -> None:
    """Common practice, no source: pins behind a cracked housing may be bright and smooth."""
    found = find(ranked(service_call(TOUCHED | CRACKED)), "coupler_worn")
    assert found is None or found.standing is not Standing.PROVEN
