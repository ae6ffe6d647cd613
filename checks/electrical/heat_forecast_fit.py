"""Where a heating curve ends: weights over time constants, of one part or of a fast and a slow."""

from collections.abc import Callable, Iterator, Sequence
from math import erf, exp, log
from operator import mul
from typing import Final, NamedTuple

from checks.electrical.least_squares import shares

# Minutes. The fast part is the metal of the contact, the slow one box, wall and cable; twice the
# usual or half of it now and then: own judgement, no source.
FAST_MIN: Final = (0.8, 8.0)
SLOW_MIN: Final = (3.0, 100.0)
USUAL_SLOW_MIN: Final = 18.0
SLOW_FACTOR: Final = 1.9  # a standard deviation up or down from the usual one
LEAST_RATIO: Final = 2.5  # slow to fast; closer together they are one
ONE_PART_SHARE: Final = 0.3  # of curves show one part only
SLOW_COUNT, FAST_COUNT = 13, 6  # of the grid
LIKELY: Final = 1e-3  # of the best weight: the finer grid covers what is above
# Standard deviations before anything is read: end, slow part, fast part. [K]
SIZES_K: Final = (40.0, 40.0, 20.0)
USUAL_NOISE_K: Final = 0.3
NOISE_WEIGHT: Final = 4.0  # readings that the usual noise stands for
LEAST_READINGS: Final = 5
LEAST_WEIGHT: Final = 1e-4  # lighter curves are not kept


class Curve(NamedTuple):
    """One pair of time constants: what it says of the end, and how well it fits.

    ``parts_k`` are the slow and the fast part that are still to come at the first reading.
    """

    log_weight: float
    end_k: float
    end_sd_k: float
    slow_min: float
    fast_min: float  # 0 for a curve of one part
    parts_k: tuple[float, float]

    def rise_k(self, minutes: float) -> float:
        """Rise at a time. [K]."""
        slow, fast = self.parts_k
        gone = slow * exp(-minutes / self.slow_min)
        if self.fast_min:
            gone += fast * exp(-minutes / self.fast_min)
        return self.end_k - gone

    def slope_k_per_min(self, minutes: float) -> float:
        """Slope at a time. [K/min]."""
        slow, fast = self.parts_k
        slope = slow / self.slow_min * exp(-minutes / self.slow_min)
        if self.fast_min:
            slope += fast / self.fast_min * exp(-minutes / self.fast_min)
        return slope


class EndOfRise(NamedTuple):
    """All curves with their weights."""

    weighed: tuple[tuple[float, Curve], ...]
    noise_k: float

    @property
    def best(self) -> Curve:
        """The curve that fits best."""
        return max(self.weighed, key=lambda each: each[0])[1]

    @property
    def value_k(self) -> float:
        """Mean of all. [K]."""
        return sum(weight * curve.end_k for weight, curve in self.weighed)

    @property
    def slow_min(self) -> float:
        """Mean slow time constant. [min]."""
        return exp(sum(weight * log(curve.slow_min) for weight, curve in self.weighed))

    def quantile_k(self, share: float) -> float:
        """Rise below which the end lies with this probability. [K]."""
        low = min(c.end_k - 8 * c.end_sd_k for _, c in self.weighed)
        high = max(c.end_k + 8 * c.end_sd_k for _, c in self.weighed)
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (middle, high) if self._below(middle) < share else (low, middle)
        return (low + high) / 2

    def _below(self, rise_k: float) -> float:
        return sum(w * _normal((rise_k - c.end_k) / c.end_sd_k) for w, c in self.weighed)


def end_of_rise(
    minutes: Sequence[float], rises_k: Sequence[float], least_noise_k: float
) -> EndOfRise:
    """Weigh curves of one and of two time constants by how well they fit.

    Parameters
    ----------
    minutes : sequence of float
        Times, from the first reading. [min]
    rises_k : sequence of float
        Rise over ambient. [K]
    least_noise_k : float
        Noise that rounding alone makes, as a standard deviation. [K]

    Returns
    -------
    EndOfRise
        Where the curve ends, with its uncertainty. [K]

    References
    ----------
    Bayesian linear regression on a grid of time constants (textbook); first-order step responses.
    """
    sums = _Sums(minutes, rises_k)
    noise_k = USUAL_NOISE_K
    slow_min, fast_min = _spaced(*SLOW_MIN, SLOW_COUNT), _spaced(*FAST_MIN, FAST_COUNT)
    grid = _Grid(slow_min, slow_min, fast_min)
    curves: list[Curve] = []
    for _ in range(3):  # the noise is known only once something fits, and then where to look
        curves = list(_curves(sums, grid, noise_k))
        best = max(curves, key=lambda curve: curve.log_weight)
        left = sum((y - best.rise_k(t)) ** 2 for t, y in zip(minutes, rises_k, strict=True))
        freedom = max(len(minutes) - LEAST_READINGS, 0)
        noise_k = ((left + NOISE_WEIGHT * USUAL_NOISE_K**2) / (freedom + NOISE_WEIGHT)) ** 0.5
        noise_k = max(noise_k, least_noise_k)
        grid = grid.finer(curves)
    curves = list(_curves(sums, grid, noise_k))
    weights = shares([curve.log_weight for curve in curves])
    weighed = [(w, c) for w, c in zip(weights, curves, strict=True) if w > LEAST_WEIGHT]
    return EndOfRise(tuple(weighed), noise_k)


def _spaced(low: float, high: float, count: int) -> tuple[float, ...]:
    """Numbers from low to high, each the same factor above the one before."""
    return tuple(low * (high / low) ** (i / (count - 1)) for i in range(count))


