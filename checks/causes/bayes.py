"""Bayes over the causes: none, each alone, and every two at once.

Nothing but multiplication, addition and division, so that every machine gets the same digits.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final, TypeAlias

from checks.causes.cause import Cause, shares
from checks.causes.clue import Clue

NONE_SHARE: Final = 0.05  # of all service calls, with a cause that is not listed: own judgement
PAIR_SHARE: Final = 0.06  # with two causes at once: own judgement

Found: TypeAlias = Mapping[str, str]  # outcome of each clue that was read
Column: TypeAlias = tuple[float, ...]  # one number a hypothesis
Shares: TypeAlias = Mapping[str, float]  # by outcome


@dataclass(frozen=True)
class Table:
    """Every hypothesis with its prior share, and what each says about each clue.

    Parameters
    ----------
    clues : Mapping
        By id, in the library's order.
    causes : tuple of str
        In the library's order.
    members : tuple of tuple of int
        Of each hypothesis, which causes are at work: none, then each alone, then every two.
    priors : tuple of float
        Prior share of each hypothesis. [-]
    ratios : Mapping
        By clue and outcome: the likelihood ratio under each hypothesis, against none of these. [-]
    """

    clues: Mapping[str, Clue]
    causes: tuple[str, ...]
    members: tuple[tuple[int, ...], ...]
    priors: Column
    ratios: Mapping[str, Mapping[str, Column]]

    @property
    def alone(self) -> int:
        """How many hypotheses have one cause or none: the first ones."""
        return len(self.causes) + 1


def table(causes: Sequence[Cause], clues: Sequence[Clue]) -> Table:
    """Work out priors and likelihood ratios of every hypothesis.

    Parameters
    ----------
    causes : sequence of Cause
        The library.
    clues : sequence of Clue
        What can be found.

    Returns
    -------
    Table
        For `weigh`.

    References
    ----------
    Two at once: what is normal is found only where neither cause disturbs it, independently
    (noisy or: J. Pearl, Probabilistic Reasoning in Intelligent Systems, 1988, section 4.3; from
    memory).
    """
    whole = sum(c.weight for c in causes)
    weights = [c.weight / whole for c in causes]
    pairs = list(combinations(range(len(causes)), 2))
    pair_whole = sum(weights[a] * weights[b] for a, b in pairs) or 1.0
    priors = (
        NONE_SHARE,
        *(w * (1 - NONE_SHARE - PAIR_SHARE) for w in weights),
        *(PAIR_SHARE * weights[a] * weights[b] / pair_whole for a, b in pairs),
    )
    members = ((), *((i,) for i in range(len(causes))), *pairs)
    ratios = {clue.id: _columns(clue, causes, members) for clue in clues}
    return Table({c.id: c for c in clues}, tuple(c.id for c in causes), members, priors, ratios)


def _columns(
    clue: Clue, causes: Sequence[Cause], members: Sequence[tuple[int, ...]]
) -> dict[str, Column]:
    usual = {o.value: o.usual for o in clue.outcomes}
    single = [shares(c, clue) if c.says(clue.id) else usual for c in causes]
    found: list[Shares] = []
    for who in members:
        told = [single[i] for i in who if single[i] is not usual]
        if not told:
            found.append(usual)
        elif len(who) == 1:
            found.append(told[0])
        else:
            found.append(_of_both(clue, single[who[0]], single[who[1]]))
    return {v: tuple(f[v] / usual[v] for f in found) for v in usual}


def _of_both(clue: Clue, a: Shares, b: Shares) -> dict[str, float]:
    if not clue.normal:
        return {o.value: (a[o.value] + b[o.value]) / 2 for o in clue.outcomes}
    usual = clue.outcome(clue.normal).usual
    normal = min(a[clue.normal] * b[clue.normal] / usual, a[clue.normal], b[clue.normal])
    others = {o.value: max(a[o.value], b[o.value]) for o in clue.outcomes if o.value != clue.normal}
    whole = sum(others.values())
    return {clue.normal: normal} | {v: (1 - normal) * x / whole for v, x in others.items()}


def factors(chart: Table, found: Found) -> dict[str, Column]:
    """Return what each group of clues says about each hypothesis, the strongest ones only.

    Parameters
    ----------
    chart : Table
        The causes.
    found : Mapping
        Outcome of each clue that was read.

    Returns
    -------
    dict
        By group: the likelihood ratio that counts, for each hypothesis. [-]

    References
    ----------
    Within a group the signs are taken as fully dependent: own judgement.
    """
    groups: dict[str, list[Column]] = {}
    for clue in chart.clues.values():  # in the library's order, whatever the order of entries
        if clue.id in found:
            groups.setdefault(clue.kind, []).append(chart.ratios[clue.id][found[clue.id]])
    return {kind: _together(columns) for kind, columns in groups.items()}


def _together(columns: Sequence[Column]) -> Column:
    if len(columns) == 1:
        return columns[0]
    return tuple(strongest(ratios) for ratios in zip(*columns, strict=True))


def strongest(ratios: Sequence[float]) -> float:
    """Return the strongest ratio for, times the strongest against.

    Examples
    --------
    >>> strongest([8.0, 4.0, 0.5])
    4.0
    """
    return max(1.0, *ratios) * min(1.0, *ratios)


def weigh(chart: Table, said: Iterable[Column]) -> Column:
    """Return the posterior share of every hypothesis.

    Parameters
    ----------
    chart : Table
        The causes.
    said : iterable of tuple
        What each group says about each hypothesis, from `factors`. [-]

    Returns
    -------
    tuple of float
        Shares that sum to one. [-]

    References
    ----------
    Bayes' rule, over hypotheses that exclude each other.
    """
    masses = chart.priors
    for ratios in said:
        masses = tuple(mass * ratio for mass, ratio in zip(masses, ratios, strict=True))
    return normalized(masses)


def normalized(masses: Column) -> Column:
    """Return shares that sum to one.

    Examples
    --------
    >>> normalized((1.0, 3.0))
    (0.25, 0.75)
    """
    whole = sum(masses)
    return tuple(mass / whole for mass in masses)


def of_each(chart: Table, masses: Column) -> dict[str, float]:
    """Return the share of each cause, alone or with another.

    Examples
    --------
    Alone and as one of two both count:

    >>> chart = Table({}, ("a", "b"), ((), (0,), (1,), (0, 1)), (0.2, 0.5, 0.1, 0.2), {})
    >>> of_each(chart, chart.priors)
    {'a': 0.7, 'b': 0.3}
    """
    found = [0.0] * len(chart.causes)
    for who, mass in zip(chart.members, masses, strict=True):
        for each in who:
            found[each] += mass
    return dict(zip(chart.causes, found, strict=True))
