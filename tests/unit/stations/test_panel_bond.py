"""The neutral of a panel is bonded once."""

from typing import Any

import pytest

from checks.assess import assess
from checks.check import CircuitState, Situation
from checks.codes import profile
from checks.record import Visit
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import entry, judge, visit, with_entries
from tests.unit.stations.panel_entries import feeder_fed, one

BOND = {"bond": "present", "reading": "value", "ohm": "0.02 Ω"}
FED = {"fed": "feeder", "is_lifted": True, "is_landed": True}
APART = {**FED, "ground": "wire", "bond": "absent", "reading": "open"}
BEHIND = {"fed": "transformer", "ground": "raceway"}


@pytest.mark.parametrize(
    ("made", "answers", "verdict"),
    [
        # NEC 250.24, 250.142(B): bonded at the service equipment, nowhere on its load side
        (visit(), BOND, Verdict.WITHIN),
        (visit(), {**BOND, "ohm": "0.90 Ω"}, Verdict.OUTSIDE),
        (visit(), {"bond": "absent", "reading": "open"}, Verdict.OUTSIDE),
        (feeder_fed(), APART, Verdict.WITHIN),
        (feeder_fed(), {**APART, "reading": "value", "ohm": "0.30 Ω"}, Verdict.OUTSIDE),
        (feeder_fed(), {**BOND, **FED}, Verdict.OUTSIDE),
        (feeder_fed(), {**APART, "is_lifted": False}, Verdict.BORDERLINE),
        (feeder_fed(), {"bond": "absent"}, Verdict.BORDERLINE),  # what feeds it is not said
        (feeder_fed(), {"bond": "absent", "fed": "feeder"}, Verdict.NOT_MEASURED),
        # NEC 215.6, 250.32(B)(1), from memory: a feeder brings its equipment ground
        (feeder_fed(), {**APART, "ground": "raceway"}, Verdict.WITHIN),
        (feeder_fed(), {**APART, "ground": "unseen"}, Verdict.NOT_MEASURED),
        (feeder_fed(), {**FED, "bond": "absent", "reading": "open"}, Verdict.NOT_MEASURED),
        # NEC 250.30(A)(1), from memory: behind a transformer one bond, at any one point from it to
        # its first disconnect
        (feeder_fed(), {**BOND, **BEHIND, "at_transformer": "absent"}, Verdict.WITHIN),
        (feeder_fed(), {**APART, **BEHIND, "at_transformer": "present"}, Verdict.WITHIN),
        (feeder_fed(), {**BOND, **BEHIND, "at_transformer": "present"}, Verdict.OUTSIDE),
        (feeder_fed(), {**APART, **BEHIND, "at_transformer": "absent"}, Verdict.OUTSIDE),
        (feeder_fed(), {**BOND, **BEHIND, "at_transformer": "unseen"}, Verdict.BORDERLINE),
        (feeder_fed(), {**BOND, **BEHIND}, Verdict.NOT_MEASURED),
        (feeder_fed(), {**BOND, "fed": "unknown"}, Verdict.BORDERLINE),
        (feeder_fed(), {**APART, "fed": "unknown"}, Verdict.BORDERLINE),
    ],
)
def test_the_neutral_is_bonded_once(made: Visit, answers: dict[str, Any], verdict: Verdict):
    assert one("panel.neutral_bond", made, **answers).verdict is verdict


@pytest.mark.parametrize("fed", ["feeder", "transformer", "unknown"])
@pytest.mark.parametrize(
    ("landed", "verdict", "severity"),
    [
        ({}, Verdict.NOT_MEASURED, None),
        ({"is_landed": False}, Verdict.OUTSIDE, Severity.DANGER),
    ],
)
def test_a_neutral_that_was_lifted_is_landed_before_anything_is_energised(
    fed: str, landed: dict[str, bool], verdict: Verdict, severity: Severity | None
):
    """An open neutral puts up to 240 V on what is made for 120 V: common practice, no source."""
    lifted = {
        "bond": "absent",
        "fed": fed,
        "ground": "wire",
        "is_lifted": True,
        "reading": "open",
    }
    if fed == "transformer":
        lifted["at_transformer"] = "present"
    made = with_entries(feeder_fed(), {"panel.neutral_bond": {**lifted, **landed}})
    found = judge(made, "panel.neutral_bond")
    assert (found.verdict, found.severity) == (verdict, severity)
    assert "landed again" in found.explanation
    assert "land the feeder neutral" in found.remedy or not landed
    live = assess(made, profile("nec_2023")).points[0].gates[1]
    assert (live.state, live.is_open) == (CircuitState.ENERGISED, False)
    assert "panel.neutral_bond" in live.waiting


def test_whether_the_neutral_is_landed_is_asked_only_where_it_was_lifted():
    check = BY_ID["panel.neutral_bond"]
    for made, is_lifted, is_asked in (
        (feeder_fed(), True, True),
        (feeder_fed(), False, False),
        (visit(), False, False),
    ):
        at = made.panels[0].id
        begun = entry(check.id, at, 1, bond="absent", is_lifted=is_lifted)
        here = check.at(Situation(made, profile("nec_2023"), at))
        assert ("is_landed" in [i.name for i in here.asked(begun)]) is is_asked


