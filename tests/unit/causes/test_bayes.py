"""Bayes by worked examples that others published, and by hand."""

import math

import pytest

from checks.causes.bayes import NONE_SHARE, PAIR_SHARE, factors, of_each, strongest, table, weigh
from checks.causes.cause import Cause, Evidence, Proof, shares
from checks.causes.clue import Clue, Outcome
from checks.causes.next_test import after, entropy_bits, expected_bits
from checks.path import Station
from checks.source import judgement
from checks.verdict import Severity

BASIS = judgement("an example")


def clue(name: str, usual_bad: float, group: str = "") -> Clue:
    both = (Outcome("good", "it is good", 1 - usual_bad), Outcome("bad", "it is bad", usual_bad))
    return Clue(name, "outlet.damage", both, "good", lambda _: None, group)


def cause(name: str, weight: float, **bad: float) -> Cause:
    """A cause with the share of "bad" that each clue has with it, against 0.1 without."""
    told = tuple(Evidence(k, "bad", share / 0.1, BASIS) for k, share in bad.items())
    proof = (Proof(next(iter(bad)), "bad"),)
    return Cause(
        name, name, Station.OUTLET, weight, told, proof, "so", "do so", ("x",), Severity.NOTICE
    )


def test_the_taxicab_problem() -> None:
    """Tversky and Kahneman 1982: 85 % green, 15 % blue, a witness who is right in 80 %: 41 %.

    From memory; printed as .41.
    """
    seen = Clue(
        "witness",
        "outlet.damage",
        (Outcome("blue", "says blue", 0.5), Outcome("green", "says green", 0.5)),
        "",
        lambda _: None,
    )

    def cab(name: str, weight: float, says_blue: float) -> Cause:
        told = (Evidence("witness", "blue", says_blue / 0.5, BASIS),)
        return Cause(name, name, Station.RUN, weight, told, (), "so", "do", ("x",), Severity.NOTICE)

    chart = table((cab("blue", 15, 0.8), cab("green", 85, 0.2)), (seen,))
    masses = weigh(chart, factors(chart, {"witness": "blue"}).values())
    assert masses[1] / (masses[1] + masses[2]) == pytest.approx(0.41, abs=0.005)


def test_a_screening_test() -> None:
    """Eddy 1982: prevalence 1 %, 79.2 % of sick and 9.6 % of healthy test positive: 7.7 %.

    From memory; the healthy are here "none of these".
    """
    positive = Clue(
        "test",
        "outlet.damage",
        (Outcome("no", "is negative", 0.904), Outcome("yes", "is positive", 0.096)),
        "no",
        lambda _: None,
    )
    told = (Evidence("test", "yes", 0.792 / 0.096, BASIS),)
    sick = Cause("sick", "s", Station.RUN, 1, told, (), "so", "do", ("x",), Severity.NOTICE)
    chart = table((sick,), (positive,))
    ratio = factors(chart, {"test": "yes"})["test"][1]
    assert 0.01 * ratio / (0.01 * ratio + 0.99) == pytest.approx(0.077, abs=0.0005)


def test_priors_sum_to_one_with_none_and_two_at_once() -> None:
    chart = table((cause("a", 3, k=0.5), cause("b", 1, k=0.2)), (clue("k", 0.1),))
    assert sum(chart.priors) == pytest.approx(1.0)
    assert chart.priors[0] == NONE_SHARE
    assert chart.priors[3] == pytest.approx(PAIR_SHARE)
    assert chart.priors[1] == pytest.approx(3 * chart.priors[2])


def test_two_at_once_disturb_what_is_normal_independently() -> None:
    """Noisy or by hand: normal with a 0.5, with b 0.8, without either 0.9: both 0.5 × 0.8 / 0.9."""
    chart = table((cause("a", 1, k=0.5), cause("b", 1, k=0.2)), (clue("k", 0.1),))
    normal = chart.ratios["k"]["good"][3] * 0.9
    assert normal == pytest.approx(0.5 * 0.8 / 0.9)
    assert chart.ratios["k"]["bad"][3] * 0.1 == pytest.approx(1 - normal)


def test_what_a_cause_says_nothing_of_is_shared_as_usual() -> None:
    three = Clue(
        "k",
        "outlet.damage",
        (Outcome("a", "is a", 0.5), Outcome("b", "is b", 0.3), Outcome("c", "is c", 0.2)),
        "a",
        lambda _: None,
    )
    told = (Evidence("k", "c", 3.0, BASIS),)
    one = Cause("x", "x", Station.RUN, 1, told, (), "so", "do", ("x",), Severity.NOTICE)
    assert shares(one, three) == pytest.approx({"a": 0.25, "b": 0.15, "c": 0.6})


def test_signs_of_one_thing_count_once() -> None:
    a, b = cause("a", 1, k=0.5, m=0.4), cause("b", 1, k=0.1)
    apart = table((a, b), (clue("k", 0.1), clue("m", 0.1)))
    tied = table((a, b), (clue("k", 0.1, "one"), clue("m", 0.1, "one")))
    found = {"k": "bad", "m": "bad"}
    assert factors(tied, found)["one"][1] == pytest.approx(5.0)
    product = math.prod(of[1] for of in factors(apart, found).values())
    assert product == pytest.approx(20.0)
    assert strongest([5.0, 0.2]) == pytest.approx(1.0)


def test_a_cause_that_is_one_of_two_counts_too() -> None:
    chart = table((cause("a", 1, k=0.9), cause("b", 1, m=0.9)), (clue("k", 0.1), clue("m", 0.1)))
    masses = weigh(chart, factors(chart, {"k": "bad", "m": "bad"}).values())
    each = of_each(chart, masses)
    assert masses[3] > 0.3, "both signs, and no cause makes both"
    assert sum(each.values()) + masses[0] > 1.0
    assert each["a"] == pytest.approx(masses[1] + masses[3])


def test_information_is_that_of_shannon_s_binary_channel() -> None:
    """1 - H(p) of a binary symmetric channel with p = 0.11 is 0.500 bit (Cover and Thomas)."""
    assert 1 - entropy_bits((0.11, 0.89)) == pytest.approx(0.5, abs=5e-4)


def test_a_test_that_says_nothing_is_expected_to_tell_nothing() -> None:
    chart = table((cause("a", 1, k=0.1), cause("b", 1, k=0.1)), (clue("k", 0.1),))
    assert expected_bits(chart, {}, chart.clues["k"], (0.2, 0.4, 0.4)) == pytest.approx(0.0)


def test_expected_information_by_hand() -> None:
    """Two causes alike, one makes it bad in 90 %, the other in 10 %: 1 - H(0.1) = 0.531 bit."""
    chart = table((cause("a", 1, k=0.9), cause("b", 1, k=0.1)), (clue("k", 0.1),))
    bits = expected_bits(chart, {}, chart.clues["k"], (0.0, 0.5, 0.5))
    assert bits == pytest.approx(0.531, abs=5e-4)
    chances = after(chart, {}, chart.clues["k"], (0.0, 0.5, 0.5))
    assert chances["bad"][0] == pytest.approx(0.5)
    assert chances["bad"][1][1] == pytest.approx(0.9)
