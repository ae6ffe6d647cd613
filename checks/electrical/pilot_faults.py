"""Faults of the control pilot, and which of them measured peaks point to."""

from enum import StrEnum
from typing import Final, NamedTuple

from checks.electrical.pilot import NEGATIVE, PilotState, classify
from checks.electrical.pilot_circuit import OPEN_V, VEHICLE_OHM, leak_ohm, series_ohm
from checks.source import judgement

NEAR: Final = judgement("two peaks are alike within 0.6 V, which is the tolerance of ±5 % on 12 V")
NEAR_V: Final = 0.6


class Fault(StrEnum):
    """What is wrong with a pilot."""

    DIODE_SHORTED = "diode in the vehicle or simulator shorted"
    SERIES = "resistance in the pilot or ground contact"
    LEAK = "leak from pilot to ground, as by moisture"
    TO_GROUND = "pilot shorted to ground, or charger without power"
    TO_PROXIMITY = "pilot touches proximity"
    OPEN = "pilot or ground contact open"


class Suspicion(NamedTuple):
    """A fault that measured peaks point to, and its resistance where it has one [Ω]."""

    fault: Fault
    ohm: float | None


def suspicions(
    positive_v: float, negative_v: float, *, is_vehicle_there: bool
) -> tuple[Suspicion, ...]:
    """Tell which faults measured peaks point to; none for a sound pilot.

    Parameters
    ----------
    positive_v : float
        Positive peak while the pilot oscillates. [V]
    negative_v : float
        Negative peak. [V]
    is_vehicle_there : bool
        Whether a vehicle or a simulator is connected. [-]

    Returns
    -------
    tuple of Suspicion
        Every fault that explains the peaks, with its resistance. [Ω]

    References
    ----------
    SAE J1772, state voltage windows; circuit theory.

    Examples
    --------
    >>> suspicions(9.0, -12.0, is_vehicle_there=True)
    ()
    """
    if max(abs(positive_v), abs(negative_v)) <= NEAR_V:
        return (Suspicion(Fault.TO_GROUND, None),)
    if negative_v > -NEAR_V:
        return (Suspicion(Fault.TO_PROXIMITY, None),)
    if not NEGATIVE.low_v <= negative_v <= NEGATIVE.high_v:
        return _of_weak_negative(positive_v, negative_v, is_vehicle_there)
    return _of_positive(positive_v, is_vehicle_there)


def _of_weak_negative(
    positive_v: float, negative_v: float, is_vehicle_there: bool
) -> tuple[Suspicion, ...]:
    """Return the shorted diode where both peaks mirror each other, else the leak."""
    leak = (Suspicion(Fault.LEAK, leak_ohm(max(negative_v, -OPEN_V))),)
    is_mirrored = abs(positive_v + negative_v) <= NEAR_V
    if is_mirrored and is_vehicle_there:
        return (Suspicion(Fault.DIODE_SHORTED, None), *leak)
    return leak


def _of_positive(positive_v: float, is_vehicle_there: bool) -> tuple[Suspicion, ...]:
    reading = classify(positive_v)
    if is_vehicle_there and reading.state is PilotState.A:
        return (Suspicion(Fault.OPEN, None),)
    if reading.is_inside or reading.state in (None, PilotState.A, PilotState.E, PilotState.F):
        return ()
    found = (series_ohm(positive_v, state) for state in VEHICLE_OHM)
    return tuple(Suspicion(Fault.SERIES, ohm) for ohm in found if ohm > 0)
