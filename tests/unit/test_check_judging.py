"""What a judge returns."""

from typing import Any

import pytest
from uncertainties import ufloat

from checks.check import compare, not_measured, seen, together, unsettled
from checks.source import Basis, Source, trade
from checks.verdict import Force, Judgement, Severity, Verdict, at_least, at_most

KNOWN = trade("a test")
RECALLED = Source(document="a code", basis=Basis.FROM_MEMORY)


def compared(value: float, *limits: Any, severity: Severity = Severity.WARNING) -> Judgement:
    return compare(
        value,
        "A",
        limits,
        explanation="found",
        why="heat",
        remedy="mend",
        severity=severity,
        settles="repeat",
    )


UPPER = at_most(30.0, "A", Force.CODE_RULE, KNOWN)
UPPER_RECALLED = at_most(30.0, "A", Force.CODE_RULE, RECALLED)


def test_together_keeps_the_remedy_of_every_part_that_is_as_bad():
    first = seen(False, explanation="a", source=KNOWN, remedy="mend one")
    second = seen(False, explanation="b", source=KNOWN, remedy="mend two")
    milder = seen(False, explanation="c", source=KNOWN, remedy="clean", severity=Severity.NOTICE)
    assert together((first, milder, second, first)).remedy == "mend one. mend two"


def test_remedy_and_severity_belong_to_a_finding_only():
    good = compared(20.0, UPPER)
    assert (good.verdict, good.severity, good.why, good.remedy) == (Verdict.WITHIN, None, "", "")
    bad = compared(40.0, UPPER)
    assert (bad.verdict, bad.severity, bad.remedy) == (Verdict.OUTSIDE, Severity.WARNING, "mend")
    assert bad.margin is not None
    assert float(bad.margin.value) == -10.0


def test_a_borderline_one_is_never_more_than_a_caution_and_says_what_settles_it():
    near = compared(ufloat(29.5, 1.0), UPPER, severity=Severity.DANGER)
    assert (near.verdict, near.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
    assert (near.remedy, near.settles) == ("mend", "repeat")
    notice = compared(ufloat(29.5, 1.0), UPPER, severity=Severity.NOTICE)
    assert notice.severity is Severity.NOTICE


def test_what_meets_its_limit_as_read_is_settled_before_it_is_mended():
    near = compared(ufloat(29.5, 1.0), UPPER, severity=Severity.WARNING)
    assert (near.verdict, near.remedy) == (Verdict.BORDERLINE, "")
    assert near.settles == "repeat. Where that cannot be done: mend"
    beyond = compared(ufloat(30.5, 1.0), UPPER, severity=Severity.WARNING)
    assert (beyond.verdict, beyond.remedy) == (Verdict.BORDERLINE, "mend")
    assert beyond.settles == "repeat"


def test_what_meets_a_limit_in_doubt_has_nothing_to_mend():
    doubtful = compared(20.0, UPPER_RECALLED, severity=Severity.DANGER)
    assert (doubtful.verdict, doubtful.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
    assert (doubtful.remedy, "from memory" in doubtful.settles) == ("", True)
    near = compared(ufloat(30.5, 1.0), UPPER_RECALLED)
    assert (near.verdict, near.severity, near.remedy) == (
        Verdict.BORDERLINE,
        Severity.CAUTION,
        "mend",
    )


def test_a_difference_of_temperatures_is_shown_as_a_rise():
    limit = at_most(60.0, "°F", Force.TRADE_JUDGEMENT, KNOWN)
    found = compare(
        50.0, "°F", [limit], explanation="", why="", remedy="", severity=Severity.CAUTION
    )
    assert found.margin is not None
    assert str(found.margin) == "18 °F rise"  # 10 K


@pytest.mark.parametrize(
    ("value", "limit_ohm", "shown"),
    [
        # JCGM 100:2008, 7.2.6 (from memory): no more digits than the uncertainty leaves
        (ufloat(0.05306, 0.009), 0.006, "-47 ± 18 mΩ"),
        (ufloat(0.0041, 0.0004), 0.006, "1.90 ± 0.80 mΩ"),
        (0.0041, 0.006, "1.9 mΩ"),
    ],
)
def test_a_margin_is_known_no_better_than_its_value(value: object, limit_ohm: float, shown: str):
    limit = at_most(limit_ohm, "mΩ", Force.TRADE_JUDGEMENT, KNOWN)
    found = compare(
        value, "mΩ", [limit], explanation="", why="", remedy="", severity=Severity.NOTICE
    )
    assert str(found.margin) == shown


@pytest.mark.parametrize(
    ("good", "source", "verdict"),
    [
        (True, KNOWN, Verdict.WITHIN),
        (True, RECALLED, Verdict.BORDERLINE),
        (False, KNOWN, Verdict.OUTSIDE),
        (False, RECALLED, Verdict.OUTSIDE),
    ],
)
def test_a_rule_from_memory_may_warn_and_never_clears(good: bool, source: Source, verdict: Verdict):
    found = seen(good, explanation="seen", source=source, remedy="mend", why="heat")
    assert found.verdict is verdict
    assert bool(found.remedy) is (verdict is Verdict.OUTSIDE)
    assert bool(found.settles) is (verdict is Verdict.BORDERLINE)


def test_of_several_parts_the_worst_decides_and_nothing_of_the_others_is_lost():
    parts = [
        compared(20.0, UPPER),
        not_measured("still open", [at_least(1.0, "A", Force.CODE_RULE, RECALLED)]),
        unsettled("read two ways", "ask", sources=[RECALLED]),
    ]
    found = together(parts, good="all good", telling="20 A")
    assert (found.verdict, found.explanation) == (Verdict.BORDERLINE, "read two ways")
    assert (len(found.limits), found.sources, found.telling) == (2, (RECALLED,), "20 A")
    assert together(parts[:2], good="all good").explanation == "still open"
    assert together(parts[:1], good="all good").explanation == "all good"


def test_of_two_that_are_outside_the_more_severe_leads():
    mild, grave = (compared(40.0, UPPER, severity=s) for s in (Severity.CAUTION, Severity.DANGER))
    grave = grave.model_copy(update={"explanation": "grave"})
    found = together([mild, grave])
    assert found.severity is Severity.DANGER
    assert found.explanation.startswith("grave")
    assert "found" in found.explanation


def test_of_two_that_are_as_bad_the_one_nearest_to_its_limit_leads():
    # 20 of at most 40 A leave a half; 12 over at least 10 A leave a fifth; 45 A are farther beyond
    far = compared(20.0, at_most(40.0, "A", Force.CODE_RULE, KNOWN))
    near = compared(12.0, at_least(10.0, "A", Force.CODE_RULE, KNOWN))
    worse = compared(45.0, at_most(40.0, "A", Force.CODE_RULE, KNOWN))
    bad = compared(41.0, at_most(40.0, "A", Force.CODE_RULE, KNOWN))

    assert together([far, near]).measured == near.measured
    assert together([bad, worse]).measured == worse.measured
    seen_first = seen(True, explanation="looked at", source=KNOWN)
    assert together([seen_first, far]).explanation.startswith("looked at")
