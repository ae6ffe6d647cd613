"""Propagation and decision against numpy draws and the worked examples of the standards.

JCGM 106:2012 (examples from memory, their probabilities by the normal distribution); JCGM 100:2008
(rules from memory); example of a meter's accuracy: a meter maker's note on "1 % of reading + 3
counts" (read).
"""

from collections.abc import Callable
from statistics import NormalDist

import numpy as np
import pytest
from uncertainties import ufloat

from checks.electrical.assumed_ohms import explained_ohm, sound_joints_ohm
from checks.electrical.drop import percent_of_nominal
from checks.electrical.heating import scaled_rise_k
from checks.electrical.hidden_resistance import excess_ohm, heat_w, metal_loop_ohm
from checks.electrical.joint import find_joint
from checks.electrical.least_squares import straight_line
from checks.electrical.load_line import Circuit, LoadLine, Ohms
from checks.quantity import Accuracy, expanded, gain, measured, nominal
from checks.source import Basis, Source
from checks.units import Dimension
from checks.verdict import Force, Limit, Side, Verdict, at_least, at_most, decide

SIZE, SEED = 200_000, 20_260_303
STANDARD = Source(document="an example", basis=Basis.LOOKED_UP)

# value, relative error (±, rectangular), absolute error (±, rectangular), shared gain
Row = tuple[float, float, float, str]


def drawn(rows: dict[str, Row], rng: np.random.Generator) -> dict[str, np.ndarray]:
    """The same shapes of error, drawn: one gain for each meter, counts for each reading."""
    limits = {meter: relative for _, relative, _, meter in rows.values()}
    gains = {meter: rng.uniform(-1, 1, SIZE) * limit for meter, limit in limits.items()}
    return {
        name: value * (1 + gains[meter]) + rng.uniform(-1, 1, SIZE) * counts
        for name, (value, _, counts, meter) in rows.items()
    }


def linear(rows: dict[str, Row]) -> dict[str, object]:
    limits = {meter: relative for _, relative, _, meter in rows.values()}
    gains = {m: ufloat(0.0, limit / 3**0.5) if limit else 0.0 for m, limit in limits.items()}
    return {
        name: value * (1 + gains[meter]) + ufloat(0.0, counts / 3**0.5)
        for name, (value, _, counts, meter) in rows.items()
    }


TEST = {
    "p0": (243.2, 0.01, 0.3, "V"),
    "p1": (241.5, 0.01, 0.3, "V"),
    "o0": (243.1, 0.01, 0.3, "V"),
    "o1": (236.4, 0.01, 0.3, "V"),
    "i": (31.6, 0.02, 0.5, "A"),
    "length": (30.0, 0.05, 0.1, "m"),
    "temp": (40.0, 0.0, 15.0, "°C"),
    "rise": (18.0, 0.02, 1.0, "K"),
}


def found(v: dict[str, object]) -> object:
    return ((v["o0"] - v["o1"]) - (v["p0"] - v["p1"])) / v["i"]  # type: ignore[operator]


def metal(v: dict[str, object]) -> object:
    # the formula itself, with the temperature's range checked on one number
    if isinstance(v["temp"], np.ndarray):
        return metal_loop_ohm("8 AWG", "copper", v["length"], 20.0) * (
            1 + 0.00393 * (v["temp"] - 20)
        )
    return metal_loop_ohm("8 AWG", "copper", v["length"], v["temp"])


DERIVED: dict[str, Callable[[dict[str, object]], object]] = {
    "drop": lambda v: v["o0"] - v["o1"],
    "metal": metal,
    "excess": lambda v: excess_ohm(found(v), metal(v)),
    "heat at the test current": lambda v: heat_w(found(v), v["i"]),
    "heat at full current": lambda v: heat_w(found(v), 40.0),
    "drop in percent": lambda v: percent_of_nominal(v["o0"] - v["o1"], 240.0),
    "rise at full current": lambda v: scaled_rise_k(v["rise"], v["i"], 40.0, 2.0),
}


class _Array(np.ndarray):
    """Draws that show their mean where a formula looks at the best estimate."""

    @property
    def nominal_value(self) -> float:
        return float(np.mean(self))


