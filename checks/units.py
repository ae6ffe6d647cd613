"""The units of the trade, and the way between what is shown and what is used inside."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Any, Final, NamedTuple, TypeAlias

from checks.errors import UnitError

UFloat: TypeAlias = Any  # an uncertainties value; the library ships no types
Number: TypeAlias = float | UFloat


class Dimension(StrEnum):
    """What is measured; the value is the unit used inside."""

    VOLTAGE = "V"
    CURRENT = "A"
    RESISTANCE = "Ω"
    LENGTH = "m"
    AREA = "m²"
    TEMPERATURE = "°C"
    RISE = "K"
    TORQUE = "N·m"
    FORCE = "N"
    TIME = "s"
    RATIO = "%"
    POWER = "W"
    APPARENT_POWER = "VA"
    ENERGY = "Wh"
    COUNT = "pcs"


class Unit(NamedTuple):
    """A unit of the trade: inside = (shown + offset) x factor."""

    symbol: str
    dimension: Dimension
    factor: float = 1.0
    offset: float = 0.0


def _units(*rows: tuple[str, Dimension, float]) -> dict[str, Unit]:
    return {s: Unit(symbol=s, dimension=d, factor=f) for s, d, f in rows}


# By definition: 1 in = 25.4 mm, 1 mi = 1609.344 m, 1 lb = 0.45359237 kg, gravity 9.80665 m/s² (NIST
# SP 811, from memory).
UNITS: Final[Mapping[str, Unit]] = {
    **_units(
        ("V", Dimension.VOLTAGE, 1.0),
        ("mV", Dimension.VOLTAGE, 1e-3),
        ("A", Dimension.CURRENT, 1.0),
        ("mA", Dimension.CURRENT, 1e-3),
        ("kA", Dimension.CURRENT, 1e3),
        ("Ω", Dimension.RESISTANCE, 1.0),
        ("mΩ", Dimension.RESISTANCE, 1e-3),
        ("kΩ", Dimension.RESISTANCE, 1e3),
        ("MΩ", Dimension.RESISTANCE, 1e6),
        ("GΩ", Dimension.RESISTANCE, 1e9),
        ("m", Dimension.LENGTH, 1.0),
        ("mm", Dimension.LENGTH, 1e-3),
        ("cm", Dimension.LENGTH, 1e-2),
        ("ft", Dimension.LENGTH, 0.3048),
        ("in", Dimension.LENGTH, 0.0254),
        ("km", Dimension.LENGTH, 1e3),
        ("mi", Dimension.LENGTH, 1609.344),
        ("m²", Dimension.AREA, 1.0),
        ("mm²", Dimension.AREA, 1e-6),
        ("ft²", Dimension.AREA, 0.09290304),
        ("°C", Dimension.TEMPERATURE, 1.0),
        ("K", Dimension.RISE, 1.0),
        ("N·m", Dimension.TORQUE, 1.0),
        ("lbf·in", Dimension.TORQUE, 0.45359237 * 9.80665 * 0.0254),
        ("lbf·ft", Dimension.TORQUE, 0.45359237 * 9.80665 * 0.3048),
        ("N", Dimension.FORCE, 1.0),
        ("lbf", Dimension.FORCE, 0.45359237 * 9.80665),
        ("ozf", Dimension.FORCE, 0.45359237 * 9.80665 / 16),
        ("s", Dimension.TIME, 1.0),
        ("ms", Dimension.TIME, 1e-3),
        ("min", Dimension.TIME, 60.0),
        ("h", Dimension.TIME, 3600.0),
        ("%", Dimension.RATIO, 1.0),
        ("W", Dimension.POWER, 1.0),
        ("kW", Dimension.POWER, 1e3),
        ("VA", Dimension.APPARENT_POWER, 1.0),
        ("kVA", Dimension.APPARENT_POWER, 1e3),
        ("Wh", Dimension.ENERGY, 1.0),
        ("kWh", Dimension.ENERGY, 1e3),
        ("pcs", Dimension.COUNT, 1.0),
        ("months", Dimension.COUNT, 1.0),
    ),
    "°F": Unit(symbol="°F", dimension=Dimension.TEMPERATURE, factor=5 / 9, offset=-32.0),
    "°F rise": Unit(symbol="°F rise", dimension=Dimension.RISE, factor=5 / 9),
}


def unit(symbol: str, dimension: Dimension | None = None) -> Unit:
    """Return the unit with this symbol, checked against the dimension it should have.

    Raises
    ------
    UnitError
        There is no such unit, or it measures something else.
    """
    found = UNITS.get(symbol)
    if found is None:
        raise UnitError(
            f"there is no unit {symbol!r}", where="unit", remedy=f"Use one of {', '.join(UNITS)}"
        )
    if dimension is not None and found.dimension is not dimension:
        fitting = ", ".join(u.symbol for u in UNITS.values() if u.dimension is dimension)
        raise UnitError(f"{symbol} does not fit here", where="unit", remedy=f"Use {fitting}")
    return found


def difference_unit(symbol: str) -> str:
    """Return the unit of a difference: of temperatures a rise, without the scale's offset.

    Examples
    --------
    >>> difference_unit("°C"), difference_unit("V")
    ('K', 'V')
    """
    return {"°C": "K", "°F": "°F rise"}.get(symbol, symbol)


def to_si(value: Number, symbol: str) -> Number:
    """Convert a shown value to the unit used inside."""
    u = unit(symbol)
    return (value + u.offset) * u.factor


def from_si(value: Number, symbol: str) -> Number:
    """Convert a value from the unit used inside to a shown unit."""
    u = unit(symbol)
    return value / u.factor - u.offset
