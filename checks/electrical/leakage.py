"""Ground-fault devices in series: which of them opens, and why they disturb each other."""

from typing import Final, NamedTuple

from checks.electrical.ground_fault import CLASS_A, MUST_TRIP_MA, NO_TRIP_MA
from checks.source import Basis, Source


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


def in_series(upstream: Device, downstream: Device, fault_ma: float) -> Series:
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

    Returns
    -------
    Series
        What each may and must do, and why. [mA]

    References
    ----------
    UL 943, Class A; UL 2231, CCID20: thresholds without intended delay.

    Examples
    --------
    >>> in_series(CLASS_A_DEVICE, CCID20, 10.0).is_selective
    False
    """
    first, second = _opening(upstream, fault_ma), _opening(downstream, fault_ma)
    is_selective = not first.may and second.must
    lines = [
        f"{upstream.name} upstream sees {fault_ma:g} mA: {_words(first)}",
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
