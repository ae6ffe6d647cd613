"""The breaker: rating against the charger's load, poles, made dead and proved, torque."""

import pytest

from checks.check import Choice, Situation
from checks.codes import profile
from checks.record import Category, InstrumentKind, Role, Visit, VisitKind
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import instruments, judge, level_1, visit, with_entries

CHARGER_48 = {"charger.configuration": {"configured_a": "48 A"}}
LOCKED = {
    "is_off": True,
    "is_locked": True,
    "is_tagged": True,
    "is_key_kept": True,
    "are_sources_isolated": True,
}
DEAD = {
    "known_before": "120.4 V",
    "is_every_pair": True,
    "highest": "0.1 V",
    "known_after": "120.3 V",
}


def test_the_limit_is_in_view_before_the_rating_is_typed():
    found = judge(with_entries(visit(), CHARGER_48), "breaker.rating")
    assert found.verdict is Verdict.NOT_MEASURED
    # 48 A × 125 % = 60 A: NEC 2023 210.20(A), 625.41
    assert [(limit.side.value, limit.value) for limit in found.limits] == [("at least", 60.0)]


@pytest.mark.parametrize(
    ("rated", "verdict"),
    [
        ("60 A", Verdict.WITHIN),  # equal to 125 % of 48 A: NEC 2023 625.41
        ("50 A", Verdict.OUTSIDE),
        ("55 A", Verdict.OUTSIDE),  # no standard rating, and too small: NEC 2023 240.6(A)
    ],
)
def test_the_breaker_carries_125_percent_of_the_charger(rated: str, verdict: Verdict):
    entries = {**CHARGER_48, "breaker.rating": {"rated_a": rated, "poles": "2"}}
    assert judge(with_entries(visit(), entries), "breaker.rating").verdict is verdict


def test_a_single_pole_leaves_a_leg_of_240_volts_alive():
    entries = {**CHARGER_48, "breaker.rating": {"rated_a": "60 A", "poles": "1"}}
    found = judge(with_entries(visit(), entries), "breaker.rating")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)


def test_level_1_takes_one_pole():
    entries = {
        "charger.nameplate": {"rated_a": "12 A"},
        "breaker.rating": {"rated_a": "15 A", "poles": "1"},  # 12 × 125 % = 15
    }
    made = with_entries(visit(points=(level_1(),)), entries)
    assert judge(made, "breaker.rating").verdict is Verdict.WITHIN


