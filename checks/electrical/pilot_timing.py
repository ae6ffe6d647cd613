"""Edges and duty cycle of the pilot: what capacitance and tolerances do to the offered current."""

from math import log
from typing import Final, NamedTuple

from checks.electrical.pilot import (
    HIGH_BOTTOM_A,
    HIGH_SLOPE_A_PER_PCT,
    LOW_SLOPE_A_PER_PCT,
    PilotState,
    duty_for,
)
from checks.electrical.pilot_circuit import (
    DIODE_V,
    OPEN_V,
    SOURCE_OHM,
    healthy,
    parallel_ohm,
    peaks,
)
from checks.source import Basis, Source, judgement

CAPACITANCES: Final = Source(
    document="SAE J1772",
    clause="pilot capacitance: 300 pF charger, 1.5 nF cable, 2.4 nF vehicle",
    basis=Basis.FROM_MEMORY,
)
DEVIATION: Final = judgement("a duty cycle deviates from 0.7 points on: generator 0.5, edges 0.15")

PERIOD_S: Final = 1e-3
MOST_CAPACITANCE_F: Final = 300e-12 + 1500e-12 + 2400e-12
LEAST_DEVIATION_PCT: Final = 0.7


class Edges(NamedTuple):
    """Rise and fall time from 10 to 90 % [s], and the change of the duty cycle at 0 V [%]."""

    rise_s: float
    fall_s: float
    duty_change_pct: float


def edges(state: PilotState, capacitance_f: float = MOST_CAPACITANCE_F) -> Edges:
    """Rise and fall of the pilot with its capacitance, and what they cost of the duty cycle.

    Parameters
    ----------
    state : PilotState
        A, B, C or D. [-]
    capacitance_f : float
        Charger, cable and vehicle together; without it, the most that is allowed. [F]

    Returns
    -------
    Edges
        Rise, fall and change of the duty cycle measured at 0 V. [s], [%]

    References
    ----------
    First-order charging, in two parts: the diode conducts above its forward voltage.
    """
    load_ohm = healthy(state).vehicle_ohm
    high_v, low_v = peaks(healthy(state))
    slow_s = SOURCE_OHM * capacitance_f
    fast_s = parallel_ohm(SOURCE_OHM, load_ohm) * capacitance_f
    sunk_v = (low_v / SOURCE_OHM + DIODE_V / load_ohm) / (1 / SOURCE_OHM + 1 / load_ohm)
    ten_v, ninety_v = low_v + 0.1 * (high_v - low_v), low_v + 0.9 * (high_v - low_v)

    def up_s(to_v: float) -> float:
        below_s = slow_s * log((OPEN_V - low_v) / (OPEN_V - min(to_v, DIODE_V)))
        return below_s + fast_s * log((high_v - DIODE_V) / (high_v - max(to_v, DIODE_V)))

    def down_s(to_v: float) -> float:
        above_s = fast_s * log((high_v - sunk_v) / (max(to_v, DIODE_V) - sunk_v))
        return above_s + slow_s * log((DIODE_V - low_v) / (min(to_v, DIODE_V) - low_v))

    change_pct = 100 * (down_s(0.0) - up_s(0.0)) / PERIOD_S
    return Edges(up_s(ninety_v) - up_s(ten_v), down_s(ten_v) - down_s(ninety_v), change_pct)


def duty_deviation_pct(measured_pct: float, set_a: float) -> float:
    """How far a measured duty cycle lies from the one that the setting asks for.

    Parameters
    ----------
    measured_pct : float
        Measured duty cycle at 0 V. [%]
    set_a : float
        Current the charger is set to offer. [A]

    Returns
    -------
    float
        Measured less nominal; from ±0.7 on it is no measuring error any more. [%]

    References
    ----------
    SAE J1772 OCT2017, duty cycle; generator ±0.5 points (from memory), edges up to 0.15.

    Examples
    --------
    >>> duty_deviation_pct(50.0, 30.0)
    0.0
    """
    return measured_pct - duty_for(set_a)


def current_spread_a(set_a: float) -> float:
    """Spread of the offered current that generator and edges may cause.

    Parameters
    ----------
    set_a : float
        Current the charger is set to offer. [A]

    Returns
    -------
    float
        Half width of the spread. [A]

    References
    ----------
    SAE J1772 OCT2017, duty cycle: 0.6 A a point, 2.5 A a point above 85 %.

    Examples
    --------
    >>> current_spread_a(30.0)
    0.42
    """
    slope = HIGH_SLOPE_A_PER_PCT if set_a > HIGH_BOTTOM_A else LOW_SLOPE_A_PER_PCT
    return LEAST_DEVIATION_PCT * slope
