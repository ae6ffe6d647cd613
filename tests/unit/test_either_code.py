"""Sound visits and one change in them, by either code."""

from typing import Final

import pytest

from checks.assess import assess
from checks.codes import PROFILES, profile
from checks.verdict import Force, Severity, Verdict
from tests.builders import POINT
from tests.sound_visits import BASES, Change, built, change, verdicts

# What the Canadian profile does not prove: its text was not read there (known from memory, or only
# the other code's figure is at hand), so that good work stays open, and is never called bad.
UNREAD: Final = {
    "service.supply_voltage",  # CAN3-C235 bands
    "panel.working_space",
    "breaker.rating",  # table 13
    "run.conductor",  # 4-006
    "run.grounding_conductor",  # table 16, 10-616
    "outlet.no_load_voltage",
    "outlet.cover",
    "outlet.temperature",  # 4-006 again: what its terminals may reach
    "charger.mounting",
    "charger.ventilation",  # 86-400 and following
    "charger.cable",
    "charger.supply_cord",
    "charger.disconnect",  # 86-304, read in an older edition
}


@pytest.mark.parametrize("base", BASES)
def test_the_other_code_moves_what_it_was_not_read_on_and_nothing_else(base: str):
    under = (assess(built(base, {}), code) for code in PROFILES.values())
    before, after = ({r.check: r for r in found.rows} for found in under)
    moved = {c for c in after if after[c].judgement.verdict is not before[c].judgement.verdict}
    assert moved <= UNREAD
    assert moved >= UNREAD - {
        "outlet.cover",
        "charger.mounting",
        "charger.supply_cord",
        "charger.disconnect",
    }
    for check in moved:
        judged = after[check].judgement
        assert judged.verdict is Verdict.BORDERLINE
        sources = (*judged.sources, *(limit.source for limit in judged.limits))
        assert not all(source.can_prove for source in sources), check


# One change, and its verdict by either code: clauses of NEC 2023, then of CE Code 2021.
BY_CODE: Final[list[tuple[str, Change, Verdict, Verdict]]] = [
    # 625.40: beyond 16 A or 120 V; 86-300 1): the circuit supplies nothing else in any case
    (
        "level 1",
        change("run.dedicated", is_alone=False, other_a="2 A"),
        Verdict.WITHIN,
        Verdict.OUTSIDE,
    ),
    # 210.21(B)(3): two or more 20 A on 20 A; 86-306 1): at 125 V a single 5-20
    ("level 1", change("outlet.configuration", count="duplex"), Verdict.WITHIN, Verdict.OUTSIDE),
    # 625.44: 5-15 on 15 A; 86-306 1): not at all
    (
        "level 1",
        change("outlet.configuration", kind="5-15"),
        Verdict.OUTSIDE,  # 15 A on a 20 A circuit, 210.21(B)(1)
        Verdict.OUTSIDE,
    ),
    # 625.54: every receptacle for charging; 86-306 2): a 5-20 outdoors
    ("receptacle", change("outlet.ground_fault", device="none"), Verdict.OUTSIDE, Verdict.WITHIN),
    # 220.87 exception: 30 days; 8-106 8): 12 months
    (
        "receptacle",
        change("service.load", method="month", is_generating=False),
        Verdict.WITHIN,
        Verdict.BORDERLINE,
    ),
    # 125 % of 120 A and 40 A are 190 A on 200 A, or 200 A with the new load at 125 %, 220.87; 80 %
    # of the rating for demand and charger together, 8-106 8)
    ("receptacle", change("service.load", demand_a="120 A"), Verdict.WITHIN, Verdict.WITHIN),
    ("receptacle", change("service.load", demand_a="125 A"), Verdict.BORDERLINE, Verdict.OUTSIDE),
]


@pytest.mark.parametrize(("base", "changed", "nec", "cec"), BY_CODE)
def test_the_same_change_by_either_code(base: str, changed: Change, nec: Verdict, cec: Verdict):
    check = changed[0]
    found = {code: verdicts(built(base, dict([changed])), code)[check] for code in PROFILES}
    assert found == {"nec_2023": nec, "cec_2021": cec}


@pytest.mark.parametrize(
    ("code", "force", "severity"),
    [
        # a recommendation of the NEC, 210.19 informational note
        ("nec_2023", Force.RECOMMENDATION, Severity.NOTICE),
        # a rule of the Canadian Electrical Code, 8-102
        ("cec_2021", Force.CODE_RULE, Severity.WARNING),
    ],
)
def test_the_other_code_makes_a_rule_of_the_same_drop(code: str, force: Force, severity: Severity):
    made = built("receptacle", {"run.length": {"length": "60.00 m"}})
    found = assess(made, profile(code)).row("run.length", POINT).judgement
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, severity)
    assert [limit.force for limit in found.limits] == [force]
