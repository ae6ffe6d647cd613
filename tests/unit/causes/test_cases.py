"""Service calls whose cause the trade knows, published failures, and what a reading changes."""

import pytest

from checks.causes import Standing, Status
from checks.record import Attachment, Coupler, VisitKind
from tests.builders import point, visit, with_entries
from tests.unit.causes.calls import (
    CHARGES,
    LEVEL_2,
    NO_CIRCUMSTANCE,
    find,
    level_1_call,
    ranked,
    service_call,
    share,
)

TRIPS = {"breaker.trip_history": {"when": "minutes", "kind": "overcurrent"}}
SLOW = {"charger.behavior": CHARGES | {"is_slow": True}}
READY = {"charger.behavior": {"start": "ready", "is_offline": False}}


def loaded(outlet_v: str, **over: str) -> dict[str, dict[str, str]]:
    """A load test at 32 A with the panel read too."""
    return {
        "outlet.loaded_voltage": {
            "load": "vehicle",
            "outlet_no_load": "241.0 V",
            "current": "32.0 A",
            "outlet_loaded": outlet_v,
            "panel_no_load": "241.2 V",
            "panel_loaded": "240.2 V",
            **over,
        }
    }


def test_other_visits_have_no_causes() -> None:
    from checks.assess import assess
    from checks.codes import profile

    for kind in (VisitKind.COMMISSIONING, VisitKind.SITE_RECORD):
        assert assess(visit(kind=kind), profile("nec_2023")).causes == ()


def test_without_a_symptom_it_asks_for_one() -> None:
    found = ranked(service_call({}))
    assert found.status is Status.UNTOLD
    assert found.next_test is not None
    assert found.next_test.state == "any state"


# -- facts of the trade: common practice, no source ------------------------------------------------
def test_a_level_1_unit_and_a_kettle_on_one_15_a_circuit_trip_the_breaker() -> None:
    kettle = {"run.dedicated": {"is_alone": False, "what": "kettle", "other_a": "12.5 A"}}
    found = ranked(level_1_call(TRIPS | kettle))
    assert found.causes[0].cause == "shared_circuit"
    assert found.causes[0].standing is Standing.PROVEN
    assert found.status is Status.PROVEN
    assert found.next_test is None


def test_an_adapter_that_is_not_seated_burns_its_contacts() -> None:
    loose = {"is_held": True, "has_clicked": False, "is_rocking": True, "gap": "4.0 mm"}
    entries = {
        "charger.behavior": CHARGES | {"stops": "touched"},
        "adapter.pins": {
            "has_burn_marks": True,
            "is_pitted": False,
            "has_debris": False,
            "is_cracked": False,
        },
        "adapter.seating": loose,
    }
    found = ranked(service_call(entries, points=(point(inlet=Coupler.J3400),)))
    assert found.causes[0].cause == "adapter_seat"
    assert found.causes[0].standing is Standing.PROVEN


def test_a_vehicle_timer_looks_like_a_dead_charger() -> None:
    trial = {"timer": "on", "at_once": "starts", "others": "untried", "elsewhere": "untried"}
    found = ranked(service_call(READY | {"vehicle.trial": trial}))
    assert found.causes[0].cause == "vehicle_timer"
    assert found.status is Status.PROVEN


# -- published failures ----------------------------------------------------------------------------
def test_a_receptacle_that_burnt_at_a_loose_screw() -> None:
    """NCJ 243828, Development and Analysis of Electrical Receptacle Fires: loose terminal screws
    overheat; the damage is deepest at the screw."""
    entries = {
        "outlet.burn_pattern": {"place": "terminal", "is_one_sided": True, "has_arc_beads": False},
        "outlet.damage": {"has_heat_marks": True, "is_cracked": False, "is_wet": False},
        "outlet.terminal_torque": {"occasion": "found", "found": "loose"},
    }
    found = ranked(service_call(entries))
    assert found.causes[0].cause == "loose_at_outlet"
    assert found.causes[0].standing is Standing.PROVEN


@pytest.mark.parametrize("was", ["loose", "not loose"])
def test_a_screw_that_was_tightened_during_the_search_was_as_it_was_found(was: str) -> None:
    """Common practice, no source: a tight screw says nothing of how it sat before."""
    check = "outlet.terminal_torque"
    made = service_call({check: {"occasion": "found", "found": was}})
    torque = {"occasion": "tightening", "label": "2.3 N·m", "applied": "2.3 N·m"}
    after = with_entries(made, {check: {**torque, "are_all_done": True}})
    as_found = share(ranked(made), "loose_at_outlet")
    assert share(ranked(after), "loose_at_outlet") == as_found
    assert (as_found > share(ranked(service_call({})), "loose_at_outlet")) is (was == "loose")


def test_a_surge_that_damaged_a_ground_fault_device() -> None:
    """CPSC, Analysis of GFCI Data: surges and corrosion are main causes of dead devices."""
    entries = {
        "outlet.ground_fault_history": {"device": "upstream", "when": "random"},
        "surroundings.circumstances": NO_CIRCUMSTANCE | {"is_since_storm": True},
        "outlet.ground_fault": {
            "device": "receptacle",
            "device_class": "class_a",
            "is_accessible": True,
        },
        "outlet.ground_fault_trip": {
            "is_tripped_by_button": True,
            "is_restored": True,
            "method": "current",
            "trip_current": "3.1 mA",
        },
    }
    assert ranked(service_call(entries)).causes[0].cause == "worn_ground_fault_device"


