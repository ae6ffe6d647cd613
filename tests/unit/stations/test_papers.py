"""Papers of the work, and the service beside its rating."""

from typing import Any

import pytest

from checks.record import Occupancy, Site, SupplySystem, VisitKind
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import entry, judge, level_1, point, visit, with_entries

Answers = dict[str, Any]
PERMIT = Site(name="Invented site", permit_number="0000-INVENTED", authority="Invented office")
GARAGE = Site(name="Invented deck", occupancy=Occupancy.OTHER)
IN_ORDER: Answers = {
    "permit": "issued",
    "is_scope_same": True,
    "is_utility_told": True,
    "property": "own",
    "are_plans_there": True,
    "is_licensed": True,
    "are_limits_asked": True,
}


def found(
    check: str, answers: Answers, others: dict[str, Answers] | None = None, **over: Any
) -> Judgement:
    entries = {**(others or {}), check: answers}
    return judge(with_entries(visit(**over), entries), check)


def papers(site: Site = PERMIT, **over: Any) -> Judgement:
    return found("service.papers", {**IN_ORDER, **over}, site=site)


def test_papers_in_order_name_the_permit_and_the_authority():
    judged = papers()
    assert judged.verdict is Verdict.WITHIN
    assert "0000-INVENTED, Invented office" in judged.explanation


@pytest.mark.parametrize(
    ("answer", "severity"),
    [
        ({"is_scope_same": False}, Severity.CAUTION),
        ({"is_utility_told": False}, Severity.NOTICE),
        ({"property": "missing"}, Severity.CAUTION),
        ({"are_plans_there": False}, Severity.NOTICE),
        ({"is_licensed": False}, Severity.WARNING),
        ({"are_limits_asked": False}, Severity.NOTICE),
    ],
)
def test_a_paper_that_lacks_is_found(answer: Answers, severity: Severity):
    judged = papers(**answer)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)


def test_a_permit_without_its_number_or_authority_is_borderline():
    judged = papers(site=Site(name="Invented site", permit_number="0000-INVENTED"))
    assert judged.verdict is Verdict.BORDERLINE
    assert "the authority's name" in judged.explanation
    assert "number" not in judged.explanation


def test_an_existing_120_volt_outlet_needs_neither_permit_nor_word_to_the_utility():
    # a city's residential checklist of 2023, as in the handover
    answers = {**IN_ORDER, "permit": "existing", "is_utility_told": False}
    assert found("service.papers", answers, points=(level_1(),)).verdict is Verdict.WITHIN
    judged = found("service.papers", {**answers, "is_utility_told": True})
    assert judged.verdict is Verdict.BORDERLINE


def test_a_service_call_asks_for_no_papers():
    judged = found("service.papers", {}, kind=VisitKind.SERVICE_CALL)
    assert judged.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("answers", "verdict"),
    [
        ({"device": "service"}, Verdict.WITHIN),
        ({"device": "panels"}, Verdict.WITHIN),
        ({"device": "none", "is_replaced": False}, Verdict.WITHIN),
        ({"device": "none", "is_replaced": True}, Verdict.OUTSIDE),  # NEC 2023 230.67(A), (D)
        ({"device": "none"}, Verdict.NOT_MEASURED),
    ],
)
def test_surge_protection_is_asked_of_a_new_service_of_a_dwelling(
    answers: Answers, verdict: Verdict
):
    assert found("service.surge", answers).verdict is verdict
    elsewhere = found("service.surge", answers, site=GARAGE)
    assert elsewhere.verdict is Verdict.NOT_APPLICABLE


def test_a_grounding_electrode_that_is_not_there_is_found():
    assert found("service.grounding", {"is_electrode_there": True}).verdict is Verdict.WITHIN
    judged = found("service.grounding", {"is_electrode_there": False})
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)


def test_the_meter_is_asked_for_where_a_place_is_shared():
    own = {"service.papers": IN_ORDER}
    assert found("service.metering", {}, own).verdict is Verdict.NOT_APPLICABLE
    shared = {"service.papers": {**IN_ORDER, "property": "given"}}
    assert found("service.metering", {"meter": "common"}, shared).verdict is Verdict.WITHIN
    assert found("service.metering", {"meter": "dwelling"}, shared).verdict is Verdict.OUTSIDE


# Two chargers of 40 A at 240 V are 19.2 kVA (V times A): on 50 kVA they leave 30.8 kVA.
TWO = (point(), point(id="bay-2", name="Bay 2"))


WYE = SupplySystem.WYE_208


def transformer(
    other: str, system: SupplySystem = SupplySystem.SPLIT_PHASE, **over: Answers
) -> Judgement:
    answers = {"is_present": True, "rated": "50 kVA", "other": other}
    bays = tuple(p.model_copy(update={"nominal_v": system.level_2_v}) for p in TWO)
    made = with_entries(
        visit(points=bays, site=GARAGE, system=system), {"service.transformer": answers, **over}
    )
    both = [
        entry("charger.configuration", p.id, 50 + n, configured_a="40 A") for n, p in enumerate(TWO)
    ]
    return judge(made.model_copy(update={"entries": (*made.entries, *both)}), "service.transformer")


def test_chargers_and_other_load_are_added_in_kilovolt_amperes():
    assert transformer("30.8 kVA").verdict is Verdict.WITHIN
    judged = transformer("30.9 kVA")
    assert judged.verdict is Verdict.OUTSIDE
    assert "19.2 kVA" in judged.explanation


def test_load_management_counts_what_it_lets_through():
    # 20 A at 240 V are 4.8 kVA: on 50 kVA they leave 45.2 kVA
    held = {"is_managed": True, "manages": "chargers", "managed_a": "20 A"}
    assert transformer("45.2 kVA", **{"service.load": held}).verdict is Verdict.WITHIN
    assert transformer("45.3 kVA", **{"service.load": held}).verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("managed", "other", "verdict"),
    [
        # Held on each line: √3 × 208 V × 24 A = 8.646 kVA, the power of three lines in balance; on
        # 50 kVA they leave 41.354 kVA. Not 208 V × 24 A = 4.992 kVA, which would leave 45.008 kVA.
        ("24 A", "41.35 kVA", Verdict.WITHIN),
        ("24 A", "41.36 kVA", Verdict.OUTSIDE),
        # √3 × 208 V × 72 A = 25.9 kVA is more than both draw: 2 × 208 V × 40 A = 16.64 kVA
        ("72 A", "33.36 kVA", Verdict.WITHIN),
        ("72 A", "33.37 kVA", Verdict.OUTSIDE),
    ],
)
def test_on_three_lines_load_management_lets_each_of_them_carry_what_it_holds(
    managed: str, other: str, verdict: Verdict
):
    held = {"is_managed": True, "manages": "chargers", "managed_a": managed}
    assert transformer(other, WYE, **{"service.load": held}).verdict is verdict


def test_the_transformer_waits_for_the_chargers_with_its_limit_in_view():
    answers = {"is_present": True, "rated": "50 kVA", "other": "10 kVA"}
    judged = found("service.transformer", answers, site=GARAGE)
    assert judged.verdict is Verdict.NOT_MEASURED
    assert judged.limits


def test_a_dwelling_is_not_asked_for_a_transformer():
    assert found("service.transformer", {}).verdict is Verdict.NOT_APPLICABLE
