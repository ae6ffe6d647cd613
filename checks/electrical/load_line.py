"""Volts against current: what a load test reads, and the resistances that it is read for."""

from dataclasses import dataclass
from enum import StrEnum

from checks.quantity import nominal
from checks.units import Number


class Circuit(StrEnum):
    """What the load hangs between."""

    SPLIT = "two legs of 120/240 V"
    WYE = "two legs of 208Y/120 V"
    SINGLE = "line and neutral"

    @property
    def conductors(self) -> tuple[str, str]:
        """The two conductors that carry the load."""
        return ("line", "neutral") if self is Circuit.SINGLE else ("L1", "L2")


class Place(StrEnum):
    """Where the volts were read."""

    PANEL = "panel"
    OUTLET = "outlet"


class Between(StrEnum):
    """What the volts were read between.

    To ground serves where there is no neutral: neither carries current of a load on two legs. With
    a load between line and neutral, both are read to ground.
    """

    BOTH = "the two loaded conductors"
    FIRST = "first loaded conductor to neutral or ground"
    SECOND = "second loaded conductor to neutral or ground"


@dataclass(frozen=True)
class LoadReading:
    """One voltage with where, when and at what current it was read.

    Parameters
    ----------
    place : Place
        Where.
    between : Between
        Between what.
    at_s : float
        When, from any start. [s]
    volts_v : Number
        The reading, always positive as the meter shows it. [V]
    current_a : Number
        Load current at that moment; 0 without load. [A]
    """

    place: Place
    between: Between
    at_s: float
    volts_v: Number
    current_a: Number = 0.0

    @property
    def is_loaded(self) -> bool:
        """Whether load current flowed."""
        return nominal(self.current_a) > 0


@dataclass(frozen=True)
class Ohms:
    """Resistance up to a place: of both loaded conductors, and of each where it can be known."""

    loop_ohm: Number
    legs_ohm: tuple[Number, Number] | None = None


@dataclass(frozen=True)
class LoadLine:
    """What the readings say of the resistances on the way.

    Parameters
    ----------
    circuit : Circuit
        What the load hangs between.
    outlet : Ohms
        Up to the outlet, the utility's share included.
    supply : Ohms, optional
        Up to the panel; none where it was not read there.
    current_a : Number
        The largest load current of the test. [A]
    moved : bool
        Whether the supply moved between readings, so that the intervals are wider for it.
    tapered : bool
        Whether the current changed between readings of one step: the vehicle or charger throttled.
    repeated : bool
        Whether a place was read more than once under load, so that a movement of the supply shows.
    """

    circuit: Circuit
    outlet: Ohms
    supply: Ohms | None
    current_a: Number
    moved: bool
    tapered: bool
    repeated: bool

    @property
    def branch(self) -> Ohms | None:
        """Resistance between panel and outlet, where both were read. [Ω]."""
        if self.supply is None:
            return None
        loop_ohm = self.outlet.loop_ohm - self.supply.loop_ohm
        outlet, supply = self.outlet.legs_ohm, self.supply.legs_ohm
        if outlet is None or supply is None:
            return Ohms(loop_ohm)
        return Ohms(loop_ohm, (outlet[0] - supply[0], outlet[1] - supply[1]))