def test_plug_adapters_that_melted() -> None:
    """One vehicle maker recalled about 7 000 plug adapters in 2016 after two had melted."""
    entries = {
        "outlet.burn_pattern": {"place": "cord"},
        "outlet.mounting": {
            "is_fixed": True,
            "is_face_whole": True,
            "is_plug_free": True,
            "is_cord_extended": True,
        },
    }
    found = ranked(service_call(entries))
    assert {c.cause for c in found.causes[:2]} == {"extension", "plug_inside"}


# -- a reading changed anywhere changes the ranking ------------------------------------------------
@pytest.mark.parametrize(
    ("entries", "changed", "cause"),
    [
        pytest.param(
            LEVEL_2 | loaded("239.2 V"),
            loaded("231.0 V"),
            "loose_at_outlet",
            id="hidden resistance",
        ),
        pytest.param(
            LEVEL_2,
            {"breaker.rating": {"rated_a": "30 A", "poles": "2"}},
            "charger_set_high",
            id="breaker's rating",
        ),
        pytest.param(
            {"run.dedicated": {"is_alone": True}},
            {"run.dedicated": {"is_alone": False, "what": "dryer", "other_a": "24 A"}},
            "shared_circuit",
            id="load on the circuit",
        ),
        pytest.param(
            {
                "charger.pilot_voltage": {
                    "state_a": "12.0 V",
                    "state_b": "9.0 V",
                    "state_c": "6.0 V",
                    "negative": "-12.0 V",
                }
            },
            {
                "charger.pilot_voltage": {
                    "state_a": "12.0 V",
                    "state_b": "9.1 V",
                    "state_c": "7.3 V",
                    "negative": "-12.0 V",
                }
            },
            "pilot_resistance",
            id="pilot",
        ),
    ],
)
def test_with_no_symptom_touched(entries, changed, cause) -> None:
    before = ranked(service_call(SLOW | entries))
    after = ranked(service_call(SLOW | entries | changed))
    assert share(after, cause) > 2 * share(before, cause)


def test_the_same_volts_lost_in_a_long_thin_run_are_the_metal_s() -> None:
    """12 AWG, 45 m out and back: 5.21 mΩ/m × 90 m, 0.47 Ω (NEC chapter 9 table 8): 15 V at 32 A."""
    long_run = {
        "run.conductor": LEVEL_2["run.conductor"] | {"size": "12 AWG"},
        "run.length": {"basis": "measured", "length": "45.0 m"},
    }
    short = ranked(service_call(SLOW | LEVEL_2 | loaded("225.0 V")))
    long = ranked(service_call(SLOW | LEVEL_2 | long_run | loaded("225.0 V")))
    assert share(short, "loose_at_outlet") > 3 * share(long, "loose_at_outlet")
    assert share(long, "long_run") > 3 * share(short, "long_run")


# -- what is said ----------------------------------------------------------------------------------
def test_each_cause_says_what_speaks_for_and_against_it_with_its_numbers() -> None:
    found = ranked(level_1_call(TRIPS | {"run.dedicated": {"is_alone": True}}))
    shared = find(found, "shared_circuit")
    assert shared is not None
    assert "The breaker trips within half an hour" in [g.words for g in shared.speaks_for]
    (against,) = [g for g in shared.speaks_against if g.check == "run.dedicated"]
    assert against.words == "Nothing else hangs on the circuit"
    assert against.weight == "strongly"
    assert against.basis.document
    assert against.subject == "bay-1"
    setting = find(found, "charger_set_high")
    assert setting is not None
    details = [g.detail for g in setting.speaks_against]
    assert any("12 A" in d for d in details), "the numbers of the reading stand beside the words"


def test_two_causes_at_once_and_none_of_these_keep_their_share() -> None:
    entries = TRIPS | {
        "run.dedicated": {"is_alone": False, "what": "kettle", "other_a": "12.5 A"},
        "outlet.terminal_torque": {"occasion": "found", "found": "loose"},
        "outlet.damage": {"has_heat_marks": True, "is_cracked": False, "is_wet": False},
    }
    found = ranked(level_1_call(entries))
    assert found.two_at_once_pct > 30
    assert set(found.likeliest_two) == {c.title for c in found.causes[:2]}
    assert {c.cause for c in found.causes[:2]} == {"shared_circuit", "loose_at_outlet"}
    assert ranked(level_1_call({})).none_pct >= 1


def test_a_repair_is_proved_by_the_readings_that_showed_the_fault() -> None:
    kettle = {"run.dedicated": {"is_alone": False, "what": "kettle", "other_a": "12.5 A"}}
    made = level_1_call(TRIPS | kettle)
    (first, *_) = ranked(made).causes
    (proof, *_) = [v for v in first.verify if v.check == "run.dedicated"]
    assert "12.5 A" in proof.before
    assert not proof.is_repeated
    mended = made.entries[-1].model_copy(update={"number": 99, "after_mending": True})
    again = made.model_copy(update={"entries": (*made.entries, mended)})
    assert [v.is_repeated for v in ranked(again).causes[0].verify if v.check == proof.check] == [
        True
    ]


@pytest.mark.parametrize(
    ("attachment", "is_there"),
    [(Attachment.RECEPTACLE, True), (Attachment.HARD_WIRED, False)],
)
def test_what_is_not_installed_is_no_cause(attachment: Attachment, is_there: bool):
    # common practice, no source: where no receptacle is, none wears and no plug is in it
    told = LEVEL_2 | {"charger.behavior": CHARGES | {"stops": "minutes"}}
    made = service_call(told, points=(point(attachment=attachment),))
    causes = {c.cause for c in ranked(made).causes}
    by_plug = {"worn_contacts", "wrong_receptacle", "extension", "plug_inside", "strain"}
    assert (by_plug <= causes) is is_there
    assert bool(by_plug & causes) is is_there
    assert "adapter_seat" not in causes  # connector and inlet are alike
