"""The control pilot's voltage divider turned around: the contact or the leak that peaks tell."""

from collections.abc import Mapping
from math import inf
from typing import Final

from checks.electrical.pilot import PilotState
from checks.errors import OutOfRangeError
from checks.source import Basis, Source

COMPONENTS: Final = Source(
    document="SAE J1772",
    clause="pilot circuit: ±12 V, 1 kΩ, diode, 2.74 kΩ, 1.3 kΩ, 270 Ω",
    basis=Basis.LOOKED_UP,
)
OPEN_V: Final = 12.0
SOURCE_OHM: Final = 1000.0
DIODE_V: Final = 0.7
BASE_OHM: Final = 2740.0  # in the vehicle at all times
STATE_C_OHM: Final = 1300.0  # switched in beside it
STATE_D_OHM: Final = 270.0


def parallel_ohm(first_ohm: float, second_ohm: float) -> float:
    """Resistance of two resistors side by side.

    Parameters
    ----------
    first_ohm : float
        One of them, above 0. [Ω]
    second_ohm : float
        The other, above 0. [Ω]

    Returns
    -------
    float
        Resistance of both. [Ω]

    References
    ----------
    Circuit theory.

    Examples
    --------
    >>> parallel_ohm(300.0, 600.0)
    200.0
    """
    return 1 / (1 / first_ohm + 1 / second_ohm)


# What the vehicle presents behind its diode in each state that has a vehicle.
VEHICLE_OHM: Final[Mapping[PilotState, float]] = {
    PilotState.B: BASE_OHM,
    PilotState.C: parallel_ohm(BASE_OHM, STATE_C_OHM),
    PilotState.D: parallel_ohm(BASE_OHM, STATE_D_OHM),
}


def series_ohm(positive_v: float, state: PilotState) -> float:
    """Extra contact resistance that lifts the positive peak of a state to this.

    Parameters
    ----------
    positive_v : float
        Measured positive peak, between the diode's 0.7 V and 12 V. [V]
    state : PilotState
        The state that the vehicle is in: B, C or D. [-]

    Returns
    -------
    float
        Extra resistance of pilot and ground contacts; negative below the nominal peak. [Ω]

    Raises
    ------
    OutOfRangeError
        The peak lies outside, or the state has no vehicle.

    References
    ----------
    Voltage divider of the pilot circuit, turned around.

    Examples
    --------
    >>> round(series_ohm(6.298, PilotState.C))
    100
    """
    if not DIODE_V < positive_v < OPEN_V or state not in VEHICLE_OHM:
        raise OutOfRangeError(
            f"{positive_v:g} V in state {state.name} tells no contact resistance",
            where="Control pilot, positive peak",
            remedy="Measure the positive peak with the vehicle connected",
        )
    return SOURCE_OHM * (positive_v - DIODE_V) / (OPEN_V - positive_v) - VEHICLE_OHM[state]


def leak_ohm(negative_v: float) -> float:
    """Leak from pilot to ground that pulls the negative peak up to this.

    Parameters
    ----------
    negative_v : float
        Measured negative peak, -12 to 0. [V]

    Returns
    -------
    float
        Resistance of the leak; ``inf`` at the full peak. [Ω]

    Raises
    ------
    OutOfRangeError
        The peak is not between -12 V and 0 V.

    References
    ----------
    Voltage divider of the pilot circuit, turned around; the diode blocks.

    Examples
    --------
    >>> round(leak_ohm(-10.909))
    9999
    """
    if not -OPEN_V <= negative_v <= 0:
        raise OutOfRangeError(
            f"a negative peak of {negative_v:g} V tells no leak",
            where="Control pilot, negative peak",
            remedy=f"Measure the negative peak, {-OPEN_V:g} V to 0 V, while the pilot oscillates",
        )
    missing_v = OPEN_V + negative_v
    return inf if missing_v == 0 else SOURCE_OHM * -negative_v / missing_v
