"""Sharing a limited current among vehicles: equal parts, none above its wish, none below 6 A."""

from collections.abc import Sequence
from math import inf
from typing import Final, NamedTuple

from checks.electrical.energy import power_kw
from checks.electrical.pilot import LEAST_A
from checks.errors import OutOfRangeError
from checks.source import judgement

RULE: Final = judgement(
    "max-min fair sharing; when there is not enough for all, the later ones in the row wait"
)
TURN: Final = judgement(
    "who has the least part of what it needs comes first, looked at anew each hour; each system "
    "has a rule of its own"
)
TURN_H: Final = 1.0
SLACK_A: Final = 1e-9  # rounding of the division by the number of vehicles
_SLACK_H: Final = 1e-9  # rounding of the times at which several are full together
_SAME: Final = 9  # places to which parts of a need are one and the same


def fair_share_a(limit_a: float, wishes_a: Sequence[float]) -> tuple[float, ...]:
    """Share a limit so that the smallest share is as large as it can be.

    A vehicle takes no less than 6 A: when there is too little for all, the first in the row are
    served and the rest wait at 0 A. The caller turns the row, so that none waits for ever.

    Parameters
    ----------
    limit_a : float
        Current for all together, 0 or more. [A]
    wishes_a : sequence of float
        What each vehicle could take, 6 A or more. [A]

    Returns
    -------
    tuple of float
        Share of each, in the same order; 0 while it waits. [A]

    Raises
    ------
    OutOfRangeError
        The limit is below 0, or a wish is below 6 A.

    References
    ----------
    Max-min fairness; SAE J1772: the least offer is 6 A.

    Examples
    --------
    >>> fair_share_a(80.0, [16.0, 32.0, 32.0])
    (16.0, 32.0, 32.0)
    """
    if limit_a < 0 or any(wish < LEAST_A for wish in wishes_a):
        raise OutOfRangeError(
            f"{limit_a:g} A cannot be shared among wishes of {', '.join(map(str, wishes_a))} A",
            where="Load management, sharing",
            remedy=f"Use a limit of 0 A or more and wishes of {LEAST_A:g} A or more",
        )
    served = min(len(wishes_a), int((limit_a + SLACK_A) // LEAST_A))
    shares = [0.0] * len(wishes_a)
    left_a = limit_a
    # from the smallest wish up: each takes its part of what is left, and no more than it wants
    for count, index in enumerate(sorted(range(served), key=lambda each: wishes_a[each])):
        shares[index] = min(wishes_a[index], left_a / (served - count))
        left_a -= shares[index]
    return tuple(shares)


class Need(NamedTuple):
    """What one vehicle wants of a night: its most current, its volts, its energy from the wall."""

    wish_a: float
    volts: float
    wall_kwh: float


class Step(NamedTuple):
    """A time through which the shares stay as they are: from, to, and the share of each."""

    from_h: float
    to_h: float
    shares_a: tuple[float, ...]


class Night(NamedTuple):
    """A night's steps; what each vehicle got, and when it had what it needs, or nothing."""

    steps: tuple[Step, ...]
    wall_kwh: tuple[float, ...]
    done_h: tuple[float | None, ...]


def through_a_night(limit_a: float, needs: Sequence[Need], night_h: float) -> Night:
    """Share a limit through a night: whoever has what it needs leaves its part to the others.

    Where there is too little for all, they take turns: each hour those come first that have the
    least part of what they need.

    Parameters
    ----------
    limit_a : float
        Current for all together, 0 or more. [A]
    needs : sequence of Need
        Of each vehicle, plugged in from the start: wish of 6 A or more, energy above 0. [A, V, kWh]
    night_h : float
        How long the night is. [h]

    Returns
    -------
    Night
        Its steps without a gap; shares, energies and times in the order of the needs. [A, kWh, h]

    Raises
    ------
    OutOfRangeError
        As ``fair_share_a``; or volts or an energy are not above 0.

    References
    ----------
    As ``fair_share_a``; P = V·I; whose turn it is: own judgement.

    Examples
    --------
    Two at 240 V share 20 A; the first, with 4.8 kWh, is full after 2 h:

    >>> night = through_a_night(20.0, [Need(32.0, 240.0, 4.8), Need(32.0, 240.0, 9.6)], 10.0)
    >>> [step.shares_a for step in night.steps], night.done_h
    ([(10.0, 10.0), (0.0, 20.0), (0.0, 0.0)], (2.0, 3.0))
    """
    if any(need.volts <= 0 or need.wall_kwh <= 0 for need in needs):
        raise OutOfRangeError(
            "a vehicle without volts or without a need has no share",
            where="Load management, night",
            remedy="Give each volts and an energy above 0",
        )
    got = [0.0] * len(needs)
    done: list[float | None] = [None] * len(needs)
    steps: list[Step] = []
    at_h = 0.0
    while at_h < night_h:
        shares = _shares_a(limit_a, needs, got, done)
        rates = [power_kw(n.volts, share) for n, share in zip(needs, shares, strict=True)]
        full_h = [
            at_h + (need.wall_kwh - kwh) / rate if rate > 0 else inf
            for need, kwh, rate in zip(needs, got, rates, strict=True)
        ]
        waits = any(share == 0 and end is None for share, end in zip(shares, done, strict=True))
        turn_h = TURN_H * (at_h // TURN_H + 1) if waits and any(shares) else inf
        to_h = min(night_h, turn_h, *full_h)
        for i, rate in enumerate(rates):
            got[i] += rate * (to_h - at_h)
            if full_h[i] <= to_h + _SLACK_H:
                got[i], done[i] = needs[i].wall_kwh, to_h
        _go_on(steps, Step(at_h, to_h, shares))
        at_h = to_h
    return Night(tuple(steps), tuple(got), tuple(done))


def _shares_a(
    limit_a: float, needs: Sequence[Need], got: Sequence[float], done: Sequence[float | None]
) -> tuple[float, ...]:
    """Share the limit among those that still need something, the least served first. [A]."""
    row = sorted(
        (i for i, end in enumerate(done) if end is None),
        key=lambda i: round(got[i] / needs[i].wall_kwh, _SAME),
    )
    shares = dict(zip(row, fair_share_a(limit_a, [needs[i].wish_a for i in row]), strict=True))
    return tuple(shares.get(i, 0.0) for i in range(len(needs)))


def _go_on(steps: list[Step], step: Step) -> None:
    """Put a step behind the others; one of the same shares lengthens the last."""
    if steps and steps[-1].shares_a == step.shares_a:
        step = step._replace(from_h=steps.pop().from_h)
    steps.append(step)
