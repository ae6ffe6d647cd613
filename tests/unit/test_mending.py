"""What was found, what was mended, and what the readings say since."""

import pytest

from checks.assess import Assessor, as_found, assess
from checks.causes import Status
from checks.check import latest_entries, of_gone_parts
from checks.codes import profile
from checks.path import Station
from checks.record import Chosen, Entry, Visit
from checks.stations import symptoms
from checks.stations.all import CHECKS
from tests.builders import NOON, PANEL, POINT, visit, with_entries
from tests.unit.causes.calls import (
    CHARGES,
    LEVEL_2,
    NO_CIRCUMSTANCE,
    Plain,
    level_1_call,
    service_call,
)

CODE = profile("nec_2023")
TRIPS = {"breaker.trip_history": {"when": "minutes", "kind": "overcurrent"}}
SHARED = {"is_alone": False, "what": "kettle", "other_a": "12.5 A"}


def again(made: Visit, check: str, answers: dict[str, object]) -> Visit:
    """The same check once more, after mending."""
    fresh = with_entries(made.model_copy(update={"entries": ()}), {check: answers}).entries[0]
    number = 1 + max(e.number for e in made.entries)
    entry = fresh.model_copy(update={"number": number, "after_mending": True})
    return made.model_copy(update={"entries": (*made.entries, entry)})


def test_a_repeat_keeps_the_first_reading_beside_the_second() -> None:
    found = level_1_call(TRIPS | {"run.dedicated": SHARED})
    mended = again(found, "run.dedicated", {"is_alone": True})
    (repeat,) = assess(mended, CODE).repeats
    assert repeat.before.judgement == assess(found, CODE).row("run.dedicated", POINT).judgement
    assert repeat.before.judgement.verdict == "outside"
    assert repeat.after.judgement.verdict == "within"
    assert as_found(mended).entries == found.entries
    assert as_found(found) is found


def test_the_causes_stay_those_of_the_fault_as_it_was_found() -> None:
    found = level_1_call(TRIPS | {"run.dedicated": SHARED})
    mended = again(found, "run.dedicated", {"is_alone": True})
    (before,), (after,) = assess(found, CODE).causes, assess(mended, CODE).causes
    assert before.status is after.status is Status.PROVEN
    assert [c.share for c in before.causes] == [c.share for c in after.causes]
    (proof,) = [v for v in after.causes[0].verify if v.check == "run.dedicated"]
    assert proof.is_repeated
    assert "12.5 A" in proof.before
    assert "12.5 A" not in proof.after


def test_a_part_that_was_replaced_no_longer_bars_a_live_test() -> None:
    """A part that is burnt keeps voltage away until it is replaced: common practice, no source."""
    burnt = {"has_heat_marks": True, "is_cracked": False, "is_wet": False}
    found = level_1_call({"outlet.damage": burnt})
    mended = again(found, "outlet.damage", burnt | {"has_heat_marks": False})
    assert any("burnt" in why for why in assess(found, CODE).causes[0].barred)
    assert not any("burnt" in why for why in assess(mended, CODE).causes[0].barred)


def test_an_assessor_that_follows_the_visit_gives_the_same() -> None:
    found = level_1_call(TRIPS | {"run.dedicated": SHARED})
    mended = again(found, "run.dedicated", {"is_alone": True})
    worse = again(mended, "run.dedicated", SHARED)
    follows = Assessor(CODE)
    for made in (found, mended, worse, mended, found):
        assert follows.assess(made) == assess(made, CODE)
    assert len(assess(worse, CODE).repeats) == 1


def test_a_repair_that_mends_nothing_is_a_finding() -> None:
    said = {"outcome": "made_safe", "done": "Breaker off and locked"}
    row = assess(level_1_call({"surroundings.repair": said}), CODE).row(
        "surroundings.repair", POINT
    )
    assert row.judgement.verdict == "outside"
    assert row.judgement.severity == "warning"
    said = {"outcome": "mended", "done": "Own circuit pulled", "parts": "breaker"}
    row = assess(level_1_call({"surroundings.repair": said}), CODE).row(
        "surroundings.repair", POINT
    )
    assert row.judgement.verdict == "within"
    assert "Own circuit pulled; parts: breaker" in row.judgement.explanation


# -- symptoms, once their cause is mended ----------------------------------------------------------
MENDED = {"surroundings.repair": {"outcome": "mended", "done": "Own circuit pulled"}}
PLATE = {"rated_a": "15 A", "poles": "1"}
CONTEXT = {"surroundings.circumstances": NO_CIRCUMSTANCE | {"is_with_other_loads": True}}


def repaired(told: Plain, repair: Plain = MENDED) -> Visit:
    """A shared circuit that was found, repaired, and read again."""
    found = level_1_call(TRIPS | CONTEXT | {"run.dedicated": SHARED} | told | repair)
    return again(again(found, "run.dedicated", {"is_alone": True}), "breaker.rating", PLATE)


def verdicts(made: Visit) -> dict[str, str]:
    return {r.check: str(r.judgement.verdict) for r in assess(made, CODE).rows}


