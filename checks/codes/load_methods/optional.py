"""The optional ways: all general load in one sum, of which the first part counts in full."""

from dataclasses import dataclass

from checks.codes.dwelling import ChargerCount, DwellingLoad, Service
from checks.codes.profile import Rule
from checks.codes.worksheet import Line, Worksheet, by_bands
from checks.source import Source


@dataclass(frozen=True)
class GeneralLoad:
    """The sum that all optional ways begin with.

    Parameters
    ----------
    per_m2_va : Rule
        General lighting and receptacles. [VA/m²]
    circuit_va : Rule
        Each small-appliance and laundry circuit. [VA]
    nameplates : Source
        The clause that lets everything else count its nameplate.
    charger : ChargerCount
        How EV supply equipment counts.
    """

    per_m2_va: Rule[float]
    circuit_va: Rule[float]
    nameplates: Source
    charger: ChargerCount

    def lines(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        """Return every line without charger, heating and cooling."""
        lighting = dwelling.floor_area_m2 * self.per_m2_va.value
        count = dwelling.appliance_circuits + dwelling.laundry_circuits
        circuits = count * self.circuit_va.value
        plates = (
            *dwelling.nameplates_va,
            ("range", dwelling.range_va),
            ("dryer", dwelling.dryer_va),
            ("tankless, pool or spa heaters", dwelling.heated_water_va),
        )
        return (
            Line(
                "lighting and receptacles",
                lighting,
                lighting,
                f"{dwelling.floor_area_m2:.1f} m² × {self.per_m2_va.value:.3g} VA/m²",
                self.per_m2_va.source,
            ),
            Line(
                "small-appliance and laundry circuits",
                circuits,
                circuits,
                f"{count} × {self.circuit_va.value:.0f} VA",
                self.circuit_va.source,
            ),
            *(Line(name, va, va, "nameplate", self.nameplates) for name, va in plates if va),
        )


@dataclass(frozen=True)
class OptionalMethod:
    """General load in bands, and the largest kind of heating or cooling beside it.

    Parameters
    ----------
    title : str
        What a report calls it.
    general : GeneralLoad
        The sum that it begins with.
    bands : Rule
        Bands of that sum [VA] with the share that counts. [-]
    cooling_ratio, heat_pump_ratio, supplementary_ratio : Rule
        Share of cooling, of a heat pump, and of the supplementary heat beside it. [-]
    heating_few_ratio, heating_many_ratio : Rule
        Share of electric heating with few, and with many, separately controlled units. [-]
    many_units : int
        From this number of units on they are many.
    least_service_a : Rule
        Only for services of at least this rating. [A]
    """

    title: str
    general: GeneralLoad
    bands: Rule[tuple[tuple[float, float], ...]]
    cooling_ratio: Rule[float]
    heat_pump_ratio: Rule[float]
    supplementary_ratio: Rule[float]
    heating_few_ratio: Rule[float]
    heating_many_ratio: Rule[float]
    many_units: int
    least_service_a: Rule[float]

    @property
    def source(self) -> Source:
        """The clause that offers it."""
        return self.bands.source

    def refusal(self, dwelling: DwellingLoad, service: Service) -> str:
        """Why it may not be used here; empty when it may."""
        del dwelling
        least = self.least_service_a
        if service.rating_a >= least.value:
            return ""
        return f"only for services of at least {least.value:g} A ({least.source})"

    def readings(self, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
        """Calculate the load, one worksheet a reading of the text."""
        general = self.general.lines(dwelling)
        climate = max(self._climate(dwelling), key=lambda line: line.counted_va)
        return tuple(
            Worksheet(
                self.title,
                reading,
                (
                    by_bands(
                        "general load", (*general, *charger), self.bands.value, self.bands.source
                    ),
                    *((climate,) if climate.connected_va else ()),
                ),
            )
            for reading, charger in self.general.charger.lines(dwelling)
        )

    def _climate(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        """Every kind of heating and cooling by its share; the largest counts."""
        heat, pump = dwelling.heating_va, dwelling.heat_pump_va
        cooling = _shared("cooling", dwelling.cooling_va, self.cooling_ratio)
        if pump:
            whole, part = self.heat_pump_ratio, self.supplementary_ratio
            counted = pump * whole.value + heat * part.value
            why = f"{pump:.0f} × {whole.value:g} + {heat:.0f} × {part.value:g}"
            return cooling, Line("heat pump", pump + heat, counted, why, part.source)
        many = dwelling.heating_units >= self.many_units
        share = self.heating_many_ratio if many else self.heating_few_ratio
        return cooling, _shared("heating", heat, share)


@dataclass(frozen=True)
class ExistingMethod:
    """General load of a dwelling that stands, in bands; heating or cooling inside or beside it.

    Parameters
    ----------
    title : str
        What a report calls it.
    general : GeneralLoad
        The sum that it begins with.
    bands : Rule
        Bands of that sum [VA] with the share that counts. [-]
    beside : Rule
        Share of the larger of heating and cooling where it is new. [-]
    inside : Source
        The clause, silent on heating and cooling that exist, by which they may belong to the sum.
    """

    title: str
    general: GeneralLoad
    bands: Rule[tuple[tuple[float, float], ...]]
    beside: Rule[float]
    inside: Source

    @property
    def source(self) -> Source:
        """The clause that offers it."""
        return self.bands.source

    def refusal(self, dwelling: DwellingLoad, service: Service) -> str:
        """Why it may not be used here; empty when it may."""
        del service
        return "" if dwelling.is_existing else f"only for a dwelling that stands ({self.source})"

    def readings(self, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
        """Calculate the load, one worksheet a reading of the text."""
        general = self.general.lines(dwelling)
        found = []
        for said, charger in self.general.charger.lines(dwelling):
            for where, inside, beside in self._climate(dwelling):
                pool = by_bands(
                    "general load",
                    (*general, *charger, *inside),
                    self.bands.value,
                    self.bands.source,
                )
                reading = ", ".join(part for part in (where, said) if part)
                found.append(Worksheet(self.title, reading, (pool, *beside)))
        return tuple(found)

    def _climate(
        self, dwelling: DwellingLoad
    ) -> tuple[tuple[str, tuple[Line, ...], tuple[Line, ...]], ...]:
        """Return name, lines inside the sum, lines beside it, one a reading; the cautious first."""
        larger = max(dwelling.heating_va + dwelling.heat_pump_va, dwelling.cooling_va)
        beside = _shared("heating or cooling, the larger", larger, self.beside)
        if not larger:
            return (("", (), ()),)
        if dwelling.adds_climate:
            return (("", (), (beside,)),)
        inside = Line(beside.name, larger, larger, "inside the sum", self.inside)
        return (
            ("existing heating or cooling in full", (), (beside,)),
            ("existing heating or cooling inside the sum", (inside,), ()),
        )


def _shared(name: str, va: float, share: Rule[float]) -> Line:
    return Line(name, va, va * share.value, f"× {share.value:g}", share.source)
