"""What was found, what was mended, and what the readings say since."""

from checks.assess import Assessor, as_found, assess
from checks.causes import Status
from checks.codes import profile
from checks.record import Visit
from tests.builders import POINT, with_entries
from tests.unit.causes.calls import level_1_call

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