def test_a_symptom_that_a_mended_cause_explains_no_longer_stands_and_is_kept() -> None:
    made = repaired({})
    assessment = assess(made, CODE)
    for check in ("breaker.trip_history", "surroundings.circumstances"):
        row = assessment.row(check, POINT)
        assert row.judgement.verdict == "within"
        assert "other loads on the charger's circuit" in row.judgement.explanation
        assert check not in [f.row.check for f in assessment.findings]
        (kept,) = [r for r in assessment.repeats if r.after.check == check]
        assert kept.is_told_once
        assert kept.before.judgement.verdict == "outside"
        assert kept.before.judgement.explanation[1:] in row.judgement.explanation
    (breaker,) = [s for s in assessment.points[0].path if s.station == "breaker"]
    assert breaker.verdict != "outside"


def test_what_a_mended_cause_does_not_make_stays_open() -> None:
    stuck = {"connector.release": {"is_stuck": True}}
    found = verdicts(repaired(stuck))
    assert found["connector.release"] == "outside"
    assert found["breaker.trip_history"] == "within"
    assert found["surroundings.circumstances"] == "outside", "it may be when the other one happens"


def test_a_symptom_of_which_one_sign_is_not_explained_stays_open() -> None:
    slow = {"charger.behavior": CHARGES | {"is_slow": True}}
    assert verdicts(repaired(slow))["charger.behavior"] == "outside"


def test_a_symptom_stays_until_all_that_shows_it_mended_stands() -> None:
    found = level_1_call(TRIPS | {"run.dedicated": SHARED} | MENDED)
    half = again(found, "run.dedicated", {"is_alone": True})
    assert verdicts(half)["breaker.trip_history"] == "outside", "the breaker was not read again"
    worse = again(again(found, "breaker.rating", PLATE), "run.dedicated", SHARED)
    assert verdicts(worse)["breaker.trip_history"] == "outside", "another load is still there"
    safe = {"surroundings.repair": {"outcome": "made_safe", "done": "Off and locked"}}
    assert verdicts(repaired({}, safe))["breaker.trip_history"] == "outside", "nothing is mended"


def test_a_symptom_of_no_proven_cause_stays_open() -> None:
    found = level_1_call(TRIPS | {"run.dedicated": {"is_alone": True}} | MENDED)
    made = again(again(found, "run.dedicated", {"is_alone": True}), "breaker.rating", PLATE)
    assert assess(made, CODE).causes[0].status is not Status.PROVEN
    assert verdicts(made)["breaker.trip_history"] == "outside"


def test_what_is_explained_with_nothing_to_mend_says_so() -> None:
    """A charger that is set low on purpose charges slowly: common practice, no source."""
    low = LEVEL_2["charger.configuration"] | {"configured_a": "16 A"}
    said = {"outcome": "explained", "done": "Set low for its feeder, as the owner wants it"}
    slow = {
        "charger.behavior": CHARGES | {"is_slow": True},
        "charger.configuration": low,
        "charger.offered_current": {"method": "amps", "amps": "16.0 A"},
        "outlet.configuration": {"kind": "14-50", "count": "single"},
        "vehicle.trial": {"timer": "off", "others": "same", "elsewhere": "fine"},
        "outlet.loaded_voltage": {
            "load": "vehicle",
            "outlet_no_load": "241.0 V",
            "current": "16.0 A",
            "outlet_loaded": "239.7 V",
            "panel_no_load": "241.2 V",
            "panel_loaded": "240.8 V",
        },
    }
    made = service_call(LEVEL_2 | slow | {"surroundings.repair": said})
    for check, answers in (
        ("charger.configuration", low),
        ("charger.offered_current", slow["charger.offered_current"]),
        ("breaker.rating", LEVEL_2["breaker.rating"]),
    ):
        made = again(made, check, answers)
    assessment = assess(made, CODE)
    assert assessment.causes[0].causes[0].cause == "low_setting"
    row = assessment.row("charger.behavior", POINT)
    assert row.judgement.verdict == "within"
    assert row.judgement.explanation.startswith("Explained, nothing to mend: charger set low")


def test_what_is_first_read_after_the_repair_says_nothing_of_the_fault() -> None:
    """A part that was dried, or is new, shows no more what was wrong with it."""
    wet = {"outlet.damage": {"has_heat_marks": False, "is_cracked": False, "is_wet": True}}
    trips = {"outlet.ground_fault_history": {"device": "upstream", "when": "random"}}
    device = {"outlet.ground_fault": {"device": "receptacle"}}
    found = level_1_call(wet | trips | device | MENDED)
    sound = {
        "place": "outlet",
        "is_disconnected": True,
        "test_v": "500",
        "line_ground": "300 MΩ",
        "between": "300 MΩ",
    }
    dry = again(found, "run.insulation", sound)
    first = dry.model_copy(
        update={
            "entries": tuple(e.model_copy(update={"after_mending": False}) for e in dry.entries)
        }
    )
    (before,), (after,) = assess(found, CODE).causes, assess(first, CODE).causes
    assert [c.share for c in before.causes] == [c.share for c in after.causes]
    assert before.barred != after.barred, "what may be tested is decided by how it is now"