def test_two_poles_at_120_volts_ask_whether_a_neutral_is_shared():
    # a multiwire circuit opens both lines together: NEC 2023 210.4(B), from memory
    entries = {
        "charger.nameplate": {"rated_a": "12 A"},
        "breaker.rating": {"rated_a": "15 A", "poles": "2"},
    }
    found = judge(with_entries(visit(points=(level_1(),)), entries), "breaker.rating")
    assert (found.verdict, found.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
    assert "share a neutral" in found.settles


def test_without_the_charger_the_rating_is_kept_and_not_judged_good():
    made = with_entries(visit(), {"breaker.rating": {"rated_a": "60 A", "poles": "2"}})
    assert judge(made, "breaker.rating").verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize("sign", ["has_heat_marks", "is_damaged"])
def test_heat_marks_or_damage_are_danger(sign: str):
    answers = {"has_heat_marks": False, "is_damaged": False, "is_tripped_unknown": False}
    made = with_entries(visit(), {"breaker.condition": {**answers, sign: True}})
    found = judge(made, "breaker.condition")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "reset" not in found.remedy.lower()
    sound = with_entries(visit(), {"breaker.condition": answers})
    assert judge(sound, "breaker.condition").verdict is Verdict.WITHIN


def test_lock_and_tag_stand_together():
    made = with_entries(visit(), {"breaker.lock_and_tag": LOCKED})
    assert judge(made, "breaker.lock_and_tag").verdict is Verdict.WITHIN
    unlocked = with_entries(visit(), {"breaker.lock_and_tag": {**LOCKED, "is_locked": False}})
    assert judge(unlocked, "breaker.lock_and_tag").severity is Severity.DANGER


@pytest.mark.parametrize("recorded", [None, True, False])
@pytest.mark.parametrize(
    ("isolated", "verdict"),
    [(None, Verdict.NOT_MEASURED), (True, Verdict.WITHIN), (False, Verdict.OUTSIDE)],
)
def test_every_other_source_is_isolated_whatever_the_service_record_says(
    recorded: bool | None, isolated: bool | None, verdict: Verdict
):
    # NFPA 70E 120.5: find every source, then open, lock and tag each; from memory
    answers = {k: v for k, v in LOCKED.items() if k != "are_sources_isolated"}
    entries: dict[str, dict[str, object]] = {"breaker.lock_and_tag": answers}
    if isolated is not None:
        answers["are_sources_isolated"] = isolated
    if recorded is not None:
        entries["service.other_sources"] = {"is_present": recorded}
    found = judge(with_entries(visit(), entries), "breaker.lock_and_tag")
    assert found.verdict is verdict
    if verdict is Verdict.NOT_MEASURED:
        assert "other source" in found.explanation
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.DANGER
    if verdict is Verdict.WITHIN and recorded is None:
        assert "not yet recorded" in found.explanation


@pytest.mark.parametrize("check", ["breaker.lock_and_tag", "breaker.absence_of_voltage"])
def test_who_inspects_opens_nothing(check: str):
    found = judge(visit(role=Role.INSPECTS), check)
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert "opens nothing" in found.explanation


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        ({}, Verdict.WITHIN),
        ({"highest": "57.8 V"}, Verdict.OUTSIDE),  # half of 120 V: induced or live, not dead
        ({"highest": "2.9 V"}, Verdict.BORDERLINE),
        ({"known_after": "0.0 V"}, Verdict.OUTSIDE),  # the meter died during the test
        ({"is_every_pair": False}, Verdict.OUTSIDE),
    ],
)
def test_prove_test_prove(change: dict[str, object], verdict: Verdict):
    # IEC 60364-6 and electrical safety practice: prove on a known source, test, prove again
    made = with_entries(visit(), {"breaker.absence_of_voltage": {**DEAD, **change}})
    found = judge(made, "breaker.absence_of_voltage")
    assert found.verdict is verdict
    if verdict is Verdict.OUTSIDE:
        assert found.severity is Severity.DANGER
    if verdict is Verdict.WITHIN:  # the volts that are told of a dead circuit are its own
        assert found.telling == "dead"
        assert found.measured is not None
        assert float(found.measured.value) == 0.1  # as read above
        assert [x.value for x in found.limits[:1]] == [3.0]


def test_a_meter_for_plug_in_loads_proves_nothing_at_a_panel():
    # IEC 61010-2-030: CAT III at a distribution panel
    weak = tuple(
        i.model_copy(update={"category": Category.CAT_II})
        if i.kind is InstrumentKind.MULTIMETER
        else i
        for i in instruments()
    )
    made = with_entries(visit(instruments=weak), {"breaker.absence_of_voltage": DEAD})
    found = judge(made, "breaker.absence_of_voltage")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)


@pytest.mark.parametrize(
    "kind", [InstrumentKind.CLAMP, InstrumentKind.LOOP, InstrumentKind.LOGGER, InstrumentKind.TAPE]
)
def test_nothing_but_a_meter_for_volts_proves_a_circuit_dead(kind: InstrumentKind):
    # common practice, no source: a multimeter proved before and after
    other = tuple(
        i.model_copy(update={"kind": kind}) if i.kind is InstrumentKind.MULTIMETER else i
        for i in instruments()
    )
    made = with_entries(visit(instruments=other), {"breaker.absence_of_voltage": DEAD})
    found = judge(made, "breaker.absence_of_voltage")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "multimeter" in found.explanation


TIGHT = {
    "occasion": "tightening",
    "label": "45 lbf·in",
    "applied": "45 lbf·in",
    "are_all_done": True,
}


@pytest.mark.parametrize(
    ("applied", "verdict"),
    [
        ("45 lbf·in", Verdict.WITHIN),
        ("48 lbf·in", Verdict.BORDERLINE),  # the tool's ±6 % reaches over 10 %
        ("30 lbf·in", Verdict.OUTSIDE),
        ("65 lbf·in", Verdict.OUTSIDE),
    ],
)
def test_torque_while_tightening_meets_the_label(applied: str, verdict: Verdict):
    made = with_entries(visit(), {"breaker.terminal_torque": {**TIGHT, "applied": applied}})
    assert judge(made, "breaker.terminal_torque").verdict is verdict


