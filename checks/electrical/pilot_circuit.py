"""The control pilot solved from its components: its peaks, sound or not."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import inf
from typing import Final, NamedTuple

from checks.electrical.pilot import PilotState
from checks.electrical.proximity import INLET_OHM, LATCHED_OHM, PULL_UP_OHM, SUPPLY_V
from checks.errors import OutOfRangeError
from checks.source import Basis, Source

COMPONENTS: Final = Source(
    document="SAE J1772",
    clause="pilot circuit: ±12 V, 1 kΩ, diode, 2.74 kΩ, 1.3 kΩ, 270 Ω",
    basis=Basis.LOOKED_UP,
)
TOLERANCES: Final = Source(
    document="SAE J1772",
    clause="pilot circuit: ±5 % of volts, ±3 % of ohms, diode 0.55 to 0.85 V",
    basis=Basis.FROM_MEMORY,
)
OPEN_V: Final = 12.0
SOURCE_OHM: Final = 1000.0
DIODE_V: Final = 0.7
BASE_OHM: Final = 2740.0  # in the vehicle at all times
STATE_C_OHM: Final = 1300.0  # switched in beside it
STATE_D_OHM: Final = 270.0

OPEN_TOLERANCE_RATIO: Final = 0.05
RESISTOR_TOLERANCE_RATIO: Final = 0.03
DIODE_LOW_V: Final = 0.55
DIODE_HIGH_V: Final = 0.85


def parallel_ohm(first_ohm: float, second_ohm: float) -> float:
    """Resistance of two resistors side by side.

    Parameters
    ----------
    first_ohm : float
        One of them, above 0. [Ω]
    second_ohm : float
        The other, above 0; ``inf`` when open. [Ω]

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
VEHICLE_OHM: Final = {
    PilotState.A: inf,
    PilotState.B: BASE_OHM,
    PilotState.C: parallel_ohm(BASE_OHM, STATE_C_OHM),
    PilotState.D: parallel_ohm(BASE_OHM, STATE_D_OHM),
}


@dataclass(frozen=True)
class PilotCircuit:
    """The components of a control pilot, sound unless said otherwise.

    Parameters
    ----------
    vehicle_ohm : float
        Resistance behind the vehicle's diode; ``inf`` without a vehicle. [Ω]
    open_v : float
        Open-circuit peak of the charger, either sign. [V]
    source_ohm : float
        Resistance in the charger. [Ω]
    diode_v : float
        Forward voltage of the vehicle's diode. [V]
    series_ohm : float
        Extra resistance of pilot and ground contacts together. [Ω]
    leak_ohm : float
        Leak from pilot to ground, ahead of the contacts; ``inf`` when dry. [Ω]
    is_diode_shorted : bool
        The diode conducts both ways.
    is_on_proximity : bool
        Pilot and proximity touch, the latter latched and supplied by the vehicle.
    """

    vehicle_ohm: float = inf
    open_v: float = OPEN_V
    source_ohm: float = SOURCE_OHM
    diode_v: float = DIODE_V
    series_ohm: float = 0.0
    leak_ohm: float = inf
    is_diode_shorted: bool = False
    is_on_proximity: bool = False


class Peaks(NamedTuple):
    """Positive and negative peak at the charger's end of the pilot [V]."""

    positive_v: float
    negative_v: float


def healthy(state: PilotState) -> PilotCircuit:
    """Return the sound circuit of a state.

    Parameters
    ----------
    state : PilotState
        A, B, C or D. [-]

    Returns
    -------
    PilotCircuit
        Nominal components. [Ω], [V]

    Raises
    ------
    OutOfRangeError
        States E and F are no state of a vehicle.

    References
    ----------
    SAE J1772, pilot circuit.
    """
    if state not in VEHICLE_OHM:
        raise OutOfRangeError(
            f"state {state.name} is not made by a vehicle's resistors",
            where="Control pilot, state",
            remedy="Use state A, B, C or D",
        )
    return PilotCircuit(vehicle_ohm=VEHICLE_OHM[state])


def peaks(circuit: PilotCircuit) -> Peaks:
    """Solve a pilot circuit for its two peaks.

    Parameters
    ----------
    circuit : PilotCircuit
        Its components. [Ω], [V]

    Returns
    -------
    Peaks
        Positive and negative peak. [V]

    References
    ----------
    Kirchhoff's current law at the pilot contact; the diode is a fixed forward voltage.

    Examples
    --------
    >>> round(peaks(healthy(PilotState.B)).positive_v, 3)
    8.979
    """
    return Peaks(_node_v(circuit, circuit.open_v), _node_v(circuit, -circuit.open_v))


def _node_v(circuit: PilotCircuit, source_v: float) -> float:
    """Voltage at the pilot contact: first without the vehicle, then with it if it conducts."""
    amps = source_v / circuit.source_ohm
    siemens = 1 / circuit.source_ohm + (1 / circuit.leak_ohm if circuit.leak_ohm else inf)
    if circuit.is_on_proximity:
        amps += SUPPLY_V / PULL_UP_OHM
        siemens += 1 / PULL_UP_OHM + 1 / INLET_OHM + 1 / LATCHED_OHM
    alone_v = amps / siemens
    forward_v = 0.0 if circuit.is_diode_shorted else circuit.diode_v
    if alone_v <= forward_v and not circuit.is_diode_shorted:
        return alone_v
    branch_s = 1 / (circuit.vehicle_ohm + circuit.series_ohm)
    return (amps + forward_v * branch_s) / (siemens + branch_s)


def corner_window(state: PilotState) -> tuple[float, float]:
    """Lowest and highest positive peak that parts within their tolerances give.

    Parameters
    ----------
    state : PilotState
        A, B, C or D. [-]

    Returns
    -------
    tuple of float
        Lowest and highest. [V]

    References
    ----------
    SAE J1772, pilot circuit; tolerances from memory, confirmed by the published windows.

    Examples
    --------
    >>> [round(volts, 2) for volts in corner_window(PilotState.A)]
    [11.4, 12.6]
    """
    found = [peaks(each).positive_v for each in _corners(healthy(state))]
    return min(found), max(found)


def _corners(sound: PilotCircuit) -> Iterator[PilotCircuit]:
    signs = (-1, 1)
    for volts, source, vehicle, diode_v in product(
        signs, signs, signs, (DIODE_LOW_V, DIODE_HIGH_V)
    ):
        yield replace(
            sound,
            open_v=sound.open_v * (1 + volts * OPEN_TOLERANCE_RATIO),
            source_ohm=sound.source_ohm * (1 + source * RESISTOR_TOLERANCE_RATIO),
            vehicle_ohm=sound.vehicle_ohm * (1 + vehicle * RESISTOR_TOLERANCE_RATIO),
            diode_v=diode_v,
        )


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
    if not DIODE_V < positive_v < OPEN_V or healthy(state).vehicle_ohm == inf:
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