def test_an_assessor_that_follows_the_repair_gives_the_same() -> None:
    found = level_1_call(TRIPS | CONTEXT | {"run.dedicated": SHARED})
    follows = Assessor(CODE)
    for made in (found, repaired({}), repaired({"connector.release": {"is_stuck": True}}), found):
        assert follows.assess(made) == assess(made, CODE)


# -- a part that was replaced ----------------------------------------------------------------------
SOUND = {"has_heat_marks": False, "is_damaged": False, "is_tripped_unknown": False}
GONE = "The breaker was replaced since this was checked: check it again"


def replaced(part: str, condition: dict[str, bool] | None = None) -> Visit:
    """The breaker looked at, then a repair that replaced a part."""
    mended = {"outcome": "mended", "replaced": part, "done": "A new one"}
    return level_1_call({"breaker.condition": condition or SOUND, "surroundings.repair": mended})


def of_the_breaker(made: Visit) -> tuple[str, str]:
    judged = assess(made, CODE).row("breaker.condition", POINT).judgement
    return judged.verdict.value, judged.explanation


@pytest.mark.parametrize(
    ("part", "is_gone"),
    [
        ("none", False),
        ("receptacle", False),
        ("charger", False),
        ("breaker", True),
        ("bus", True),
        ("both", True),
    ],
)
def test_what_was_within_on_a_part_that_is_gone_says_nothing_of_the_new_one(
    part: str, *, is_gone: bool
) -> None:
    """Common practice, no source."""
    verdict, said = of_the_breaker(replaced(part))
    assert (verdict, said == GONE) == (("not measured", True) if is_gone else ("within", False))


@pytest.mark.parametrize(("part", "verdict"), [("breaker", "within"), ("bus", "not measured")])
def test_a_new_bus_is_looked_at_anew_with_all_that_is_landed_on_it(part: str, verdict: str) -> None:
    """Common practice, no source."""
    signs = ("has_heat_marks", "is_neutral_loose", "is_double_tapped", "is_neutral_shared")
    mended = {"outcome": "mended", "replaced": part, "done": "A new one"}
    seen = {"neutrals": "tried", **dict.fromkeys(signs, False)}
    looked = {"panel.terminals": seen, "surroundings.repair": mended}
    judged = assess(level_1_call(looked), CODE).row("panel.terminals", PANEL).judgement
    assert judged.verdict.value == verdict


def test_the_new_part_is_within_once_it_was_checked_itself() -> None:
    assert of_the_breaker(again(replaced("breaker"), "breaker.condition", SOUND))[0] == "within"


def test_a_later_repair_neither_brings_a_part_back_nor_spares_what_was_checked_before_it() -> None:
    made = replaced("breaker")
    for part, outcome in (("none", "mended"), ("charger", "mended"), ("breaker", "made_safe")):
        said = {"outcome": outcome, "done": "And more"}
        said |= {"replaced": part} if outcome == "mended" else {}
        later = again(made, "surroundings.repair", said)
        assert of_the_breaker(later)[0] == "not measured"
    checked = again(made, "breaker.condition", SOUND)
    second = {"outcome": "mended", "replaced": "breaker", "done": "Another one"}
    twice = again(checked, "surroundings.repair", second)
    assert of_the_breaker(twice)[0] == "not measured"
    assert of_the_breaker(again(twice, "breaker.condition", SOUND))[0] == "within"


def test_what_was_wrong_with_a_part_stays_found_until_the_new_one_was_looked_at() -> None:
    worn = replaced("breaker", SOUND | {"is_damaged": True})
    assert of_the_breaker(worn)[0] == "outside"
    assert of_the_breaker(again(worn, "breaker.condition", SOUND))[0] == "within"


def test_the_fault_is_searched_in_the_part_that_was_there() -> None:
    made = replaced("breaker")
    views = as_found(made)
    assert [e.check for e in made.entries if e not in views.entries] == ["surroundings.repair"]
    assert of_the_breaker(views)[0] == "within"
    told_again = {"outcome": "mended", "replaced": "breaker", "done": "A new one, said better"}
    assert as_found(again(made, "surroundings.repair", told_again)) == views


def test_every_check_of_a_part_that_can_be_replaced_is_made_again_but_for_told_ones() -> None:
    at = {Station.BREAKER: "breaker", Station.OUTLET: "receptacle", Station.CHARGER: "charger"}
    for check in CHECKS:
        part = at.get(check.station)
        if part is None or check.proves or check.id in symptoms.IDS:
            continue
        entries = tuple(
            Entry(number=n, check=c, subject=POINT, at=NOON, answers=answers)
            for n, c, answers in (
                (1, check.id, ()),
                (2, "surroundings.repair", (Chosen(input="replaced", option=part),)),
            )
        )
        made = visit(entries=entries)
        assert (check.id, POINT) in of_gone_parts(made, latest_entries(made)), check.id