@pytest.mark.parametrize("name", DERIVED)
def test_propagation_agrees_with_draws(name: str) -> None:
    rng = np.random.default_rng(SEED)
    draws = {key: each.view(_Array) for key, each in drawn(TEST, rng).items()}
    said, seen = DERIVED[name](linear(TEST)), np.asarray(DERIVED[name](draws))

    # 200 000 draws know a standard deviation within 0.3 %; the second order of 1/I adds under 1 %
    assert said.std_dev == pytest.approx(seen.std(), rel=0.015)
    assert nominal(said) == pytest.approx(seen.mean(), abs=0.02 * seen.std())
    inside = np.abs(seen - nominal(said)) <= expanded(said)
    assert 0.945 < inside.mean() <= 1.0  # k = 2 covers about 95 %; rectangular errors a little more


def test_the_hidden_joint_and_its_heat_agree_with_draws() -> None:
    """The chain of the load test, from two drops to watts, by numpy with the same stated errors."""
    rng, root = np.random.default_rng(SEED), 3**0.5

    def flat(limit: float) -> np.ndarray:
        return rng.uniform(-limit, limit, SIZE)

    # drops of 9.5 V and 1.8 V at 31.6 A, each known to ±0.3 V; clamp ±2 %; 30 m known to ±2 %;
    # metal at 40 ± 8 °C and within 2 %; four terminals and two blades, 1.4 to 6 mΩ in all
    amps = 31.6 * (1 + flat(0.02))
    outlet, panel = 9.5 + flat(0.3), 1.8 + flat(0.3)
    # 8 AWG: 8.366 mm² (ASTM B258), 58 MS/m (IEC 60028), 2 % lay, 0.393 % a kelvin
    at_20 = 2 * 30.0 * (1 + flat(0.02)) / (58.0 * 8.3656) * 1.02
    metal_ohm = at_20 * (1 + 0.00393 * (40 + flat(8.0) - 20)) * (1 + flat(0.02))
    excess = (outlet - panel) / amps - metal_ohm
    hidden = excess - (0.0037 + flat(0.0023))
    drawn_heat = {"test": hidden * amps**2, "full": hidden * 40.0**2}

    current_a = 31.6 * (1 + ufloat(0.0, 0.02 / root))
    drops = [ufloat(volts, 0.3 / root) / current_a for volts in (9.5, 1.8)]
    line = LoadLine(
        Circuit.SPLIT, Ohms(drops[0]), Ohms(drops[1]), current_a, False, False, repeated=True
    )
    run_ohm = explained_ohm(
        "8 AWG", "copper", 30.0 * ufloat(1.0, 0.02 / root), ufloat(40.0, 8.0 / root)
    )
    joint = find_joint(line, run_ohm, sound_joints_ohm(terminals=4, contacts=2))

    for said, seen in (
        (joint.excess_ohm, excess),
        (joint.hidden_ohm, hidden),
        (joint.test_heat_w(), drawn_heat["test"]),
        (joint.full_heat_w(40.0), drawn_heat["full"]),
    ):
        assert said.std_dev == pytest.approx(seen.std(), rel=0.015)
        assert nominal(said) == pytest.approx(seen.mean(), abs=0.02 * seen.std())
        inside = np.abs(seen - nominal(said)) <= expanded(said)
        assert 0.945 < inside.mean() <= 1.0
    assert joint.most_heat_w(40.0) == pytest.approx(
        np.quantile(drawn_heat["full"], 0.9772), rel=0.03
    )


def test_a_line_through_visits_agrees_with_draws() -> None:
    rng = np.random.default_rng(SEED)
    at, values, spreads = [0.0, 1.2, 2.1, 4.0], [10.0, 11.0, 12.5, 14.0], [0.4, 0.8, 0.4, 0.6]
    said = straight_line(at, [ufloat(v, s) for v, s in zip(values, spreads, strict=True)])[1]
    draws = np.array(values) + rng.normal(size=(20_000, 4)) * spreads
    seen = np.polynomial.polynomial.polyfit(at, draws.T, 1, w=1 / np.array(spreads))[1]

    assert nominal(said) == pytest.approx(seen.mean(), abs=0.01)
    assert said.std_dev == pytest.approx(seen.std(), rel=0.02)


