"""The standard way: every kind of load has its own demand factor."""

from dataclasses import dataclass
from math import floor

from checks.codes.dwelling import ChargerCount, DwellingLoad, Service
from checks.codes.profile import Rule
from checks.codes.worksheet import Line, Worksheet, by_bands
from checks.source import Source

VA_PER_KVA = 1000.0


@dataclass(frozen=True)
class RangeDemand:
    """Demand of one household range.

    Parameters
    ----------
    upto_va, demand_va : float
        Up to this nameplate it counts that much. [VA]
    rise_ratio : float
        Share of the demand that each further kilovolt-ampere, or the larger part of one, adds. [-]
    """

    upto_va: float
    demand_va: float
    rise_ratio: float


@dataclass(frozen=True)
class StandardMethod:
    """Every kind of load by its own factor.

    Parameters
    ----------
    title : str
        What a report calls it.
    general_va_per_m2 : Rule
        General lighting and receptacles. [VA/m²]
    circuit_va : Rule
        Each small-appliance and laundry circuit. [VA]
    general_bands : Rule
        Bands of both together [VA] with the share that counts. [-]
    range_demand : Rule
        Demand of one range.
    dryer_least_va : Rule
        The least that a dryer counts. [VA]
    fastened_ratio, fastened_least : Rule, int
        Share of fastened appliances where there are at least so many. [-]
    climate : Rule
        Share of the larger of heating and cooling. [-]
    charger : ChargerCount
        How EV supply equipment counts.
    """

    title: str
    general_va_per_m2: Rule[float]
    circuit_va: Rule[float]
    general_bands: Rule[tuple[tuple[float, float], ...]]
    range_demand: Rule[RangeDemand]
    dryer_least_va: Rule[float]
    fastened_ratio: Rule[float]
    fastened_least: int
    climate: Rule[float]
    charger: ChargerCount

    @property
    def source(self) -> Source:
        """The clause that offers it."""
        return self.general_bands.source

    def refusal(self, dwelling: DwellingLoad, service: Service) -> str:
        """Never: it may always be used."""
        del dwelling, service
        return ""

    def readings(self, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
        """Calculate the load, one worksheet a reading of the text."""
        lines = (
            self._general(dwelling),
            *self._range(dwelling),
            *self._dryer(dwelling),
            *self._fastened(dwelling),
            *self._climate(dwelling),
        )
        # the least load of a charger stands in this part itself: it is read one way
        _, charger = self.charger.lines(dwelling)[0]
        return (Worksheet(self.title, "", (*lines, *charger)),)

    def _general(self, dwelling: DwellingLoad) -> Line:
        per_m2, circuit = self.general_va_per_m2, self.circuit_va
        lighting = dwelling.floor_area_m2 * per_m2.value
        count = dwelling.appliance_circuits + dwelling.laundry_circuits
        circuits = count * circuit.value
        parts = (
            Line(
                "lighting and receptacles",
                lighting,
                lighting,
                f"{dwelling.floor_area_m2:.1f} m² × {per_m2.value:.3g} VA/m²",
                per_m2.source,
            ),
            Line(
                "small-appliance and laundry circuits",
                circuits,
                circuits,
                f"{count} × {circuit.value:.0f} VA",
                circuit.source,
            ),
        )
        return by_bands("general load", parts, self.general_bands.value, self.general_bands.source)

    def _range(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        rated, rule = dwelling.range_va, self.range_demand
        if not rated:
            return ()
        more = floor(max(0.0, rated - rule.value.upto_va) / VA_PER_KVA + 0.5)
        counted = rule.value.demand_va * (1 + rule.value.rise_ratio * more)
        why = f"{rule.value.demand_va:.0f} VA + {rule.value.rise_ratio:.0%} × {more}"
        return (Line("range", rated, counted, why, rule.source),)

    def _dryer(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        rated, least = dwelling.dryer_va, self.dryer_least_va
        if not rated:
            return ()
        why = f"not less than {least.value:.0f} VA"
        return (Line("dryer", rated, max(rated, least.value), why, least.source),)

    def _fastened(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        plates = dwelling.nameplates_va
        if dwelling.heated_water_va:
            plates = (*plates, ("tankless, pool or spa heaters", dwelling.heated_water_va))
        rule = self.fastened_ratio
        ratio = rule.value if len(plates) >= self.fastened_least else 1.0
        return tuple(
            Line(name, va, va * ratio, f"{len(plates)} fastened × {ratio:g}", rule.source)
            for name, va in plates
        )

    def _climate(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        heating = dwelling.heating_va + dwelling.heat_pump_va
        larger, rule = max(heating, dwelling.cooling_va), self.climate
        if not larger:
            return ()
        why = f"larger of heating {heating:.0f} and cooling {dwelling.cooling_va:.0f}"
        return (Line("heating or cooling", larger, larger * rule.value, why, rule.source),)
