"""Small searches solved exhaustively: the fewest tests that any order could need."""

from functools import cache

import numpy as np

from checks.causes.bayes import Table, table
from checks.causes.cause import Cause, Evidence
from checks.causes.clue import Clue, Outcome
from checks.causes.next_test import expected_bits
from checks.path import Station
from checks.source import judgement
from checks.verdict import Severity

Rng = np.random.Generator
SURE = 0.9


def small_case(rng: Rng, causes: int = 4, tests: int = 5) -> tuple[np.ndarray, np.ndarray]:
    """Priors, and the chance of "bad" of each test with each cause."""
    priors = rng.dirichlet(np.ones(causes) * 2)
    chances = np.where(rng.uniform(size=(tests, causes)) < 0.4, 0.93, 0.05)
    return priors, np.clip(chances + rng.uniform(-0.04, 0.04, (tests, causes)), 0.02, 0.98)


def fewest(priors: np.ndarray, chances: np.ndarray) -> float:
    """Expected tests of the best possible order, until a cause has 0.9 or no test is left."""
    tests = len(chances)

    @cache
    def cost(state: tuple[int, ...]) -> float:
        masses = _masses(priors, chances, state)
        if masses.max() / masses.sum() >= SURE or 0 not in state:
            return 0.0
        return 1 + min(
            sum(
                _masses(priors, chances, nxt).sum() / masses.sum() * cost(nxt)
                for nxt in _steps(state, i)
            )
            for i in range(tests)
            if state[i] == 0
        )

    return cost((0,) * tests)


def greedy(priors: np.ndarray, chances: np.ndarray) -> float:
    """Expected tests when each is chosen by its expected information, as the library does."""
    chart = as_chart(priors, chances)
    names = list(chart.clues)

    def cost(state: tuple[int, ...]) -> float:
        masses = _masses(priors, chances, state)
        if masses.max() / masses.sum() >= SURE or 0 not in state:
            return 0.0
        shares = (0.0, *(masses / masses.sum()).tolist())
        bits = {
            i: expected_bits(chart, {}, chart.clues[names[i]], shares)
            for i, told in enumerate(state)
            if told == 0
        }
        best = max(bits, key=lambda i: bits[i])
        return 1 + sum(
            _masses(priors, chances, nxt).sum() / masses.sum() * cost(nxt)
            for nxt in _steps(state, best)
        )

    return cost((0,) * len(chances))


def _steps(state: tuple[int, ...], i: int) -> list[tuple[int, ...]]:
    return [(*state[:i], value, *state[i + 1 :]) for value in (1, 2)]


def _masses(priors: np.ndarray, chances: np.ndarray, state: tuple[int, ...]) -> np.ndarray:
    masses = priors.copy()
    for chance, told in zip(chances, state, strict=True):
        if told:
            masses = masses * (chance if told == 1 else 1 - chance)
    return masses


def as_chart(priors: np.ndarray, chances: np.ndarray) -> Table:
    """The small case as the library's table; half of what is found is usual."""
    basis = judgement("a small case")
    both = (Outcome("bad", "it is bad", 0.5), Outcome("good", "it is good", 0.5))
    clues = tuple(Clue(f"t{i}", "x", both, "", lambda _: None) for i in range(len(chances)))
    causes = tuple(
        Cause(
            f"c{k}",
            f"c{k}",
            Station.RUN,
            float(prior),
            tuple(
                Evidence(f"t{i}", "bad", float(c[k]) / 0.5, basis) for i, c in enumerate(chances)
            ),
            (),
            "",
            "",
            (),
            Severity.NOTICE,
        )
        for k, prior in enumerate(priors)
    )
    return table(causes, clues)


def against_optimum(n: int, seed: int) -> float:
    """Tests needed by information, in parts of the fewest possible, over small cases."""
    rng = np.random.default_rng(seed)
    cases = [small_case(rng) for _ in range(n)]
    return sum(greedy(*c) for c in cases) / sum(fewest(*c) for c in cases)