def test_the_published_accuracy_of_a_meter() -> None:
    # 120 V, ±(1 % + 3 counts of 0.1 V) = ±1.5 V; as standard uncertainties 1.2/√3 and 0.3/√3
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
    volts = measured("120.0", "V", accuracy, gain(accuracy))

    assert volts.std_dev == pytest.approx((1.2**2 + 0.3**2) ** 0.5 / 3**0.5)


def test_two_readings_of_one_meter() -> None:
    # 243.1 - 236.4 V: ±0.50 V with one meter, were the gains independent
    # 2·√((2.431² + 2.364² + 2·0.3²)/3) = ±3.95 V; at 31.6 A ±(2 % + 5 counts of 0.1 A)
    # 212.0 ± 16.9 mΩ (JCGM 100:2008, 5.2.2; by hand)
    accuracy = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
    clamp = Accuracy(dimension=Dimension.CURRENT, percent="2.0", counts=5)
    shared = gain(accuracy)
    high, low = (measured(x, "V", accuracy, shared) for x in ("243.1", "236.4"))
    other = measured("236.4", "V", accuracy, gain(accuracy))
    ohm = (high - low) / measured("31.6", "A", clamp, gain(clamp))

    assert expanded(high - low) == pytest.approx(0.50, abs=0.005)
    assert expanded(high - other) == pytest.approx(3.95, abs=0.005)
    assert 1000 * nominal(ohm) == pytest.approx(212.0, abs=0.05)
    assert 1000 * expanded(ohm) == pytest.approx(16.9, abs=0.05)


def limit(value: float, side: Side = Side.AT_MOST) -> Limit:
    make = at_most if side is Side.AT_MOST else at_least
    return make(value, "V", Force.RECOMMENDATION, STANDARD)


def test_zener_diode_of_jcgm_106() -> None:
    # breakdown -5.47 V, u 0.05 V, wanted at most -5.40 V: conforms with probability 0.92, which
    # is no decision with a guard band of U
    assert NormalDist(-5.47, 0.05).cdf(-5.40) == pytest.approx(0.92, abs=0.005)
    assert decide(ufloat(-5.47, 0.05), [limit(-5.40)]) is Verdict.BORDERLINE
    assert decide(ufloat(-5.51, 0.05), [limit(-5.40)]) is Verdict.WITHIN


def test_motor_oil_of_jcgm_106() -> None:
    # viscosity 13.6 mm²/s, u 1.8, wanted 12.5 to 16.3: conforms with probability 0.66
    oil = NormalDist(13.6, 1.8)

    assert oil.cdf(16.3) - oil.cdf(12.5) == pytest.approx(0.66, abs=0.005)
    limits = [limit(12.5, Side.AT_LEAST), limit(16.3)]
    assert decide(ufloat(13.6, 1.8), limits) is Verdict.BORDERLINE


@pytest.mark.parametrize(
    ("value", "verdict", "probability"),
    [
        # upper limit 30, U = 2.2 (k = 2); guard band and probability by the normal distribution
        (26.0, Verdict.WITHIN, 0.9999),
        (27.9, Verdict.BORDERLINE, 0.9719),
        (30.9, Verdict.BORDERLINE, 0.2066),
        (33.0, Verdict.OUTSIDE, 0.0032),
    ],
)
def test_a_guard_band_of_u(value: float, verdict: Verdict, probability: float) -> None:
    assert NormalDist(value, 1.1).cdf(30.0) == pytest.approx(probability, abs=0.00005)
    assert decide(ufloat(value, 1.1), [limit(30.0)]) is verdict


def test_at_the_edge_of_the_band_one_in_44_is_accepted_falsely() -> None:
    # ILAC-G8:09/2019: below 2.5 % with w = U; 1 - Φ(2) = 2.28 %
    assert 1 - NormalDist(27.8, 1.1).cdf(30.0) == pytest.approx(0.0228, abs=0.0001)
    assert decide(ufloat(27.8, 1.1), [limit(30.0)]) is Verdict.WITHIN
