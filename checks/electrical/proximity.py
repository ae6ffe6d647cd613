"""The proximity circuit of a type 1 connector: what an ohmmeter and a voltmeter should find.

Not for SAE J3400 handles, whose resistors were not seen in any text.
"""

from collections.abc import Mapping
from enum import StrEnum
from itertools import product
from typing import Final, NamedTuple

from checks.errors import OutOfRangeError
from checks.source import Basis, Source

LATCHED_OHM: Final = 150.0
PRESSED_OHM: Final = 480.0  # 150 Ω and 330 Ω in series while the button is pressed
INLET_OHM: Final = 2700.0
PULL_UP_OHM: Final = 330.0
SUPPLY_V: Final = 5.0
TOLERANCE_RATIO: Final = 0.10
SUPPLY_TOLERANCE_RATIO: Final = 0.05
TOLERANCES: Final = (SUPPLY_TOLERANCE_RATIO, TOLERANCE_RATIO, TOLERANCE_RATIO, TOLERANCE_RATIO)

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


def expected_v(connector_ohm: float | None) -> float:
    """Voltage that the vehicle sees at the proximity contact.

    Parameters
    ----------
    connector_ohm : float or None
        Resistance in the connector; None when nothing is connected. [Ω]

    Returns
    -------
    float
        Voltage. [V]

    References
    ----------
    SAE J1772, proximity circuit: 5 V, 330 Ω, 2.7 kΩ (from memory).

    Examples
    --------
    >>> round(expected_v(150.0), 3)
    1.505
    """
    to_ground_ohm = INLET_OHM
    if connector_ohm is not None:
        to_ground_ohm = INLET_OHM * connector_ohm / (INLET_OHM + connector_ohm)
    return SUPPLY_V * to_ground_ohm / (PULL_UP_OHM + to_ground_ohm)


def series_ohm(measured_v: float, connector_ohm: float = LATCHED_OHM) -> float:
    """Extra contact resistance that lifts the proximity voltage to this.

    Parameters
    ----------
    measured_v : float
        Voltage that the vehicle sees, above 0 and under that of an open contact. [V]
    connector_ohm : float
        Resistance in the sound connector. [Ω]

    Returns
    -------
    float
        Extra resistance of proximity and ground contacts; negative under the nominal voltage. [Ω]

    Raises
    ------
    OutOfRangeError
        No resistance gives this voltage.

    References
    ----------
    Voltage divider of the proximity circuit, turned around.

    Examples
    --------
    50 Ω too many in a latched connector read as 1.804 V:

    >>> round(series_ohm(1.804))
    50
    """
    if not 0 < measured_v < expected_v(None):
        raise OutOfRangeError(
            f"{measured_v:g} V tells no contact resistance",
            where="Proximity, voltage",
            remedy="Measure with the connector in the inlet and the vehicle awake",
        )
    to_ground_ohm = PULL_UP_OHM * measured_v / (SUPPLY_V - measured_v)
    return 1 / (1 / to_ground_ohm - 1 / INLET_OHM) - connector_ohm


def voltage_window_v(connector_ohm: float | None) -> tuple[float, float]:
    """Lowest and highest proximity voltage that parts within their tolerances give.

    Parameters
    ----------
    connector_ohm : float or None
        Resistance in the connector; None when nothing is connected. [Ω]

    Returns
    -------
    tuple of float
        Lowest and highest. [V]

    References
    ----------
    SAE J1772, proximity circuit: resistors ±10 %, 5 V ±5 % (from memory).

    Examples
    --------
    >>> [round(volts, 3) for volts in voltage_window_v(150.0)]
    [1.238, 1.81]
    """
    found = []
    for signs in product((-1, 1), repeat=4):
        supply, pull_up, inlet, inside = (
            1 + sign * ratio for sign, ratio in zip(signs, TOLERANCES, strict=True)
        )
        to_ground_s = 1 / (INLET_OHM * inlet)
        if connector_ohm is not None:
            to_ground_s += 1 / (connector_ohm * inside)
        found.append(SUPPLY_V * supply / (1 + PULL_UP_OHM * pull_up * to_ground_s))
    return min(found), max(found)
