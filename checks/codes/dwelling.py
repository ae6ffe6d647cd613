"""What a dwelling has: one description for every method of every code; and what a method is."""

from dataclasses import dataclass
from typing import Protocol

from checks.codes.worksheet import Line, Worksheet
from checks.errors import OutOfRangeError
from checks.source import Source

SQRT_3 = 3**0.5


@dataclass(frozen=True)
class Service:
    """The service or feeder that the load must fit on.

    Parameters
    ----------
    rating_a : float
        The lesser of device and conductors. [A]
    volts_v : float
        Nominal volts between the lines. [V]
    phases : int
        1, or 3 for a three-phase service.
    """

    rating_a: float
    volts_v: float = 240.0
    phases: int = 1

    def amps(self, va: float) -> float:
        """Line current of a load spread evenly over the lines. [A]."""
        return va / (self.volts_v * (SQRT_3 if self.phases > 1 else 1.0))

    def va(self, amps: float) -> float:
        """Load of a line current that is even in all lines. [VA]."""
        return amps * self.volts_v * (SQRT_3 if self.phases > 1 else 1.0)


@dataclass(frozen=True)
class DwellingLoad:
    """What a dwelling has.

    Parameters
    ----------
    floor_area_m2 : float
        Outside dimensions, without open porches and garages. [m²]
    appliance_circuits, laundry_circuits : int
        Circuits that count a fixed load each.
    nameplates_va : tuple of (str, float)
        Every other fixed appliance, water heater and motor, by name. [VA]
    heating_va, heating_units : float, int
        Electric space heating, and its separately controlled units; beside a heat pump its
        supplementary heat. [VA]
    cooling_va : float
        Air conditioning. [VA]
    charger_va : float
        EV supply equipment, all together; 0 without. [VA]
    range_va, dryer_va : float
        Electric range and clothes dryer; 0 without. [VA]
    heat_pump_va : float
        Compressor of a heat pump; 0 without. [VA]
    heated_water_va : float
        Tankless water heaters and heaters of pools, spas and hot tubs. [VA]
    inside_area_m2 : float, optional
        Inside dimensions of ground and upper floors; without it the outside ones. [m²]
    basement_area_m2 : float
        Inside dimensions of basement parts higher than 1.8 m. [m²]
    is_interlocked : bool
        Heating and cooling cannot run at the same time.
    adds_climate : bool
        Heating or cooling is new, not only the charger.
    is_existing : bool
        The dwelling stands and the load is added.
    charger_count : int
        Chargers that ``charger_va`` is the sum of.
    managed_va : float, optional
        The most that listed load management lets all chargers draw; None without. [VA]
    is_service_watched : bool
        That load management watches service, feeders and branch circuits as well.
    """

    floor_area_m2: float
    appliance_circuits: int
    laundry_circuits: int
    nameplates_va: tuple[tuple[str, float], ...]
    heating_va: float = 0.0
    heating_units: int = 0
    cooling_va: float = 0.0
    charger_va: float = 0.0
    range_va: float = 0.0
    dryer_va: float = 0.0
    heat_pump_va: float = 0.0
    heated_water_va: float = 0.0
    inside_area_m2: float | None = None
    basement_area_m2: float = 0.0
    is_interlocked: bool = False
    adds_climate: bool = False
    is_existing: bool = False
    charger_count: int = 1
    managed_va: float | None = None
    is_service_watched: bool = False

    def __post_init__(self) -> None:
        """Refuse what cannot be.

        Raises
        ------
        OutOfRangeError
            An area, a load or a count is below 0.
        """
        loads = (self.heating_va, self.cooling_va, self.charger_va, self.range_va, self.dryer_va)
        more = (self.heat_pump_va, self.heated_water_va, self.managed_va or 0.0)
        areas = (self.floor_area_m2, self.inside_area_m2 or 0.0, self.basement_area_m2)
        plates = tuple(va for _, va in self.nameplates_va)
        if min(*loads, *more, *areas, 0.0, *plates) < 0 or self.charger_count < 1:
            raise OutOfRangeError(
                "an area or a load below 0 is not possible",
                where="Panel, load calculation",
                remedy="Read the nameplates and the plan again",
            )


class DwellingMethod(Protocol):
    """A way to calculate the load of a dwelling that a code offers."""

    @property
    def title(self) -> str:
        """What a report calls it."""

    @property
    def source(self) -> Source:
        """The clause that offers it."""

    def refusal(self, dwelling: DwellingLoad, service: Service) -> str:
        """Why it may not be used here; empty when it may."""

    def readings(self, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
        """Calculate the load, one worksheet a reading of the text."""


@dataclass(frozen=True)
class ChargerCount:
    """How EV supply equipment counts.

    Parameters
    ----------
    source : Source
        The clause that makes it count its rating.
    managed : Source
        The clause that lets it count what load management allows.
    least_va : float
        The least that each charger counts; 0 where there is none. [VA]
    least : Source, optional
        The clause of that least.
    is_left_out_when_watched : bool
        It does not count where load management watches the whole service.
    """

    source: Source
    managed: Source
    least_va: float = 0.0
    least: Source | None = None
    is_left_out_when_watched: bool = False

    def lines(self, dwelling: DwellingLoad) -> tuple[tuple[str, tuple[Line, ...]], ...]:
        """Return the charger's lines, one tuple a reading of the text, each with its name."""
        if not dwelling.charger_va:
            return (("", ()),)
        name, rated = "EV supply equipment", dwelling.charger_va
        if dwelling.managed_va is not None:
            left_out = self.is_left_out_when_watched and dwelling.is_service_watched
            counted = 0.0 if left_out else min(rated, dwelling.managed_va)
            why = "held by load management"
            return (("", (Line(name, rated, counted, why, self.managed),)),)
        plate = Line(name, rated, rated, "nameplate", self.source)
        least_va = self.least_va * dwelling.charger_count
        if self.least is None or rated >= least_va:
            return (("", (plate,)),)
        floor = Line(name, rated, least_va, f"not less than {self.least_va:.0f} VA", self.least)
        return (("with the least load", (floor,)), ("by nameplate", (plate,)))
