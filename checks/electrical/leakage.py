"""Leakage to ground without a fault; why ground-fault devices in series disturb each other."""

from math import pi
from typing import Final, NamedTuple

from checks.electrical.ground_fault import CLASS_A, MUST_TRIP_MA, NO_TRIP_MA
from checks.errors import OutOfRangeError
from checks.source import Basis, Source
from checks.units import Number

LINE_HZ: Final = 60.0
NF_PER_F: Final = 1e9


class Device(NamedTuple):
    """A ground-fault device: the current it must ignore and the one it must interrupt [mA].

    ``no_trip_ma`` is None where no text was seen. ``must_trip_ma`` is exact; trip times are not
    part of it: those of the charger's own classes were not seen in any text.
    """

    name: str
    no_trip_ma: float | None
    must_trip_ma: float
    closes_again: bool
    source: Source


CLASS_A_DEVICE: Final = Device("Class A, 5 mA", NO_TRIP_MA, MUST_TRIP_MA, False, CLASS_A)
CCID5: Final = Device(
    "CCID5",
    NO_TRIP_MA,
    MUST_TRIP_MA,
    True,
    Source(document="UL 2231", clause="CCID5, acts as Class A", basis=Basis.LOOKED_UP),
)
CCID20: Final = Device(
    "CCID20",
    None,
    20.0,
    True,
    Source(document="UL 2231", clause="CCID20, threshold 20 mA", basis=Basis.LOOKED_UP),
)


class Opening(NamedTuple):
    """Whether a device may open, and whether it must."""

    may: bool
    must: bool


class Series(NamedTuple):
    """What two devices in series do at one fault current, and whether the right one opens alone."""

    upstream: Opening
    downstream: Opening
    is_selective: bool
    why: tuple[str, ...]


def capacitive_current_ma(
    volts_v: Number, capacitance_nf: Number, *, frequency_hz: float = LINE_HZ
) -> Number:
    """Leakage through the capacitance from one line to ground.

    Parameters
    ----------
    volts_v : Number
        Voltage from line to ground. [V]
    capacitance_nf : Number
        Capacitance of filters, cable and moisture. [nF]
    frequency_hz : float
        Line frequency. [Hz]

    Returns
    -------
    Number
        Leakage. [mA]

    References
    ----------
    Circuit theory: I = 2π f C V.

    Examples
    --------
    >>> round(capacitive_current_ma(120.0, 77.0), 1)
    3.5
    """
    return 2 * pi * frequency_hz * capacitance_nf / NF_PER_F * volts_v * 1000


def capacitance_for_nf(
    current_ma: Number, volts_v: Number, *, frequency_hz: float = LINE_HZ
) -> Number:
    """Capacitance from one line to ground that leaks this current.

    Parameters
    ----------
    current_ma : Number
        Leakage. [mA]
    volts_v : Number
        Voltage from line to ground, above 0. [V]
    frequency_hz : float
        Line frequency. [Hz]

    Returns
    -------
    Number
        Capacitance. [nF]

    References
    ----------
    Circuit theory: C = I / (2π f V).

    Examples
    --------
    >>> round(capacitance_for_nf(6.0, 120.0))
    133
    """
    return current_ma / 1000 / (2 * pi * frequency_hz * volts_v) * NF_PER_F


def unbalance_ma(
    first_nf: Number, second_nf: Number, volts_v: Number, *, frequency_hz: float = LINE_HZ
) -> Number:
    """Leakage that a sensor around both lines of a 120/240 V circuit sees.

    The two lines stand opposite to each other, so equal leakages cancel in the sensor. That is why
    a 120 V cord set leaks through the sensor and a 240 V charger hardly does.

    Parameters
    ----------
    first_nf : Number
        Capacitance from one line to ground. [nF]
    second_nf : Number
        Capacitance from the other line to ground. [nF]
    volts_v : Number
        Voltage from line to ground. [V]
    frequency_hz : float
        Line frequency. [Hz]

    Returns
    -------
    Number
        Leakage that does not cancel. [mA]

    References
    ----------
    Circuit theory: two opposite phasors.

    Examples
    --------
    >>> unbalance_ma(50.0, 50.0, 120.0)
    0.0
    """
    return abs(capacitive_current_ma(volts_v, first_nf - second_nf, frequency_hz=frequency_hz))


def margin_ma(standing_ma: Number, device: Device = CLASS_A_DEVICE) -> Number:
    """Tell what standing leakage leaves until a device may open.

    Parameters
    ----------
    standing_ma : Number
        Leakage that flows all the time. [mA]
    device : Device
        The device that sees it. [-]

    Returns
    -------
    Number
        Margin; negative when the device may open without any fault. [mA]

    Raises
    ------
    OutOfRangeError
        No text was seen for the current that this device must ignore.

    References
    ----------
    UL 943, Class A: no trip below 4 mA.

    Examples
    --------
    >>> margin_ma(3.5)
    0.5
    """
    if device.no_trip_ma is None:
        raise OutOfRangeError(
            f"no text was seen for the current that {device.name} must ignore",
            where="Ground fault, device",
            remedy="Use the figure in the maker's instructions",
        )
    return device.no_trip_ma - standing_ma


def in_series(
    upstream: Device, downstream: Device, fault_ma: float, *, standing_ma: float = 0.0
) -> Series:
    """Tell what two devices in series do at a ground-fault current behind both.

    Neither waits for the other: whichever may open, may open first. The downstream one alone opens
    for sure only where the upstream one must still hold.

    Parameters
    ----------
    upstream : Device
        Nearer to the service, as a breaker or receptacle. [-]
    downstream : Device
        Nearer to the vehicle, as the charger's own. [-]
    fault_ma : float
        Fault current behind both. [mA]
    standing_ma : float
        Leakage of other equipment that only the upstream device sees. [mA]

    Returns
    -------
    Series
        What each may and must do, and why. [mA]

    References
    ----------
    UL 943, Class A; UL 2231, CCID5 and CCID20: thresholds without intended delay.

    Examples
    --------
    >>> in_series(CLASS_A_DEVICE, CCID20, 10.0).is_selective
    False
    """
    seen_ma = fault_ma + standing_ma
    first, second = _opening(upstream, seen_ma), _opening(downstream, fault_ma)
    is_selective = not first.may and second.must
    lines = [
        f"{upstream.name} upstream sees {seen_ma:g} mA: {_words(first)}",
        f"{downstream.name} downstream sees {fault_ma:g} mA: {_words(second)}",
    ]
    if first.may and not second.must:
        lines.append(f"{upstream.name} may open although {downstream.name} need not")
    if first.may and not upstream.closes_again:
        lines.append(f"{upstream.name} does not close again by itself")
    return Series(first, second, is_selective, tuple(lines))


def _opening(device: Device, current_ma: float) -> Opening:
    """Without a known lower threshold a device may open at any current."""
    holds_below_ma = 0.0 if device.no_trip_ma is None else device.no_trip_ma
    return Opening(
        may=current_ma > 0 and current_ma >= holds_below_ma,
        must=current_ma >= device.must_trip_ma,
    )


def _words(opening: Opening) -> str:
    if opening.must:
        return "must open"
    return "may open" if opening.may else "must hold"
