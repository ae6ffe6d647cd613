"""Properties of the decision rule and of uncertainty, against the normal distribution."""

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from checks.quantity import Accuracy, expanded, gain, measured, nominal
from checks.source import trade
from checks.units import Dimension
from checks.verdict import Force, Verdict, at_least, at_most, decide

KNOWN = trade("a test")
numbers = st.floats(min_value=-1e5, max_value=1e5, allow_nan=False)
spreads = st.floats(min_value=1e-6, max_value=1e4, allow_nan=False)


def upper(limit: float, value: float, u: float) -> Verdict:
    made = at_most(limit, "V", Force.CODE_RULE, KNOWN)
    return decide(ufloat(value, u) if u else value, [made])


def lower(limit: float, value: float, u: float) -> Verdict:
    made = at_least(limit, "V", Force.CODE_RULE, KNOWN)
    return decide(ufloat(value, u) if u else value, [made])


# JCGM 106:2012, one-sided: P(conform) = Φ((limit − y) / u). A guard band of U = 2u keeps the
# chance of a false acceptance under 2.28 % = Φ(−2).
@given(numbers, numbers, spreads)
def test_within_is_wrong_in_fewer_than_one_in_forty(limit: float, value: float, u: float):
    conforms = NormalDist(value, u).cdf(limit)
    slack = 1e-4  # the limit is kept to nine digits, and u may be as small as its last one
    verdict = upper(limit, value, u)
    if verdict is Verdict.WITHIN and u > 1e-3 * max(1.0, abs(limit)):
        assert conforms >= NormalDist().cdf(2.0) - slack
    if verdict is Verdict.OUTSIDE and u > 1e-3 * max(1.0, abs(limit)):
        assert conforms <= NormalDist().cdf(-2.0) + slack


# Worked examples of JCGM 106:2012 (Zener diode, P = 0.92; motor oil within 12.5 to 16.3, P =
# 0.66), as quoted from memory in the same form: neither is sure enough to be decided.
@pytest.mark.parametrize(
    ("limits", "value", "u", "probability"),
    [((-math.inf, -5.40), -5.47, 0.05, 0.92), ((12.5, 16.3), 13.6, 1.8, 0.66)],
)
def test_the_standards_own_examples_stay_borderline(
    limits: tuple[float, float], value: float, u: float, probability: float
):
    low, high = limits
    spread = NormalDist(value, u)
    assert spread.cdf(high) - (0.0 if math.isinf(low) else spread.cdf(low)) == pytest.approx(
        probability, abs=0.005
    )
    made = [at_most(high, "V", Force.CODE_RULE, KNOWN)]
    if not math.isinf(low):
        made.append(at_least(low, "V", Force.CODE_RULE, KNOWN))
    assert decide(ufloat(value, u), made) is Verdict.BORDERLINE


@given(numbers, numbers, spreads, st.floats(min_value=1.0, max_value=100.0))
def test_knowing_less_never_decides_more(limit: float, value: float, u: float, times: float):
    sharp, blunt = upper(limit, value, u), upper(limit, value, u * times)
    assert blunt in (sharp, Verdict.BORDERLINE)


@given(numbers, numbers, spreads)
def test_at_most_and_at_least_mirror_each_other(limit: float, value: float, u: float):
    assert upper(limit, value, u) is lower(-limit, -value, u)


@given(numbers, numbers)
def test_an_exact_number_is_never_borderline(limit: float, value: float):
    assert upper(limit, value, 0.0) in (Verdict.WITHIN, Verdict.OUTSIDE)


@given(numbers)
def test_equal_to_the_limit_is_within(limit: float):
    assert upper(limit, limit, 0.0) is lower(limit, limit, 0.0) is Verdict.WITHIN


# -- readings ------------------------------------------------------------------------------------
@given(
    st.integers(min_value=0, max_value=99999),
    st.integers(min_value=0, max_value=3),
    st.integers(min_value=1, max_value=50),
    st.integers(min_value=0, max_value=20),
)
def test_a_reading_is_as_uncertain_as_its_meter_says(
    digits: int, places: int, tenths: int, counts: int
):
    """±(% + counts), each a rectangular limit of error: JCGM 100:2008, 4.3.7 (from memory)."""
    value = digits / 10**places
    text = f"{value:.{places}f}"
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent=f"{tenths / 10:.1f}", counts=counts)
    found = measured(text, "V", accuracy, gain(accuracy))
    by_gain, by_counts = tenths / 1000 * value, counts * 10**-places
    assert nominal(found) == pytest.approx(value)
    assert expanded(found) == pytest.approx(2 * math.hypot(by_gain, by_counts) / math.sqrt(3))


# Two readings of one meter, ±(1 % + 3 counts of 0.1 V): worked by hand from JCGM 100:2008, 5.1.2
# and 5.2.2. Gain common: 2·√((0.01·6.7/√3)² + 2·(0.3/√3)²) = 0.50 V; with a gain of its own each
# 2·√((0.01·243.1/√3)² + (0.01·236.4/√3)² + 2·(0.3/√3)²) = 3.95 V.
def test_one_meter_knows_a_difference_far_better_than_two():
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
    shared = gain(accuracy)
    one = measured("243.1", "V", accuracy, shared) - measured("236.4", "V", accuracy, shared)
    two = measured("243.1", "V", accuracy, gain(accuracy)) - measured(
        "236.4", "V", accuracy, gain(accuracy)
    )
    assert nominal(one) == pytest.approx(6.7)
    assert expanded(one) == pytest.approx(0.50, abs=0.005)
    assert expanded(two) == pytest.approx(3.95, abs=0.005)
    # with 31.6 A by a clamp of ±(2 % + 5 counts of 0.1 A): u(I) = √(0.632² + 0.5²)/√3 = 0.465 A, so
    # 212.0 mΩ ± 2·212.0·√((0.248/6.7)² + (0.465/31.6)²) = ± 16.9 mΩ
    clamp = Accuracy(dimension=Dimension.CURRENT, percent="2.0", counts=5)
    ohm = one / measured("31.6", "A", clamp, gain(clamp))
    assert nominal(ohm) == pytest.approx(0.2120, abs=0.00005)
    assert expanded(ohm) == pytest.approx(0.0169, abs=0.00005)
