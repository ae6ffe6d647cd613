"""Insulation resistance of a dead circuit: the test voltage, and the least that is sound."""

from typing import Final

from checks.source import Basis, Source

LEAST_OHM: Final = 1e6
FULL_TEST_V: Final = 500.0

AT_FULL_TEST: Final = Source(
    document="IEC 60364-6",
    clause="table 6A, circuits up to 500 V: 500 V DC, 1.0 MΩ",
    basis=Basis.LOOKED_UP,
)
# With equipment that could not be disconnected, texts allow 250 V and keep the limit.
AT_LESS: Final = Source(
    document="IEC 60364-6",
    clause="250 V DC where equipment cannot be disconnected, 1 MΩ",
    basis=Basis.DOUBTFUL,
)


def least_ohm(test_v: float) -> tuple[float, Source]:
    """Return the least insulation resistance of a circuit up to 500 V, and where it stands.

    Parameters
    ----------
    test_v : float
        Direct test voltage. [V]

    Returns
    -------
    tuple of float and Source
        Least resistance; below the full test voltage its source proves nothing. [Ω]

    References
    ----------
    IEC 60364-6 table 6A.

    Examples
    --------
    >>> least_ohm(500.0)[0]
    1000000.0
    """
    return LEAST_OHM, AT_FULL_TEST if test_v >= FULL_TEST_V else AT_LESS
