"""What a service call is about, and the breaker's warmth: told, seen, and measured with limits."""

import pytest

from checks.record import DangerAnswer, Role, VisitKind
from checks.stations.all import BY_ID
from checks.stations.symptoms import CHECKS
from checks.verdict import Severity, Verdict
from tests.builders import judge, visit, with_entries

CALL = visit(kind=VisitKind.SERVICE_CALL, role=Role.SERVES)
LOAD = {
    "breaker.rating": {"rated_a": "40 A", "poles": "2"},
    "charger.configuration": {"configured_a": "32 A", "access": "fixed"},
}


@pytest.mark.parametrize("check", [c.id for c in CHECKS])
def test_symptoms_belong_to_a_service_call_and_are_never_good_unasked(check: str) -> None:
    found = judge(CALL, check)
    assert found.verdict is Verdict.NOT_MEASURED
    assert found.explanation.startswith("Still open")
    other = judge(visit(), check)
    assert other.verdict is Verdict.NOT_APPLICABLE
    assert other.explanation == "not part of a commissioning"


def test_what_was_told_is_said_in_one_sentence() -> None:
    told = {"breaker.trip_history": {"when": "minutes", "kind": "overcurrent"}}
    found = judge(with_entries(CALL, told), "breaker.trip_history")
    assert found.verdict is Verdict.OUTSIDE
    assert found.severity is Severity.CAUTION
    assert found.explanation == (
        "The breaker trips: within half an hour; overcurrent, by its handle"
    )
    quiet = {"breaker.trip_history": {"when": "never"}}
    good = judge(with_entries(CALL, quiet), "breaker.trip_history")
    assert (good.verdict, good.explanation) == (Verdict.WITHIN, "The breaker has not tripped")


def test_what_nobody_tried_or_knows_is_not_told() -> None:
    trial = {"timer": "off", "others": "untried", "elsewhere": "untried"}
    for timer, unknown in (
        ("off", "Other vehicles here, This one elsewhere"),
        ("unknown", "Timer in the vehicle, Other vehicles here, This one elsewhere"),
    ):
        said = {"vehicle.trial": {**trial, "timer": timer}}
        found = judge(with_entries(CALL, said), "vehicle.trial")
        assert found.verdict is Verdict.NOT_MEASURED
        assert found.explanation == f"Not known: {unknown}"
    same = judge(
        with_entries(CALL, {"vehicle.trial": {**trial, "others": "same"}}), "vehicle.trial"
    )
    assert same.verdict is Verdict.OUTSIDE
    assert same.explanation == "From the vehicle: others fail too"


def test_several_symptoms_at_once() -> None:
    told = {"start": "charges", "stops": "touched", "is_slow": True, "is_offline": True}
    found = judge(with_entries(CALL, {"charger.behavior": told}), "charger.behavior")
    for words in ("when the handle is moved", "charges slowly", "off line"):
        assert words in found.explanation


def warmth(face: str, neighbor: str, air: str) -> dict[str, dict[str, str]]:
    return LOAD | {"breaker.temperature": {"face": face, "neighbor": neighbor, "air": air}}


def test_a_breaker_is_held_against_its_neighbor_and_its_air() -> None:
    """15 K over a like part: NETA ATS 2003 table 100.18. 32 A on 40 A: 125 - 85 × 0.8² = 70.6 °C,
    by hand from an element of 125 °C that just holds its rating at 40 °C."""
    before = judge(with_entries(CALL, LOAD), "breaker.temperature")
    assert before.verdict is Verdict.NOT_MEASURED
    assert [round(x.value, 1) for x in before.limits] == [15.0, 70.6]

    cool = judge(with_entries(CALL, warmth("38.0 °C", "36.0 °C", "28.0 °C")), "breaker.temperature")
    assert (cool.verdict, cool.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
    assert "2.0 K hotter" in cool.explanation
    assert "does not show" in cool.explanation  # a surface never proves the joint behind it
    warm = judge(with_entries(CALL, warmth("46.0 °C", "36.0 °C", "28.0 °C")), "breaker.temperature")
    # 4 to 15 K over a like part: a probable deficiency by the same table
    assert (warm.verdict, warm.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
    assert "10.0 K hotter" in warm.explanation
    assert 3.0 in {
        x.value for x in warm.limits
    }  # "possible deficiency" of the same table: 1 to 3 K
    hot = judge(with_entries(CALL, warmth("58.0 °C", "36.0 °C", "28.0 °C")), "breaker.temperature")
    assert (hot.verdict, hot.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "22.0 K hotter" in hot.explanation
    air = judge(with_entries(CALL, warmth("59.0 °C", "58.0 °C", "78.0 °C")), "breaker.temperature")
    assert (air.verdict, air.severity) == (Verdict.OUTSIDE, Severity.CAUTION)


@pytest.mark.parametrize(("face", "neighbor"), [("62.0 °C", "61.0 °C"), ("40.0 °C", "63.0 °C")])
def test_a_face_as_hot_as_no_test_goes_on_is_found_though_its_neighbor_is_like_it(
    face: str, neighbor: str
) -> None:
    # 60 °C terminals, NEC 2023 110.14(C) (from memory)
    found = judge(with_entries(CALL, warmth(face, neighbor, "48.0 °C")), "breaker.temperature")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "the test ends at 60 °C" in found.explanation
    assert "leave the panel alone" in found.remedy
    alone = LOAD | {"breaker.temperature": {"face": "110.0 °C"}}  # what else is open hides nothing
    found = judge(with_entries(CALL, alone), "breaker.temperature")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)


def test_a_neighbor_that_is_the_hotter_one_is_found_as_well() -> None:
    found = judge(
        with_entries(CALL, warmth("32.0 °C", "52.0 °C", "28.0 °C")), "breaker.temperature"
    )
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert "neighbor's face is 20.0 K hotter" in found.explanation


def test_a_smaller_load_stands_hotter_air() -> None:
    small = warmth("59.0 °C", "58.0 °C", "78.0 °C")
    small["charger.configuration"] = {"configured_a": "16 A", "access": "fixed"}
    found = judge(with_entries(CALL, small), "breaker.temperature")
    assert (found.verdict, found.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
    assert "air" not in found.explanation
    assert round(found.limits[1].value, 1) == 111.4  # 125 - 85 × 0.4², by hand


@pytest.mark.parametrize(
    ("check", "answers", "is_ended"),
    [
        # common practice, no source: nobody switches on again to read the rest
        ("breaker.temperature", {"face": "110 °C"}, True),
        (
            "outlet.damage",
            {"has_heat_marks": True},
            False,
        ),  # looked at with the circuit off as well
    ],
)
def test_a_danger_that_was_answered_ends_what_is_read_live(
    check: str, answers: dict[str, object], is_ended: bool
):
    declared = BY_ID[check]
    begun = with_entries(CALL, {check: answers}).entries[-1]
    assert declared.missing(begun)
    told = begun.model_copy(update={"danger": DangerAnswer.OFF})
    assert (not declared.missing(told)) is is_ended
    assert declared.is_ended(told) is is_ended
