"""The proximity circuit of a type 1 connector: what an ohmmeter should find.

Not for SAE J3400 handles, whose resistors were not seen in any text.
"""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final, NamedTuple

from checks.errors import OutOfRangeError
from checks.source import Basis, Source

LATCHED_OHM: Final = 150.0
PRESSED_OHM: Final = 480.0  # 150 Ω and 330 Ω in series while the button is pressed
TOLERANCE_RATIO: Final = 0.10

NOMINAL: Final = Source(
    document="SAE J1772", clause="proximity, 150 Ω and 480 Ω", basis=Basis.LOOKED_UP
)
TOLERANCE: Final = Source(
    document="SAE J1772", clause="proximity, resistors ±10 %", basis=Basis.FROM_MEMORY
)


class ProximityState(StrEnum):
    """What the connector's resistance between proximity contact and ground tells."""

    LATCHED = "button free, latched"
    PRESSED = "button pressed, unlatched"
    NEITHER = "neither"


class OhmWindow(NamedTuple):
    """Lowest and highest resistance, inclusive [Ω]."""

    low_ohm: float
    high_ohm: float


def _window(nominal_ohm: float) -> OhmWindow:
    return OhmWindow(nominal_ohm * (1 - TOLERANCE_RATIO), nominal_ohm * (1 + TOLERANCE_RATIO))


WINDOWS: Final[Mapping[ProximityState, OhmWindow]] = {
    ProximityState.LATCHED: _window(LATCHED_OHM),
    ProximityState.PRESSED: _window(PRESSED_OHM),
}


def classify(connector_ohm: float) -> ProximityState:
    """Tell the latch from the resistance of an unmated type 1 connector.

    Parameters
    ----------
    connector_ohm : float
        Resistance between the proximity contact and ground. [Ω]

    Returns
    -------
    ProximityState
        Latched, pressed, or neither. [-]

    Raises
    ------
    OutOfRangeError
        The resistance is negative.

    References
    ----------
    SAE J1772, proximity circuit; ±10 % from memory.

    Examples
    --------
    >>> classify(150.0).name
    'LATCHED'
    """
    if connector_ohm < 0:
        raise OutOfRangeError(
            f"{connector_ohm:g} Ω is not possible",
            where="Proximity, resistance",
            remedy="Zero the leads and measure again with the connector unmated",
        )
    for state, window in WINDOWS.items():
        if window.low_ohm <= connector_ohm <= window.high_ohm:
            return state
    return ProximityState.NEITHER
