"""The handover: what the owner is shown and left."""

from typing import Any

import pytest

from checks.record import Site, VisitKind
from checks.verdict import Severity, Verdict
from tests.builders import entry, judge, level_1, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
SHOWN = {"knows_shutoff": True, "knows_heat_signs": True, "knows_no_extension": True}
NO_DEVICE: Entries = {"outlet.ground_fault": {"device": "none"}}
LEFT = {
    "has_as_built": True,
    "has_settings": True,
    "has_load_calculation": True,
    "has_next_check": True,
}
PERMIT = Site(name="Invented site", permit_number="0000-INVENTED")


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


@pytest.mark.parametrize("left_out", list(SHOWN))
def test_what_the_owner_was_not_shown_is_found(left_out: str):
    entries = {**NO_DEVICE, "handover.owner_shown": SHOWN}
    assert found("handover.owner_shown", entries).verdict is Verdict.WITHIN
    entries = {**NO_DEVICE, "handover.owner_shown": {**SHOWN, left_out: False}}
    judged = found("handover.owner_shown", entries)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)


def test_a_ground_fault_device_asks_for_its_monthly_test():
    device = {
        "outlet.ground_fault": {
            "device": "breaker",
            "device_class": "class_a",
            "is_accessible": True,
        }
    }
    entries = {**device, "handover.owner_shown": SHOWN}
    assert found("handover.owner_shown", entries).verdict is Verdict.NOT_MEASURED
    entries = {**device, "handover.owner_shown": {**SHOWN, "knows_monthly_test": True}}
    assert found("handover.owner_shown", entries).verdict is Verdict.WITHIN


def test_while_nobody_knows_of_a_device_its_monthly_test_is_asked_for():
    judged = found("handover.owner_shown", {"handover.owner_shown": SHOWN})
    assert judged.verdict is Verdict.NOT_MEASURED
    assert "at the outlet" in judged.explanation
    entries = {"handover.owner_shown": {**SHOWN, "knows_monthly_test": True}}
    assert found("handover.owner_shown", entries).verdict is Verdict.WITHIN


def test_one_point_with_a_device_is_enough_to_ask():
    both = (point(), point(id="bay-2", name="Bay 2"))
    made = with_entries(visit(points=both), {**NO_DEVICE, "handover.owner_shown": SHOWN})
    assert judge(made, "handover.owner_shown").verdict is Verdict.NOT_MEASURED
    second = entry("outlet.ground_fault", "bay-2", 9, device="none")
    made = made.model_copy(update={"entries": (*made.entries, second)})
    assert judge(made, "handover.owner_shown").verdict is Verdict.WITHIN


@pytest.mark.parametrize(
    ("permit", "site", "verdict"),
    [
        ("passed", PERMIT, Verdict.WITHIN),
        ("passed", Site(name="Invented site"), Verdict.BORDERLINE),
        ("open", PERMIT, Verdict.BORDERLINE),
        ("not_needed", PERMIT, Verdict.BORDERLINE),  # a Level 2 circuit: common practice
    ],
)
def test_the_permit(permit: str, site: Site, verdict: Verdict):
    entries = {"handover.documents": {**LEFT, "permit": permit}}
    assert found("handover.documents", entries, site=site).verdict is verdict


def test_an_existing_120_volt_outlet_may_need_no_permit():
    # a city's residential checklist of 2023: common practice, no source named here
    entries = {"handover.documents": {**LEFT, "permit": "not_needed"}}
    judged = found("handover.documents", entries, points=(level_1(),))
    assert judged.verdict is Verdict.WITHIN


def test_papers_that_are_not_left_are_a_notice():
    entries = {"handover.documents": {**LEFT, "has_as_built": False, "permit": "passed"}}
    judged = found("handover.documents", entries, site=PERMIT)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.NOTICE)


def test_a_service_call_leaves_no_new_papers():
    judged = found("handover.documents", {}, kind=VisitKind.SERVICE_CALL)
    assert judged.verdict is Verdict.NOT_APPLICABLE
