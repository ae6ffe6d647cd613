"""How a supply may have moved between the readings of a load test."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

from uncertainties import ufloat

from checks.electrical.load_line import Between, Circuit, LoadReading
from checks.source import judgement
from checks.units import Number

WALKS_V: Final = (0.03, 0.08, 0.2)  # of a leg within a minute, as a standard deviation
USUAL_WALK_V: Final = WALKS_V[1]
STEP_V: Final = 1.2  # size of what another load does when it switches, as a standard deviation
STEP_SHARE: Final = 0.10  # of load tests see one
MOVEMENT: Final = judgement(
    "a leg of the supply walks at random, by 0.03 to 0.2 V within a minute, and in one test of ten "
    "another load switches by about 1 V; readings that should agree show which it was"
)
LEAST_GAP_S: Final = 30.0  # between two places, or without and with load, whatever the stamps say
WYE_PART: Final = 3**0.5 / 2  # cos 30°: what one leg of a wye shows of the volts between two


class Hypothesis(NamedTuple):
    """One way in which the supply may have moved, and how often it does."""

    share: float
    walk_v: float
    step: tuple[int, int] | None = None  # after which reading, on which leg


@dataclass(frozen=True)
class Movement:
    """Variance of the movement before each reading on each leg. [V²]."""

    before: tuple[tuple[float, float], ...]


class SupplyWalk:
    """The readings of a test in their order, and what a movement of each leg would do to them.

    Parameters
    ----------
    circuit : Circuit
        What the load hangs between.
    readings : sequence of LoadReading
        In the order of time.
    has_legs : bool
        Whether the model tells legs apart; otherwise one movement stands for both.
    """

    def __init__(self, circuit: Circuit, readings: Sequence[LoadReading], has_legs: bool) -> None:
        self._seen = [_seen(circuit, r.between) for r in readings]
        self._gaps = [0.0]
        self._changes: list[int] = []
        for number, (before, now) in enumerate(pairwise(readings), start=1):
            is_change = (before.place, before.is_loaded) != (now.place, now.is_loaded)
            self._gaps.append(max(now.at_s - before.at_s, LEAST_GAP_S if is_change else 0.0) / 60)
            if is_change or self._gaps[-1] * 60 >= LEAST_GAP_S:
                self._changes.append(number)
        self._legs = (0, 1) if has_legs and circuit is not Circuit.SINGLE else (0,)

    def hypotheses(self) -> Iterator[Hypothesis]:
        """Yield what may have happened: a quieter or more restless walk, or one step."""
        places = [(change, leg) for change in self._changes for leg in self._legs]
        still = 1 - STEP_SHARE if places else 1.0
        for walk_v in WALKS_V:
            yield Hypothesis(still / len(WALKS_V), walk_v)
        for place in places:
            yield Hypothesis(STEP_SHARE / len(places), USUAL_WALK_V, place)

    def movement(self, weighed: Sequence[tuple[float, Hypothesis]]) -> Movement:
        """Return the movement that several hypotheses, each with its weight, come to."""
        before = [[0.0, 0.0] for _ in self._gaps]
        for weight, each in weighed:
            for number, gap in enumerate(self._gaps):
                for leg in (0, 1):
                    before[number][leg] += weight * each.walk_v**2 * gap
            if each.step is not None:
                before[each.step[0]][each.step[1]] += weight * STEP_V**2
        return Movement(tuple((first, second) for first, second in before))

    def covariance(self, movement: Movement) -> list[list[float]]:
        """Return what a movement adds to the covariance of the readings. [V²]."""
        sums = [(0.0, 0.0)]
        for first, second in movement.before:
            sums.append((sums[-1][0] + first, sums[-1][1] + second))
        rows = [[0.0] * len(self._seen) for _ in self._seen]
        for i, (seen, until) in enumerate(zip(self._seen, sums[1:], strict=True)):
            # all that has moved by now is shared with whatever is read later
            first, second = seen[0] * until[0], seen[1] * until[1]
            for j, later in enumerate(self._seen[i:], start=i):
                rows[i][j] = rows[j][i] = first * later[0] + second * later[1]
        return rows

    def moved(self, readings: Sequence[Number], movement: Movement) -> list[Number]:
        """Return the readings with the movement as an error that later ones share with earlier."""
        legs: list[Number] = [0.0, 0.0]
        found = []
        for reading, seen, variances in zip(readings, self._seen, movement.before, strict=True):
            for leg, variance in enumerate(variances):
                if variance > 0:
                    legs[leg] += ufloat(0.0, variance**0.5)
            found.append(reading + seen[0] * legs[0] + seen[1] * legs[1])
        return found


def _seen(circuit: Circuit, between: Between) -> tuple[float, float]:
    """How much of each leg's movement a reading sees."""
    if circuit is Circuit.SINGLE:
        return (0.0 if between is Between.SECOND else 1.0), 0.0
    part = WYE_PART if circuit is Circuit.WYE else 1.0
    return {
        Between.BOTH: (part, part),
        Between.FIRST: (1.0, 0.0),
        Between.SECOND: (0.0, 1.0),
    }[between]
