"""The control pilot: which state its voltage tells, and which current its duty cycle offers."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final, NamedTuple

from checks.errors import OutOfRangeError
from checks.source import Basis, Source

WINDOWS_SOURCE: Final = Source(
    document="SAE J1772", clause="state voltage windows", basis=Basis.LOOKED_UP
)
DUTY_SOURCE: Final = Source(
    document="SAE J1772, IEC 61851-1",
    edition="OCT2017, 2017",
    clause="duty cycle against current, IEC tables A.7 and A.8",
    basis=Basis.LOOKED_UP,
)
DUTY_EDGE_SOURCE: Final = Source(
    document="SAE J1772, IEC 61851-1",
    edition="OCT2017, 2017",
    clause="lowest and highest duty band, whose edges the two give differently",
    basis=Basis.DOUBTFUL,
)

LEAST_A: Final = 6.0
LOW_SLOPE_A_PER_PCT: Final = 0.6
LOW_TOP_A: Final = 51.0
HIGH_SLOPE_A_PER_PCT: Final = 2.5
HIGH_OFFSET_PCT: Final = 64.0
HIGH_BOTTOM_A: Final = 52.5
MOST_A: Final = 80.0


class PilotState(StrEnum):
    """The states of the control pilot."""

    A = "A, no vehicle"
    B = "B, vehicle connected, not ready"
    C = "C, vehicle wants energy"
    D = "D, vehicle wants energy with ventilation"
    E = "E, pilot shorted to ground or charger without power"
    F = "F, charger not available"


class Window(NamedTuple):
    """A state's nominal pilot voltage and the edges of its window, inclusive [V]."""

    nominal_v: float
    low_v: float
    high_v: float


# Positive peak, or the steady level, in each state, from the highest voltage down.
WINDOWS: Final[Mapping[PilotState, Window]] = {
    PilotState.A: Window(12.0, 11.40, 12.60),
    PilotState.B: Window(9.0, 8.36, 9.56),
    PilotState.C: Window(6.0, 5.48, 6.49),
    PilotState.D: Window(3.0, 2.62, 3.25),
    PilotState.E: Window(0.0, -1.0, 1.0),
    PilotState.F: Window(-12.0, -12.60, -11.40),
}
# Negative peak while the pilot oscillates: else the vehicle's diode is missing or the pilot leaks.
NEGATIVE: Final = Window(-12.0, -12.60, -11.40)


class PilotReading(NamedTuple):
    """What a pilot voltage tells.

    ``state`` is the nearest state, or None beyond every window; ``is_inside`` whether the voltage
    lies in that state's window.
    """

    state: PilotState | None
    is_inside: bool


class DutyBand(StrEnum):
    """Every band of the duty cycle, named by what it tells the vehicle."""

    TOO_LOW = "too low, no current"
    DIGITAL = "only after digital communication"
    GAP = "between digital and analog, no current"
    LEAST = "least offer"
    LOW = "low range"
    HIGH = "high range"
    MOST = "highest offer"
    TOO_HIGH = "too high or steady, no current"


class DutyEdge(NamedTuple):
    """A band's upper edge, and whether the edge itself belongs to the band."""

    band: DutyBand
    upper_pct: float
    is_included: bool


STEADY_PCT: Final = 100.0  # positive all the time: not ready
DUTY_EDGES: Final = (
    DutyEdge(DutyBand.TOO_LOW, 3.0, False),
    DutyEdge(DutyBand.DIGITAL, 7.0, True),
    DutyEdge(DutyBand.GAP, 8.0, False),
    DutyEdge(DutyBand.LEAST, 10.0, False),
    DutyEdge(DutyBand.LOW, 85.0, True),
    DutyEdge(DutyBand.HIGH, 96.0, True),
    DutyEdge(DutyBand.MOST, 97.0, True),
)


class Offer(NamedTuple):
    """The band a duty cycle lies in, the current it offers [A], and how well that is known."""

    band: DutyBand
    current_a: float
    source: Source