def test_no_bond_is_removed_before_it_is_known_what_feeds_the_panel():
    for unknown in ({"fed": "unknown"}, {**BEHIND, "at_transformer": "unseen"}):
        found = one("panel.neutral_bond", feeder_fed(), **BOND, **unknown)
        assert "remove the bonding" not in found.remedy
    none = {**APART, **BEHIND, "at_transformer": "absent"}
    assert one("panel.neutral_bond", feeder_fed(), **none).severity is Severity.DANGER


@pytest.mark.parametrize(
    "answers",
    [
        {"bond": "absent", "reading": "value", "ohm": "0.02 Ω"},
        {"bond": "absent", "reading": "open"},
        {"bond": "present", "reading": "open"},
    ],
)
def test_a_service_without_its_bond_is_danger(answers: dict[str, str]):
    # NEC 250.24(B): the main bonding jumper is what lets a fault open the breaker
    found = one("panel.neutral_bond", **answers)
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "bonding jumper" in found.remedy
    assert "remove" not in found.remedy


def test_bars_that_join_without_a_bond_are_followed_before_one_is_fitted():
    # NEC 250.24(B), 250.142(B): the jumper at the service, and no second one
    for ohm in ("0.02 Ω", "0.90 Ω"):
        found = one("panel.neutral_bond", bond="absent", reading="value", ohm=ohm)
        assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "something else joins them" in found.explanation
        assert found.remedy.index("find first what joins") < found.remedy.index("bonding jumper")
        assert "tighten the bond" not in found.remedy
    for apart in ({"reading": "open"}, {"reading": "value", "ohm": "20.0 kΩ"}):
        found = one("panel.neutral_bond", bond="absent", **apart)
        assert "fit the main bonding jumper" in found.remedy


def test_a_second_bond_is_removed_once_the_first_is_seen():
    # NEC 250.24(A)(5), 250.142(B)
    found = one("panel.neutral_bond", feeder_fed(), **{**APART, "bond": "present"})
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    assert found.remedy.index("ground of the feeder") < found.remedy.index("remove the bonding")


KEEP = "Keep the panel off and locked"


@pytest.mark.parametrize(
    ("answers", "severity"),
    [
        # NEC 215.6, 250.32(B)(1) and its exception 1, from memory: without a ground of the feeder
        # a bond in the panel is the only way back for a fault
        ({"bond": "absent", "ground": "none"}, Severity.DANGER),
        ({**BOND, "ground": "none"}, Severity.WARNING),
        ({**BOND, "ground": "unseen"}, Severity.WARNING),
        (BOND, Severity.WARNING),
    ],
)
@pytest.mark.parametrize("is_lifted", [True, False])
def test_no_bond_is_removed_before_the_ground_of_the_feeder_is_seen(
    answers: dict[str, str], severity: Severity, is_lifted: bool
):
    fed = {"fed": "feeder", "is_lifted": is_lifted, "reading": "open"}
    made = with_entries(feeder_fed(), {"panel.neutral_bond": {**fed, **answers}})
    found = judge(made, "panel.neutral_bond")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, severity)
    assert KEEP in found.remedy
    assert "remove the bonding" not in found.remedy
    assert "branch neutrals" not in found.remedy
    live = assess(made, profile("nec_2023")).points[0].gates[1]
    assert (live.state, live.is_open) == (CircuitState.ENERGISED, False)


@pytest.mark.parametrize(
    "answers",
    [
        {"fed": "feeder", "is_lifted": False, "reading": "open"},
        {**FED, "reading": "open"},
        {"fed": "transformer", "at_transformer": "unseen", "is_lifted": False, "reading": "open"},
    ],
)
def test_nothing_is_energised_while_no_way_back_for_a_fault_was_seen(answers: dict[str, Any]):
    # NEC 250.4(A)(5): a fault needs a path of low impedance back to the source
    unseen = {**answers, "bond": "absent", "ground": "unseen"}
    made = with_entries(feeder_fed(), {"panel.neutral_bond": unseen})
    found = judge(made, "panel.neutral_bond")
    assert found.verdict is Verdict.NOT_MEASURED
    assert "keep the panel off" in found.explanation
    live = assess(made, profile("nec_2023")).points[0].gates[1]
    assert (live.state, live.is_open) == (CircuitState.ENERGISED, False)
    assert "panel.neutral_bond" in live.waiting


def test_a_transformer_whose_case_nothing_bonds_is_a_finding():
    # NEC 250.30(A)(2), 2020 or later, as quoted in a trade forum: a bonding jumper runs with what
    # the transformer feeds
    behind = {"fed": "transformer", "ground": "none"}
    lone = one("panel.neutral_bond", feeder_fed(), **BOND, **behind, at_transformer="absent")
    assert (lone.verdict, lone.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    none = {**APART, **behind, "at_transformer": "unseen"}
    assert one("panel.neutral_bond", feeder_fed(), **none).severity is Severity.DANGER