@pytest.mark.parametrize(
    ("place", "is_first", "verdict"),
    [
        # common practice: what was taken off for a test is landed and tightened once more
        ("panel", True, Verdict.BORDERLINE),
        ("panel", False, Verdict.WITHIN),
        ("outlet", True, Verdict.WITHIN),  # from the outlet the breaker's terminals stay closed
    ],
)
def test_a_torque_before_the_insulation_test_counts_no_longer(
    place: str, is_first: bool, verdict: Verdict
):
    tested = {"run.insulation": {"place": place, "is_disconnected": True, "test_v": "500"}}
    tight = {"breaker.terminal_torque": TIGHT}
    made = with_entries(visit(), tight | tested if is_first else tested | tight)
    found = judge(made, "breaker.terminal_torque")
    assert found.verdict is verdict
    assert ("insulation" in found.explanation) is (verdict is Verdict.BORDERLINE)


@pytest.mark.parametrize(
    ("place", "verdict"),
    [
        # common practice, no source: a conductor that is landed anew is brought to its label
        ("panel", Verdict.WITHIN),
        ("outlet", Verdict.BORDERLINE),  # the breaker's joint stayed as it was in use
    ],
)
def test_on_a_call_a_terminal_that_a_test_had_taken_off_is_held_to_the_label(
    place: str, verdict: Verdict
):
    tested = {"run.insulation": {"place": place, "is_disconnected": True, "test_v": "500"}}
    made = with_entries(
        visit(kind=VisitKind.SERVICE_CALL), tested | {"breaker.terminal_torque": TIGHT}
    )
    found = judge(made, "breaker.terminal_torque")
    assert found.verdict is verdict
    assert ("in use" in found.explanation) is (verdict is Verdict.BORDERLINE)


def test_a_terminal_that_a_test_had_taken_off_cannot_be_as_it_was_found():
    seen = {"breaker.terminal_torque": {"occasion": "found", "found": "not loose"}}
    tested = {"run.insulation": {"place": "panel", "is_disconnected": True, "test_v": "500"}}
    before, after = (
        with_entries(visit(kind=VisitKind.SERVICE_CALL), entries)
        for entries in (seen, tested | seen)
    )
    check = BY_ID["breaker.terminal_torque"]

    def options(of: Visit) -> list[str]:
        asked = check.at(Situation(of, profile("nec_2023"), of.points[0].id)).input("occasion")
        assert isinstance(asked, Choice)
        return [o.value for o in asked.options]

    assert options(before) == ["tightening", "found"]
    assert options(after) == ["tightening"]
    assert judge(after, check.id).verdict is Verdict.BORDERLINE
    assert "insulation" in judge(after, check.id).explanation


def test_a_joint_that_was_made_anew_on_a_service_call_is_held_to_the_label():
    """Remade after mending its torque is known; only of a joint that was in use it is not."""
    made = with_entries(visit(kind=VisitKind.SERVICE_CALL), {"breaker.terminal_torque": TIGHT})
    entry = made.entries[0].model_copy(update={"after_mending": True})
    remade = made.model_copy(update={"entries": (entry,)})
    assert judge(made, "breaker.terminal_torque").verdict is Verdict.BORDERLINE
    assert judge(remade, "breaker.terminal_torque").verdict is Verdict.WITHIN


@pytest.mark.parametrize("kind", [VisitKind.SITE_RECORD, VisitKind.SERVICE_CALL])
@pytest.mark.parametrize("answers", [TIGHT, {"occasion": "found", "found": "not loose"}])
def test_torque_found_later_is_never_within(kind: VisitKind, answers: dict[str, object]):
    # NEC 2023 Informative Annex I: a later check does not show what was applied
    made = with_entries(visit(kind=kind), {"breaker.terminal_torque": answers})
    assert judge(made, "breaker.terminal_torque").verdict is Verdict.BORDERLINE


def test_a_loose_terminal_is_danger():
    made = with_entries(
        visit(), {"breaker.terminal_torque": {"occasion": "found", "found": "loose"}}
    )
    assert judge(made, "breaker.terminal_torque").severity is Severity.DANGER
