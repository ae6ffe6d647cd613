"""What the chargers of a site or a panel put on its most loaded line together.

Currents between different pairs of three lines do not add as plain numbers. Where the lines of a
circuit are not recorded, the sum lies between an even spread and all on one line.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

from checks.check import Choice, Option, Situation
from checks.electrical.supply import GROUND, SYSTEMS, line_currents_a
from checks.stations.circuit_facts import circuit_poles, has_line_2, has_line_3

LINES: Final = "breaker.rating.lines"
PAIRS: Final[Mapping[str, tuple[str, str]]] = {
    "l1_l2": ("L1", "L2"),
    "l2_l3": ("L2", "L3"),
    "l3_l1": ("L3", "L1"),
    "l1": ("L1", GROUND),
    "l2": ("L2", GROUND),
    "l3": ("L3", GROUND),
}
THREE: Final = 3
ASIDE: Final = sqrt(3) / 2  # a current between two lines, along the volts of one of them: cos 30°


def _is_one_pole(s: Situation) -> bool:
    return circuit_poles(s) == 1


def _has_third_of_one(s: Situation) -> bool:
    return _is_one_pole(s) and has_line_3(s)


def _may_differ(s: Situation) -> bool:
    """Return whether circuits here may be on different lines, so that it matters on which."""
    return len(s.visit.points) > 1 and (has_line_3(s) or _is_one_pole(s))


INPUT: Final = Choice(
    "lines",
    "Lines it takes",
    options=(
        Option("l1_l2", "L1 and L2", where=has_line_2),
        Option("l2_l3", "L2 and L3", where=has_line_2),
        Option("l3_l1", "L3 and L1", where=has_line_2),
        Option("l1", "L1", where=_is_one_pole),
        Option("l2", "L2", where=_is_one_pole),
        Option("l3", "L3", where=_has_third_of_one),
    ),
    optional=True,
    where=_may_differ,
    help="By its place in the panel, or measured. Chargers spread over the lines load each less",
)


@dataclass(frozen=True)
class Share:
    """The current of the most loaded line: at best, at worst, and how it comes about. [A]."""

    least_a: float
    most_a: float
    working: tuple[str, ...]


def most_loaded_line(s: Situation, loads: Sequence[tuple[Situation, float]]) -> Share:
    """Add the chargers' currents on the lines they take.

    Parameters
    ----------
    s : Situation
        The site or the panel.
    loads : sequence of (Situation, float)
        Each charging point and its current. [A]
    """
    system = SYSTEMS[s.visit.system]
    total_a = sum(amps for _, amps in loads)
    one_a, open_a, known = 0.0, 0.0, dict.fromkeys(PAIRS.values(), 0.0)
    for here, amps in loads:
        pair = PAIRS["l1_l2"] if not _may_differ(here) else PAIRS.get(here.choice(LINES) or "")
        if pair is None or not {*pair} <= {*system.lines, GROUND}:
            open_a, one_a = open_a + amps, max(one_a, amps)  # wherever it is, it loads a line
        else:
            known[pair] += amps
    of_known_a = max(line_currents_a(system, {p: a for p, a in known.items() if a}).values())
    if not open_a:
        words = f"the most loaded line carries {of_known_a:.4g} A of {total_a:g} A in all"
        return Share(of_known_a, of_known_a, (words,) if of_known_a < total_a else ())
    least_a = max(of_known_a, one_a, _even_a(loads, len(system.lines)))
    words = f"at best the most loaded line carries {least_a:.4g} A, with all on one {total_a:g} A"
    return Share(least_a, of_known_a + open_a, (words,))


def _even_a(loads: Sequence[tuple[Situation, float]], lines: int) -> float:
    """Return what no spread can undercut: the mean over the lines of what they must carry. [A]."""
    two_a = sum(amps for here, amps in loads if has_line_2(here))
    one_a = sum(amps for here, amps in loads if _is_one_pole(here))
    if lines == THREE:
        return two_a / sqrt(3) + ASIDE * one_a / lines
    return max(two_a, ASIDE * two_a + one_a / lines)