def classify(positive_v: float) -> PilotReading:
    """Tell the state of the pilot from its positive peak.

    Between two windows the nearer state is named, outside its window: the middle of the gap
    divides them (this project's judgement).

    Parameters
    ----------
    positive_v : float
        Positive peak, or the steady level. [V]

    Returns
    -------
    PilotReading
        State and whether the peak lies in its window. [-]

    References
    ----------
    SAE J1772, state voltage windows.

    Examples
    --------
    >>> classify(9.0).state.name
    'B'
    """
    if not NEGATIVE.low_v <= positive_v <= WINDOWS[PilotState.A].high_v:
        return PilotReading(None, False)
    state = min(WINDOWS, key=lambda each: _distance_v(positive_v, WINDOWS[each]))
    return PilotReading(state, _distance_v(positive_v, WINDOWS[state]) == 0)


def _distance_v(volts: float, window: Window) -> float:
    """How far a voltage lies outside a window; 0 inside."""
    return max(window.low_v - volts, volts - window.high_v, 0.0)


def offered(duty_pct: float) -> Offer:
    """Tell the current that a duty cycle offers to the vehicle.

    Parameters
    ----------
    duty_pct : float
        Share of the period at the positive level, 0 to 100; steady positive is 100. [%]

    Returns
    -------
    Offer
        Band and current; 0 A where the vehicle may draw nothing without more. [A]

    Raises
    ------
    OutOfRangeError
        The duty cycle is not between 0 and 100 %.

    References
    ----------
    SAE J1772 OCT2017; IEC 61851-1 Annex A, tables A.7 and A.8.

    Examples
    --------
    >>> offered(50.0).current_a
    30.0
    """
    if not 0 <= duty_pct <= STEADY_PCT:
        raise OutOfRangeError(
            f"a duty cycle of {duty_pct:g} % is not possible",
            where="Control pilot, duty cycle",
            remedy="Enter the share of the period at the positive level, 0 to 100 %",
        )
    band = _band(duty_pct)
    is_edge = band in (DutyBand.LEAST, DutyBand.MOST)
    source = DUTY_EDGE_SOURCE if is_edge else DUTY_SOURCE
    return Offer(band, _current_a(band, duty_pct), source)


def _band(duty_pct: float) -> DutyBand:
    """Return the first band whose upper edge lies above, or at the duty if the edge belongs."""
    for edge in DUTY_EDGES:
        if duty_pct < edge.upper_pct or (edge.is_included and duty_pct == edge.upper_pct):
            return edge.band
    return DutyBand.TOO_HIGH


def _current_a(band: DutyBand, duty_pct: float) -> float:
    """Slope of the band times the duty, or the band's one value."""
    return {
        DutyBand.LEAST: LEAST_A,
        DutyBand.LOW: LOW_SLOPE_A_PER_PCT * duty_pct,
        DutyBand.HIGH: HIGH_SLOPE_A_PER_PCT * (duty_pct - HIGH_OFFSET_PCT),
        DutyBand.MOST: MOST_A,
    }.get(band, 0.0)


def duty_for(current_a: float) -> float:
    """Duty cycle that offers this current.

    Parameters
    ----------
    current_a : float
        Current to offer, 6 to 51, or above 52.5 to 80: at 85 % the low range still holds. [A]

    Returns
    -------
    float
        Duty cycle. [%]

    Raises
    ------
    OutOfRangeError
        No duty cycle offers this current.

    References
    ----------
    SAE J1772 OCT2017; IEC 61851-1 Annex A, table A.7.

    Examples
    --------
    >>> duty_for(48.0)
    80.0
    """
    if LEAST_A <= current_a <= LOW_TOP_A:
        return current_a / LOW_SLOPE_A_PER_PCT
    if HIGH_BOTTOM_A < current_a <= MOST_A:
        return current_a / HIGH_SLOPE_A_PER_PCT + HIGH_OFFSET_PCT
    raise OutOfRangeError(
        f"no duty cycle offers {current_a:g} A",
        where="Control pilot, offered current",
        remedy=f"Use {LEAST_A:g} to {LOW_TOP_A:g} A or more than {HIGH_BOTTOM_A:g} to {MOST_A:g} A",
    )
