"""Sharing a limited current among vehicles: equal parts, none above its wish, none below 6 A."""

from collections.abc import Sequence
from typing import Final

from checks.electrical.pilot import LEAST_A
from checks.errors import OutOfRangeError
from checks.source import judgement

RULE: Final = judgement(
    "max-min fair sharing; when there is not enough for all, the later ones in the row wait"
)
SLACK_A: Final = 1e-9  # rounding of the division by the number of vehicles


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
