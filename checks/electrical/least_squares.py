"""Least squares for a handful of readings whose errors hang together; numbers only, no arrays."""

from collections.abc import Sequence
from math import exp, fsum, log
from operator import mul
from typing import TypeAlias

from checks.errors import OutOfRangeError
from checks.units import Number

Rows: TypeAlias = Sequence[Sequence[float]]
Gains: TypeAlias = tuple[tuple[float, ...], ...]
_LEAST_PIVOT = 1e-10  # relative; below it a column says nothing that the others have not said

_NUGGET = 1e-8  # of the largest variance


def covariance(values: Sequence[Number]) -> list[list[float]]:
    """Covariances of numbers with their uncertainty; exact ones have none.

    Parameters
    ----------
    values : sequence of Number
        The numbers. [their units]

    Returns
    -------
    list of list of float
        Symmetric matrix. [products of the units]

    References
    ----------
    JCGM 100:2008, 5.2.2 (from memory).

    Examples
    --------
    >>> from uncertainties import ufloat
    >>> covariance([ufloat(1.0, 0.5), 2.0])
    [[0.25, 0.0], [0.0, 0.0]]
    """
    # The library sums over a set, in an order that changes from run to run and so the last digit.
    slopes = [getattr(value, "derivatives", {}) for value in values]
    return [
        [fsum(a[error] * b[error] * error.std_dev**2 for error in a if error in b) for b in slopes]
        for a in slopes
    ]


def estimator(model: Rows, errors: Rows) -> Gains:
    """Find the best unbiased straight combination of readings for each parameter.

    Parameters
    ----------
    model : sequence of rows
        What a unit of each parameter adds to each reading. [unit of reading per parameter]
    errors : sequence of rows
        Covariance of the readings. [unit of reading, squared]

    Returns
    -------
    tuple of rows
        A row a parameter: how much of each reading it is. [unit of parameter per reading]

    Raises
    ------
    OutOfRangeError
        The readings do not tell the parameters apart.

    References
    ----------
    Aitken 1935, generalized least squares (from memory).
    """
    white = _White(model, errors)
    return tuple(_columns([white.parameters(unit) for unit in _identity(len(errors))]))


def log_evidence(model: Rows, errors: Rows, readings: Sequence[float]) -> float:
    """Logarithm of how well model and covariance explain the readings, up to a constant.

    Parameters
    ----------
    model : sequence of rows
        What a unit of each parameter adds to each reading. [unit of reading per parameter]
    errors : sequence of rows
        Covariance of the readings. [unit of reading, squared]
    readings : sequence of float
        The readings. [unit of reading]

    Returns
    -------
    float
        Log-likelihood; comparable between covariances of the same readings. [-]

    Raises
    ------
    OutOfRangeError
        The readings do not tell the parameters apart.

    References
    ----------
    Patterson and Thompson 1971, restricted likelihood (from memory).
    """
    white = _White(model, errors)
    parameters = white.parameters(readings)
    left = [y - _dot(row, parameters) for row, y in zip(model, readings, strict=True)]
    seen = _forward(white.lower, left)
    return -_log_diagonal(white.lower) - _log_diagonal(white.root) - _dot(seen, seen) / 2


def apply(gains: Gains, readings: Sequence[Number]) -> tuple[Number, ...]:
    """Return the parameters, with their uncertainties and what they share with the readings.

    Parameters
    ----------
    gains : tuple of rows
        How readings become parameters. [unit of parameter per reading]
    readings : sequence of Number
        The readings. [unit of reading]

    Returns
    -------
    tuple of Number
        The parameters. [unit of parameter]

    References
    ----------
    JCGM 100:2008, 5.2.2 (from memory).
    """
    return tuple(
        sum((gain * y for gain, y in zip(row, readings, strict=True)), 0.0) for row in gains
    )


def shares(log_weights: Sequence[float]) -> tuple[float, ...]:
    """Turn logarithms of weights into weights that add up to one.

    Parameters
    ----------
    log_weights : sequence of float
        Natural logarithms, up to a constant. [-]

    Returns
    -------
    tuple of float
        The weights. [-]

    References
    ----------
    Bayes' theorem.

    Examples
    --------
    >>> shares([-1000.0, -1000.0])
    (0.5, 0.5)
    """
    top = max(log_weights)
    weights = [exp(each - top) for each in log_weights]
    return tuple(each / sum(weights) for each in weights)


def straight_line(at: Sequence[float], values: Sequence[Number]) -> tuple[Number, Number]:
    """Fit a straight line, each value weighed by its uncertainty.

    Parameters
    ----------
    at : sequence of float
        Where, at least two different places. [unit of place]
    values : sequence of Number
        What was found there. [unit of value]

    Returns
    -------
    tuple of Number
        Value at 0 [unit of value] and slope [unit of value per place].

    Raises
    ------
    OutOfRangeError
        All values were taken at the same place.

    References
    ----------
    Aitken 1935, generalized least squares (from memory).

    Examples
    --------
    >>> straight_line([0.0, 1.0], [3.0, 5.0])
    (3.0, 2.0)
    """
    errors = covariance(values)
    most = max(errors[i][i] for i in range(len(values))) or 1.0
    for i in range(len(values)):  # keeps exact and wholly shared errors solvable
        errors[i][i] += _NUGGET * most
    found = apply(estimator([[1.0, x] for x in at], errors), values)
    return found[0], found[1]


class _White:
    """A model in readings of unit variance that share nothing: L⁻¹ X, where errors are L Lᵀ."""

    def __init__(self, model: Rows, errors: Rows) -> None:
        self.lower = _cholesky(errors)
        self.columns = [_forward(self.lower, column) for column in _columns(model)]
        self.root = _cholesky([[_dot(a, b) for b in self.columns] for a in self.columns])
        self.upper = [list(reversed(row)) for row in reversed(_columns(self.root))]

    def parameters(self, readings: Sequence[float]) -> list[float]:
        """Solve for the parameters that explain readings best."""
        seen = _forward(self.lower, readings)
        half = _forward(self.root, [_dot(column, seen) for column in self.columns])
        return list(reversed(_forward(self.upper, list(reversed(half)))))


def _log_diagonal(lower: Rows) -> float:
    return sum(log(row[i]) for i, row in enumerate(lower))


def _cholesky(matrix: Rows) -> list[list[float]]:
    lower: list[list[float]] = []
    for i, row in enumerate(matrix):
        lower.append([0.0] * len(matrix))
        for j in range(i + 1):
            left = row[j] - _dot(lower[i][:j], lower[j][:j])
            if i > j:
                lower[i][j] = left / lower[j][j]
            elif left > _LEAST_PIVOT * abs(row[i]):
                lower[i][i] = left**0.5
            else:
                raise OutOfRangeError(
                    "the readings do not tell apart what is sought",
                    where="Readings under load",
                    remedy="Read once more at another current or another place",
                )
    return lower


def _forward(lower: Rows, right: Sequence[float]) -> list[float]:
    solved: list[float] = []
    for row, value in zip(lower, right, strict=True):
        # the product ends with the shorter of both
        solved.append((value - _dot(row, solved)) / row[len(solved)])
    return solved


def _columns(rows: Rows) -> list[tuple[float, ...]]:
    return list(zip(*rows, strict=True))


def _identity(size: int) -> list[list[float]]:
    return [[float(i == j) for j in range(size)] for i in range(size)]


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return float(sum(map(mul, a, b)))
