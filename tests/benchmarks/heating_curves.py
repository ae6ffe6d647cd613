"""Random heating curves of one and of two time constants, read by a thermometer that rounds.

Imports nothing of the project. Ranges and shapes were fixed before the scored runs.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

Rng = np.random.Generator

RANGES: dict[str, Any] = {
    "curves of one part": 0.4,
    "time constant of one part, min, log-uniform": (8.0, 40.0),
    "slow time constant, min, log-uniform": (10.0, 40.0),
    "fast time constant, min, log-uniform": (1.0, 6.0),
    "fast share of the rise, uniform": (0.15, 0.6),
    "final rise, K, log-uniform": (5.0, 60.0),
    "ambient, °C, uniform": (0.0, 35.0),
    "ambient drifts, K per hour, uniform": 1.5,
    "scatter, K, log-uniform normal": (0.05, 0.5),
    "last digit, K": {0.1: 0.7, 0.5: 0.15, 1.0: 0.15},
    "a reading every, min": {1.0: 0.6, 2.0: 0.4},
    "jitter of the interval, relative, uniform": 0.2,
    "late start": (0.3, (1.0, 5.0)),
    "with spikes": (0.3, 0.02, (3.0, 15.0)),
    "current, A, uniform": (12.0, 48.0),
    "current wanders, relative, normal": 0.005,
}


@dataclass
class Curve:
    """A series as it was read, and what is true."""

    minutes: np.ndarray  # since the current was switched on
    temps_c: np.ndarray
    ambients_c: np.ndarray
    currents_a: np.ndarray
    digit_k: float
    final_k: float
    slow_min: float
    parts: int
    final_parts: tuple[tuple[float, float], ...]  # share in K, time constant in minutes

    def rise_k(self, minutes: float) -> float:
        return sum(size * (1 - np.exp(-minutes / tau)) for size, tau in self.final_parts)

    def steady_min(self, share: float = 0.98) -> float:
        """When the true rise has reached this share of its end."""
        grid = np.linspace(0, 8 * self.slow_min, 4000)
        rises = sum(size * (1 - np.exp(-grid / tau)) for size, tau in self.final_parts)
        return float(grid[np.searchsorted(rises, share * self.final_k)])


def log_uniform(rng: Rng, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def make_curve(rng: Rng, *, until: float = 3.0) -> Curve:
    """One curve, read until this many slow time constants."""
    final_k = log_uniform(rng, *RANGES["final rise, K, log-uniform"])
    if rng.uniform() < RANGES["curves of one part"]:
        slow = log_uniform(rng, *RANGES["time constant of one part, min, log-uniform"])
        parts: tuple[tuple[float, float], ...] = ((final_k, slow),)
    else:
        slow = log_uniform(rng, *RANGES["slow time constant, min, log-uniform"])
        fast = log_uniform(rng, *RANGES["fast time constant, min, log-uniform"])
        share = rng.uniform(*RANGES["fast share of the rise, uniform"])
        parts = ((final_k * (1 - share), slow), (final_k * share, fast))
    minutes = _times(rng, until * slow)
    rises = sum(size * (1 - np.exp(-minutes / tau)) for size, tau in parts)
    drift = rng.uniform(-1, 1) * RANGES["ambient drifts, K per hour, uniform"] / 60
    ambient = rng.uniform(*RANGES["ambient, °C, uniform"]) + drift * minutes
    digit = _pick(rng, RANGES["last digit, K"])
    scatter = log_uniform(rng, *RANGES["scatter, K, log-uniform normal"])
    temps = ambient + rises + rng.normal(size=len(minutes)) * scatter
    temps += _spikes(rng, len(minutes))
    wander = RANGES["current wanders, relative, normal"]
    amps = rng.uniform(*RANGES["current, A, uniform"]) * (
        1 + wander * rng.normal(size=len(minutes))
    )
    return Curve(
        minutes,
        np.round(temps / digit) * digit,
        np.round(ambient / digit) * digit,
        np.round(amps, 1),
        digit,
        final_k,
        slow,
        len(parts),
        parts,
    )


def _times(rng: Rng, until: float) -> np.ndarray:
    every = _pick(rng, RANGES["a reading every, min"])
    jitter = RANGES["jitter of the interval, relative, uniform"]
    gaps = every * (1 + jitter * rng.uniform(-1, 1, int(until / every) + 2))
    share, late = RANGES["late start"]
    start = rng.uniform(*late) if rng.uniform() < share else 0.0
    times = start + np.concatenate([[0.0], np.cumsum(gaps)])
    return times[times <= until]


def _pick(rng: Rng, shares: dict[float, float]) -> float:
    return float(rng.choice(list(shares), p=list(shares.values())))


def _spikes(rng: Rng, size: int) -> np.ndarray:
    share, chance, sizes = RANGES["with spikes"]
    if rng.uniform() > share:
        return np.zeros(size)
    return (rng.uniform(size=size) < chance) * rng.uniform(*sizes, size) * rng.choice([-1, 1], size)


def make_runaway(rng: Rng) -> Curve:
    """A joint that destroys itself: its heat grows with its own temperature."""
    curve = make_curve(rng, until=2.0)
    start = rng.uniform(8.0, 15.0)
    rate = rng.uniform(0.08, 0.25)
    extra = np.where(curve.minutes > start, 1.0 * (np.exp(rate * (curve.minutes - start)) - 1), 0.0)
    curve.temps_c = np.round((curve.temps_c + extra) / curve.digit_k) * curve.digit_k
    return curve
