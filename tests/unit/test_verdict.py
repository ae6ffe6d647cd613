"""The decision rule, the words, and what a limit says."""

import math

import pytest
from uncertainties import ufloat

from checks.source import Basis, Source, trade
from checks.verdict import (
    WORST_FIRST,
    Force,
    Limit,
    Severity,
    Verdict,
    at_least,
    at_most,
    decide,
    margin,
    worst,
)

KNOWN = trade("a test")
RECALLED = Source(document="a code", basis=Basis.FROM_MEMORY)


def upper(value: float, source: Source = KNOWN) -> Limit:
    return at_most(value, "K", Force.TRADE_JUDGEMENT, source)


def lower(value: float, source: Source = KNOWN) -> Limit:
    return at_least(value, "K", Force.TRADE_JUDGEMENT, source)


def test_there_are_five_words_and_four_signal_words():
    assert [v.value for v in Verdict] == [
        "within",
        "outside",
        "borderline",
        "not measured",
        "not applicable",
    ]
    # ANSI Z535.4: danger, warning, caution, notice (from memory)
    assert [s.value for s in Severity] == ["danger", "warning", "caution", "notice"]


def test_the_worst_decides_and_not_measured_is_worse_than_good():
    assert worst(Verdict) is Verdict.OUTSIDE
    assert worst([Verdict.WITHIN, Verdict.NOT_MEASURED]) is Verdict.NOT_MEASURED
    assert worst([Verdict.NOT_MEASURED, Verdict.BORDERLINE]) is Verdict.BORDERLINE
    assert worst([Verdict.NOT_APPLICABLE, Verdict.WITHIN]) is Verdict.WITHIN
    assert worst([]) is Verdict.NOT_APPLICABLE
    assert sorted(WORST_FIRST) == sorted(Verdict)


# Upper limit 30, U = 2.2 (k = 2): the guard band w = U of JCGM 106:2012, worked by hand.
@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (26.0, Verdict.WITHIN),
        (27.7, Verdict.WITHIN),
        (27.9, Verdict.BORDERLINE),
        (30.0, Verdict.BORDERLINE),
        (30.9, Verdict.BORDERLINE),
        (32.1, Verdict.BORDERLINE),
        (32.3, Verdict.OUTSIDE),
        (33.0, Verdict.OUTSIDE),
    ],
)
def test_the_whole_interval_must_lie_on_one_side(value: float, verdict: Verdict):
    assert decide(ufloat(value, 1.1), [upper(30.0)]) is verdict
    assert decide(ufloat(-value, 1.1), [lower(-30.0)]) is verdict


@pytest.mark.parametrize("limit", [upper(30.0), lower(30.0)])
def test_an_exact_number_equal_to_the_limit_is_within(limit: Limit):
    assert decide(30.0, [limit]) is Verdict.WITHIN


def test_a_limit_that_survives_only_nine_digits_does_not_turn_equal_into_outside():
    third = 100.0 / 3.0
    assert decide(third, [upper(third)]) is Verdict.WITHIN
    assert decide(third, [lower(third)]) is Verdict.WITHIN


def test_a_limit_from_memory_warns_and_never_clears():
    assert decide(10.0, [upper(30.0, RECALLED)]) is Verdict.BORDERLINE
    assert decide(40.0, [upper(30.0, RECALLED)]) is Verdict.OUTSIDE


def test_of_several_limits_the_worst_decides():
    assert decide(20.0, [lower(10.0), upper(30.0)]) is Verdict.WITHIN
    assert decide(40.0, [lower(10.0), upper(30.0)]) is Verdict.OUTSIDE


@pytest.mark.parametrize("value", [math.nan, ufloat(math.nan, 1.0)])
def test_a_number_that_is_none_is_never_within(value: object):
    assert decide(value, [upper(30.0)]) is not Verdict.WITHIN  # type: ignore[arg-type]
    assert decide(value, [lower(30.0)]) is not Verdict.WITHIN  # type: ignore[arg-type]


def test_the_margin_is_the_way_to_the_nearest_limit_and_negative_beyond_it():
    limits = [lower(10.0), upper(30.0)]
    found = [margin(v, limits, "K") for v in (28.0, 11.0, 35.0)]
    assert [float(m.value) for m in found if m] == [2.0, 1.0, -5.0]
    assert margin(1.0, [], "K") is None


def test_a_limit_says_itself_in_one_phrase_and_keeps_more_digits_than_it_shows():
    limit = at_most(100.0 / 3.0, "V", Force.CODE_RULE, KNOWN, places=1)
    assert str(limit) == "at most 33.3 V"
    assert limit.value == pytest.approx(100.0 / 3.0, rel=1e-8)
    assert at_least(12e-6, "mm²", Force.CODE_RULE, KNOWN).exact == "0.000012"
