"""How well the hidden resistance is found, over random circuits and meters with known joints.

    python -m tests.benchmarks.study_hidden_resistance --n 2000

Aims: the interval holds the truth in at least 93 %, and is no wider than 1.3 times what a Monte
Carlo of the same readings calls for; a named leg is wrong in fewer than 0.5 %, and one is named in
at least 70 % where the true excess is more than twice its uncertainty and the legs were read;
healthy circuits are called faulty in fewer than 2 %.
"""

import argparse
from dataclasses import dataclass

import numpy as np
from uncertainties import ufloat

from checks.electrical.assumed_ohms import conductor_temp_c, explained_ohm, sound_joints_ohm
from checks.electrical.joint import Joint, find_joint
from checks.electrical.load_fit import load_line
from checks.electrical.load_line import Between, Circuit, LoadReading, Place
from checks.quantity import Accuracy, expanded, gain, measured, nominal
from checks.units import Dimension
from tests.benchmarks.circuits import WIRE, Case, Meter, make_case
from tests.benchmarks.readings_monte_carlo import excess_draws

SCORED_SEED = 20_260_301
DRAWS, LEAST_ANCESTORS = 20_000, 300
CIRCUIT = {"split": Circuit.SPLIT, "wye": Circuit.WYE, "single": Circuit.SINGLE}
BETWEEN = {"both": Between.BOTH, "first": Between.FIRST, "second": Between.SECOND}


@dataclass
class Outcome:
    """One case: what was said and what is true."""

    case: Case
    excess_ohm: float
    spread_ohm: float
    leg: str
    is_called_faulty: bool
    width_ratio: float  # NaN where the Monte Carlo had too few draws

    @property
    def holds(self) -> bool:
        return abs(self.excess_ohm - self.case.excess_ohm) <= self.spread_ohm

    @property
    def worse_leg(self) -> str:
        names = CIRCUIT[self.case.kind].conductors
        return names[int(self.case.legs_ohm[1] > self.case.legs_ohm[0])]

    @property
    def is_large(self) -> bool:
        return self.case.excess_ohm > 2 * self.spread_ohm


def _accuracy(meter: Meter, dimension: Dimension) -> Accuracy:
    return Accuracy(dimension=dimension, percent=f"{meter.percent:g}", counts=meter.counts)


def joint_of(case: Case) -> Joint:
    """Hand the case's readings to the library as a station would."""
    volts = [_accuracy(meter, Dimension.VOLTAGE) for meter in case.meters]
    gains = [gain(each) for each in volts]
    amps = _accuracy(case.clamp, Dimension.CURRENT)
    amps_gain = gain(amps)
    currents = {
        r.visit: measured(f"{r.current_a:.1f}", "A", amps, amps_gain) if r.current_a else 0.0
        for r in case.reads
    }
    readings = [
        LoadReading(
            Place(r.place),
            BETWEEN[r.between],
            r.at_s,
            measured(
                f"{r.volts:.{2 if case.meters[r.meter].digit < 0.1 else 1}f}",
                "V",
                volts[r.meter],
                gains[r.meter],
            ),
            currents[r.visit],
        )
        for r in case.reads
    ]
    line = load_line(CIRCUIT[case.kind], readings)
    length_m = case.length_m * ufloat(1.0, case.length_within / 3**0.5)
    temp_c = conductor_temp_c(case.ambient_c, case.full_a, WIRE[case.size][2], case.minutes)
    return find_joint(
        line,
        explained_ohm(case.size, "copper", length_m, temp_c),
        sound_joints_ohm(terminals=case.terminals, contacts=case.contacts),
        length_m=case.length_m,
    )


def outcome(case: Case, rng: np.random.Generator, draws: int) -> Outcome:
    joint = joint_of(case)
    spread_ohm = expanded(joint.excess_ohm)
    return Outcome(
        case,
        nominal(joint.excess_ohm),
        spread_ohm,
        joint.leg,
        joint.is_sure,
        2 * spread_ohm / called_for_ohm(case, rng, draws),
    )


def called_for_ohm(case: Case, rng: np.random.Generator, draws: int) -> float:
    """Width of the middle 95 % of the Monte Carlo; more draws until enough of them differ."""
    for _ in range(4):
        values, ancestors = excess_draws(rng, case, draws)
        if ancestors >= LEAST_ANCESTORS:
            return float(np.diff(np.quantile(values, [0.025, 0.975]))[0])
        draws *= 4
    return float("nan")