class _Grid(NamedTuple):
    """Time constants to try, of curves of one part and of two. [min]."""

    one_min: tuple[float, ...]
    slow_min: tuple[float, ...]
    fast_min: tuple[float, ...]

    def finer(self, curves: Sequence[Curve]) -> "_Grid":
        """Return a grid over the part of this one that the readings leave likely."""
        one = _likely([c for c in curves if not c.fast_min])
        two = _likely([c for c in curves if c.fast_min])
        return _Grid(
            _around([c.slow_min for c in one], self.one_min),
            _around([c.slow_min for c in two], self.slow_min),
            _around([c.fast_min for c in two], self.fast_min),
        )


def _likely(curves: Sequence[Curve]) -> list[Curve]:
    top = max(curve.log_weight for curve in curves)
    return [curve for curve in curves if curve.log_weight > top + log(LIKELY)]


def _around(likely: Sequence[float], grid: tuple[float, ...]) -> tuple[float, ...]:
    """Space the grid anew from one place below the likely ones to one above."""
    low, high = grid.index(min(likely)), grid.index(max(likely))
    return _spaced(grid[max(low - 1, 0)], grid[min(high + 1, len(grid) - 1)], len(grid))


class _Sums:
    """Sums of products that every pair of time constants needs, each made once."""

    def __init__(self, minutes: Sequence[float], rises_k: Sequence[float]) -> None:
        self.count, self.rises_k = float(len(minutes)), rises_k
        self.sum_y, self.sum_yy = sum(rises_k), sum(map(mul, rises_k, rises_k))
        self._minutes = minutes
        self._columns: dict[float, tuple[list[float], float, float, float]] = {}

    def _column(self, tau: float) -> tuple[list[float], float, float, float]:
        """Return the decay of one time constant, its sum, its square and its product with y."""
        if tau not in self._columns:
            decay = [-exp(-t / tau) for t in self._minutes]
            square, product = sum(map(mul, decay, decay)), sum(map(mul, decay, self.rises_k))
            self._columns[tau] = decay, sum(decay), square, product
        return self._columns[tau]

    def normal(self, *taus: float) -> tuple[list[list[float]], list[float]]:
        """Return the normal equations of the end and one or two parts."""
        columns = [self._column(tau) for tau in taus]
        rows = [[self.count, *(one for _, one, _, _ in columns)]]
        for a in columns:
            row = [a[1]]
            row += [a[2] if a is b else sum(map(mul, a[0], b[0])) for b in columns]
            rows.append(row)
        return rows, [self.sum_y, *(with_y for *_, with_y in columns)]


def _curves(sums: _Sums, grid: _Grid, noise_k: float) -> Iterator[Curve]:
    for one in grid.one_min:
        yield _curve(sums, noise_k, (one,), ONE_PART_SHARE * _usual(one) * _step(grid.one_min))
    cell = _step(grid.slow_min) * _step(grid.fast_min) / log(FAST_MIN[1] / FAST_MIN[0])
    for slow in grid.slow_min:
        for fast in grid.fast_min:
            if slow >= LEAST_RATIO * fast:
                share = (1 - ONE_PART_SHARE) * _usual(slow) * cell
                yield _curve(sums, noise_k, (slow, fast), share)


def _usual(slow_min: float) -> float:
    """How usual a time constant is, for each step of its logarithm."""
    off = log(slow_min / USUAL_SLOW_MIN) / log(SLOW_FACTOR)
    return exp(-off * off / 2)


def _step(grid: tuple[float, ...]) -> float:
    return log(grid[1] / grid[0])


def _curve(sums: _Sums, noise_k: float, taus: tuple[float, ...], share: float) -> Curve:
    normal, right = sums.normal(*taus)
    precision = 1 / noise_k**2
    matrix = [[x * precision for x in row] for row in normal]
    for i, size in enumerate(SIZES_K[: len(matrix)]):
        matrix[i][i] += size**-2
    inverse, determinant = _INVERT[len(matrix)](matrix)
    solved = [sum(map(mul, row, right)) * precision for row in inverse]
    fitted = sum(map(mul, solved, right)) * precision
    log_weight = log(share) + (fitted - sums.sum_yy * precision - log(determinant)) / 2
    log_weight -= sum(log(size) for size in SIZES_K[: len(matrix)])
    for part, variance in zip(
        solved[1:], (inverse[i][i] for i in range(1, len(matrix))), strict=True
    ):
        log_weight += log(max(_normal(part / variance**0.5), 1e-12))  # a contact heats
    return Curve(
        log_weight,
        solved[0],
        inverse[0][0] ** 0.5,
        taus[0],
        taus[1] if len(taus) > 1 else 0.0,
        (solved[1], solved[2] if len(taus) > 1 else 0.0),
    )


Inverse = tuple[list[list[float]], float]


def _invert_2(m: list[list[float]]) -> Inverse:
    (a, b), (_, d) = m
    determinant = a * d - b * b
    return [[d / determinant, -b / determinant], [-b / determinant, a / determinant]], determinant


def _invert_3(m: list[list[float]]) -> Inverse:
    (a, b, c), (_, e, f), (_, _, i) = m
    aa, bb, cc = e * i - f * f, c * f - b * i, b * f - c * e
    determinant = a * aa + b * bb + c * cc
    rows = [
        [aa, bb, cc],
        [bb, a * i - c * c, b * c - a * f],
        [cc, b * c - a * f, a * e - b * b],
    ]
    return [[x / determinant for x in row] for row in rows], determinant


_INVERT: Final[dict[int, Callable[[list[list[float]]], Inverse]]] = {2: _invert_2, 3: _invert_3}


def _normal(z: float) -> float:
    return (1 + erf(z / 2**0.5)) / 2
