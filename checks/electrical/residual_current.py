"""Residual-current devices of the IEC side: the times in which they trip, by multiple of rating."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final, NamedTuple

from checks.errors import OutOfTableError
from checks.source import Basis, Source


class Kind(StrEnum):
    """Kinds of residual-current device, by their delay."""

    GENERAL = "general"
    SELECTIVE = "selective, type S"


class Times(NamedTuple):
    """Shortest and longest time, and where they stand [s]."""

    least_s: float
    most_s: float
    source: Source


def _iec(basis: Basis) -> Source:
    return Source(
        document="IEC 61008-1, IEC 61009-1", clause="trip times, sinusoidal current", basis=basis
    )


READ: Final = _iec(Basis.LOOKED_UP)
RECALLED: Final = _iec(Basis.FROM_MEMORY)

# Kind, multiple of the rated residual current.
TIMES: Final[Mapping[tuple[Kind, float], Times]] = {
    (Kind.GENERAL, 1.0): Times(0.0, 0.30, READ),
    (Kind.GENERAL, 2.0): Times(0.0, 0.15, READ),
    (Kind.GENERAL, 5.0): Times(0.0, 0.04, READ),
    (Kind.SELECTIVE, 1.0): Times(0.13, 0.50, READ),
    (Kind.SELECTIVE, 2.0): Times(0.06, 0.20, RECALLED),
    (Kind.SELECTIVE, 5.0): Times(0.05, 0.15, READ),
}
NO_TRIP_RATIO: Final = 0.5
NO_TRIP: Final = Source(
    document="IEC 61008-1, IEC 61009-1",
    clause="no trip at half the rated residual current",
    basis=Basis.FROM_MEMORY,
)

# Smooth direct current: residual current [mA], longest time [s].
DIRECT: Final[Mapping[float, float]] = {6.0: 10.0, 60.0: 0.3, 200.0: 0.1}
DIRECT_THRESHOLD_MA: Final = 6.0
DIRECT_NO_TRIP_MA: Final = 3.0
DIRECT_THRESHOLD: Final = Source(
    document="IEC 62955", clause="6 mA direct current", basis=Basis.LOOKED_UP
)
DIRECT_TIMES: Final = Source(
    document="IEC 62955", clause="trip times at 6, 60 and 200 mA", basis=Basis.FROM_MEMORY
)
MOST_RATED_MA: Final = 30.0
POINT: Final = Source(
    document="IEC 60364-7-722",
    clause="each AC connecting point has its own device of at most 30 mA, at least type A; with "
    "IEC 62196 outlets type B, or type A or F with 6 mA DC detection",
    basis=Basis.LOOKED_UP,
)


def trip_times_s(kind: Kind, multiple: float) -> Times:
    """Shortest and longest time in which a device trips.

    Parameters
    ----------
    kind : Kind
        General or selective. [-]
    multiple : float
        Test current in multiples of the rated residual current: 1, 2 or 5. [-]

    Returns
    -------
    Times
        Shortest and longest. [s]

    Raises
    ------
    OutOfTableError
        The standards give no time for this multiple.

    References
    ----------
    IEC 61008-1, IEC 61009-1.

    Examples
    --------
    >>> trip_times_s(Kind.GENERAL, 5.0).most_s
    0.04
    """
    if (kind, multiple) not in TIMES:
        raise OutOfTableError(
            f"no trip time is tabled at {multiple:g} times the rated residual current",
            where="Residual current, test",
            remedy="Test at 1, 2 or 5 times the rated residual current",
        )
    return TIMES[kind, multiple]
