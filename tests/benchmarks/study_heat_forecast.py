"""How well the end of a heating is forecast, over random curves of one and two time constants.

    python -m tests.benchmarks.study_heat_forecast --n 2000

Aims: the truth lies above the stated upper bound in fewer than 5 % of the committed forecasts; a
forecast is made by 1.5 slow time constants in at least 80 % of the curves. The time to the forecast
is reported against the time to 98 % of the final rise. The thermometer's own error is left out, so
that nothing but the forecast widens the bound.
"""

import argparse
from dataclasses import dataclass

import numpy as np

from checks.electrical.heat_forecast import HeatForecast, HeatState, forecast
from checks.electrical.heat_forecast_stop import HeatSample, Stop
from tests.benchmarks.heating_curves import Curve, make_curve, make_runaway

SCORED_SEED = 20_260_302
EVERY_MIN = 2.0  # a forecast is asked for about this often


@dataclass
class Outcome:
    """One curve and its first forecast."""

    curve: Curve
    at_min: float | None = None
    value_k: float = 0.0
    low_k: float = 0.0
    high_k: float = 0.0
    below_last: bool = False
    false_sign: str = ""

    @property
    def is_early(self) -> bool:
        return self.at_min is not None and self.at_min <= 1.5 * self.curve.slow_min


def samples_of(curve: Curve, count: int) -> list[HeatSample]:
    return [
        HeatSample(60 * t, temp, air, amps)
        for t, temp, air, amps in zip(
            curve.minutes[:count].tolist(),
            curve.temps_c[:count].tolist(),
            curve.ambients_c[:count].tolist(),
            curve.currents_a[:count].tolist(),
            strict=True,
        )
    ]


def say(curve: Curve, count: int) -> HeatForecast:
    """What is said after so many readings; no stop by temperature, the whole curve is wanted."""
    return forecast(
        samples_of(curve, count), 48.0, resolution_k=curve.digit_k, stop_c=1e3, stop_rise_k=1e3
    )


def outcome(curve: Curve) -> Outcome:
    asked = curve.minutes[0] + 6.0
    for count in range(6, len(curve.minutes) + 1):
        at_min = float(curve.minutes[count - 1])
        if at_min < asked:
            continue
        asked = at_min + EVERY_MIN
        said = say(curve, count)
        if said.state in (HeatState.COOLING, HeatState.STOP):
            return Outcome(curve, false_sign=said.stop.value or said.state.value)
        if said.state is HeatState.FORECAST:
            end = said.at_test
            last_k = float(curve.temps_c[count - 1] - curve.ambients_c[count - 1])
            return Outcome(
                curve, at_min, end.value_k, end.low_k, end.high_k, end.value_k < last_k - 1e-9
            )
    return Outcome(curve)


def study(n: int, seed: int) -> list[Outcome]:
    rng = np.random.default_rng(seed)
    return [outcome(make_curve(rng)) for _ in range(n)]


def caught(n: int, seed: int) -> float:
    """Share of runaway joints that are called so before 2 slow time constants are over, in %."""
    rng = np.random.default_rng(seed)
    found = 0
    for _ in range(n):
        curve = make_runaway(rng)
        counts = range(6, len(curve.minutes) + 1)
        found += any(say(curve, count).stop is Stop.ACCELERATING for count in counts)
    return 100 * found / n


@dataclass
class Figures:
    """What the aims speak of, in per cent."""

    above: float
    below: float
    early: float
    ever: float
    minutes: float
    steady: float
    share: float
    error: float
    below_last: int
    false_signs: float


def figures(outcomes: list[Outcome]) -> Figures:
    made = [o for o in outcomes if o.at_min is not None]
    assert made, "no forecast at all"
    return Figures(
        above=_pct([o.curve.final_k > o.high_k for o in made]),
        below=_pct([o.curve.final_k < o.low_k for o in made]),
        early=_pct([o.is_early for o in outcomes]),
        ever=_pct([o.at_min is not None for o in outcomes]),
        minutes=float(np.median([o.at_min for o in made])),
        steady=float(np.median([o.curve.steady_min() for o in made])),
        share=float(np.median([o.at_min / o.curve.steady_min() for o in made])),
        error=float(np.median([abs(o.value_k / o.curve.final_k - 1) for o in made])) * 100,
        below_last=sum(o.below_last for o in made),
        false_signs=_pct([bool(o.false_sign) for o in outcomes]),
    )


def _pct(claims: list[bool]) -> float:
    return 100 * sum(claims) / len(claims)


def table(outcomes: list[Outcome], seed: int) -> str:
    rows = [(f"seed {seed}, curves", f"{len(outcomes)}", "")]
    for name, group in (
        ("all", outcomes),
        ("one part", [o for o in outcomes if o.curve.parts == 1]),
        ("two parts", [o for o in outcomes if o.curve.parts == 2]),
    ):
        f = figures(group)
        rows += [
            (f"{name}: truth above the upper bound, %", f"{f.above:.1f}", "below 5"),
            ("   truth below the lower bound, %", f"{f.below:.1f}", ""),
            ("   forecast by 1.5 slow time constants, %", f"{f.early:.1f}", "at least 80"),
            ("   forecast by 3, %", f"{f.ever:.1f}", ""),
            ("   median time to the forecast, min", f"{f.minutes:.0f}", ""),
            ("   median time to 98 % of the rise, min", f"{f.steady:.0f}", ""),
            ("   median share of that time", f"{f.share:.2f}", ""),
            ("   median error of the forecast, %", f"{f.error:.1f}", ""),
            ("   forecasts below the last reading", f"{f.below_last}", "0"),
            ("   called cooling or accelerating, %", f"{f.false_signs:.2f}", ""),
        ]
    return "\n".join(f"{what:<48}{value:>10}   {aim}" for what, value, aim in rows)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=SCORED_SEED)
    arguments = parser.parse_args()
    print(table(study(arguments.n, arguments.seed), arguments.seed))
    runaways = max(arguments.n // 10, 1)
    print(f"of {runaways} joints that destroy themselves, called accelerating, %: ", end="")
    print(f"{caught(runaways, arguments.seed + 1):.1f}")
