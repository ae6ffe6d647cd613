"""Action levels of a temperature that was measured under load, as the trade's tables print them."""

from enum import StrEnum
from typing import Final

from checks.source import Basis, Source

# Printed in steps of one degree: "1 to 10", "11 to 20", "21 to 40", "more than 40". [K]
AMBIENT_POSSIBLE_K: Final = 10.0
AMBIENT_PROBABLE_K: Final = 20.0
AMBIENT_MAJOR_K: Final = 40.0
# Between like parts under the same load: "1 to 3", "4 to 15", "more than 15". [K]
LIKE_POSSIBLE_K: Final = 3.0
LIKE_MAJOR_K: Final = 15.0
LEVELS: Final = Source(
    document="NETA ATS", edition="2003", clause="table 100.18", basis=Basis.LOOKED_UP
)

LEAST_LOAD_RATIO: Final = 0.4  # of the circuit's normal current
LEAST_LOAD: Final = Source(
    document="NFPA 70B", edition="2023", clause="7.4.5", basis=Basis.LOOKED_UP
)


class Level(StrEnum):
    """What the tables say of a rise."""

    NONE = "no deficiency"
    POSSIBLE = "possible deficiency, investigate"
    PROBABLE = "probable deficiency, repair as time permits"
    MONITOR = "monitor until corrected"
    MAJOR = "major deficiency, repair at once"


def over_ambient(rise_k: float) -> Level:
    """Level of a rise over ambient air.

    Made for power gear: a sound receptacle at rated current may reach the middle levels.

    Parameters
    ----------
    rise_k : float
        Rise over ambient. [K]

    Returns
    -------
    Level
        What the table says. [-]

    References
    ----------
    NETA ATS 2003 table 100.18.

    Examples
    --------
    >>> over_ambient(45.0).name
    'MAJOR'
    """
    if rise_k > AMBIENT_MAJOR_K:
        return Level.MAJOR
    if rise_k > AMBIENT_PROBABLE_K:
        return Level.MONITOR
    if rise_k > AMBIENT_POSSIBLE_K:
        return Level.PROBABLE
    return Level.POSSIBLE if rise_k >= 1 else Level.NONE


def over_like_part(difference_k: float) -> Level:
    """Level of a difference to a like part under the same load.

    Parameters
    ----------
    difference_k : float
        How much hotter the part is. [K]

    Returns
    -------
    Level
        What the table says. [-]

    References
    ----------
    NETA ATS 2003 table 100.18.

    Examples
    --------
    >>> over_like_part(16.0).name
    'MAJOR'
    """
    if difference_k > LIKE_MAJOR_K:
        return Level.MAJOR
    if difference_k > LIKE_POSSIBLE_K:
        return Level.PROBABLE
    return Level.POSSIBLE if difference_k >= 1 else Level.NONE