def study(n: int, seed: int, draws: int = DRAWS) -> list[Outcome]:
    rng = np.random.default_rng(seed)
    yardstick = np.random.default_rng(seed + 1)
    return [outcome(make_case(rng), yardstick, draws) for _ in range(n)]


@dataclass
class Figures:
    """What the aims speak of, in per cent or as a ratio."""

    held: float
    width_median: float
    width_95: float
    width_most: float
    width_over: float
    wrong_leg: float
    named: float
    false_alarms: float
    found: float
    compared: int
    counted: dict[str, int]


def figures(outcomes: list[Outcome]) -> Figures:
    ratios = np.array([o.width_ratio for o in outcomes])
    ratios = ratios[~np.isnan(ratios)]
    assert len(ratios), "nothing to compare with"
    named = [o for o in outcomes if o.leg]
    large = [o for o in outcomes if o.is_large and "legs" in o.case.plan]
    healthy = [o for o in outcomes if not o.case.is_faulty]
    faulty = [o for o in outcomes if o.case.is_faulty and o.is_large]
    return Figures(
        held=_pct([o.holds for o in outcomes]),
        width_median=float(np.median(ratios)),
        width_95=float(np.quantile(ratios, 0.95)),
        width_most=float(ratios.max()),
        width_over=100 * float(np.mean(ratios > 1.3)),
        wrong_leg=_pct([o.leg != o.worse_leg for o in named]),
        named=_pct([bool(o.leg) for o in large]),
        false_alarms=_pct([o.is_called_faulty for o in healthy]),
        found=_pct([o.is_called_faulty for o in faulty]),
        compared=len(ratios),
        counted={
            "circuits": len(outcomes),
            "named": len(named),
            "large": len(large),
            "healthy": len(healthy),
        },
    )


def _pct(claims: list[bool]) -> float:
    return 100 * sum(claims) / len(claims) if claims else float("nan")


def table(outcomes: list[Outcome], seed: int) -> str:
    f = figures(outcomes)
    c = f.counted
    plain = [o for o in outcomes if "legs" not in o.case.plan and o.is_large]
    rows = [
        (f"seed {seed}, circuits", f"{c['circuits']}", ""),
        ("interval holds the truth, %", f"{f.held:.1f}", "at least 93"),
        ("width over Monte Carlo, median", f"{f.width_median:.2f}", "at most 1.3"),
        ("   95 of 100", f"{f.width_95:.2f}", "at most 1.3"),
        ("   widest", f"{f.width_most:.2f}", ""),
        ("   wider than 1.3, %", f"{f.width_over:.1f}", ""),
        (f"   compared, of {c['circuits']}", f"{f.compared}", ""),
        (f"leg named wrongly, % of {c['named']} named", f"{f.wrong_leg:.2f}", "below 0.5"),
        (f"leg named, % of {c['large']} large with legs read", f"{f.named:.1f}", "at least 70"),
        (f"healthy called faulty, % of {c['healthy']}", f"{f.false_alarms:.2f}", "below 2"),
        ("large faults called faulty, %", f"{f.found:.1f}", ""),
        ("large, legs not read (none can be named)", f"{len(plain)}", ""),
        (
            "median uncertainty of the excess, mΩ",
            f"{1e3 * np.median([o.spread_ohm for o in outcomes]):.1f}",
            "",
        ),
    ]
    return "\n".join(f"{what:<52}{value:>10}   {aim}" for what, value, aim in rows)


def by_group(outcomes: list[Outcome]) -> str:
    lines = []
    for name, key in (("kind", lambda o: o.case.kind), ("plan", lambda o: o.case.plan)):
        for group in sorted({key(o) for o in outcomes}):
            f = figures([o for o in outcomes if key(o) == group])
            lines.append(
                f"{name} {group:<24} n {f.counted['circuits']:>5}  held {f.held:5.1f}  "
                f"width {f.width_median:.2f} / {f.width_95:.2f} / {f.width_most:.2f}  "
                f"named {f.named:5.1f}  wrong {f.wrong_leg:4.2f}  false {f.false_alarms:4.2f}"
            )
    return "\n".join(lines)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=SCORED_SEED)
    arguments = parser.parse_args()
    found = study(arguments.n, arguments.seed)
    print(table(found, arguments.seed))
    print(by_group(found))
