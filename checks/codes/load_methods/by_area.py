"""By area: a basic load that grows in steps of floor area, and the larger equipment beside it."""

from dataclasses import dataclass
from math import ceil

from checks.codes.dwelling import ChargerCount, DwellingLoad, Service
from checks.codes.profile import Rule
from checks.codes.worksheet import Line, Worksheet, by_bands
from checks.source import Source


@dataclass(frozen=True)
class BasicLoad:
    """Basic load of the first area, and of each further area or part of one. [VA], [m²]."""

    first_va: float
    first_m2: float
    step_va: float
    step_m2: float


@dataclass(frozen=True)
class ByAreaMethod:
    """Basic load by area, and the larger equipment by its own share.

    Parameters
    ----------
    title : str
        What a report calls it.
    basic : Rule
        The basic load.
    basement_ratio : Rule
        Share of the basement's area that counts. [-]
    heating_bands : Rule
        Bands of electric heating [VA] with the share that counts. [-]
    cooling_ratio : Rule
        Share of cooling. [-]
    range_va, range_upto_va, range_rise_ratio : Rule, float, float
        What a range counts up to a rating, and the share of the rest. [VA]
    heated_water_ratio : Rule
        Share of tankless, pool, spa and hot-tub heaters. [-]
    other_above_va : Rule
        Other equipment counts from above this rating. [VA]
    other_ratio : Rule
        Share of other equipment where there is a range. [-]
    other_full_va : Rule
        Without a range, so much of it counts in full, and the share of the rest. [VA]
    least_va : Rule
        Bands of the floor area without basement [m²], not included, with the least total. [VA]
    charger : ChargerCount
        How EV supply equipment counts.
    """

    title: str
    basic: Rule[BasicLoad]
    basement_ratio: Rule[float]
    heating_bands: Rule[tuple[tuple[float, float], ...]]
    cooling_ratio: Rule[float]
    range_va: Rule[float]
    range_upto_va: float
    range_rise_ratio: float
    heated_water_ratio: Rule[float]
    other_above_va: Rule[float]
    other_ratio: Rule[float]
    other_full_va: Rule[float]
    least_va: Rule[tuple[tuple[float, float], ...]]
    charger: ChargerCount

    @property
    def source(self) -> Source:
        """The clause that offers it."""
        return self.basic.source

    def refusal(self, dwelling: DwellingLoad, service: Service) -> str:
        """Never: it may always be used."""
        del dwelling, service
        return ""

    def readings(self, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
        """Calculate the load, one worksheet a reading of the text."""
        lines = (
            self._basic(dwelling),
            *self._climate(dwelling),
            *self._range(dwelling),
            *self._heated_water(dwelling),
            *self._other(dwelling),
        )
        return tuple(
            Worksheet(self.title, reading, (*lines, *charger), self._least(dwelling))
            for reading, charger in self.charger.lines(dwelling)
        )

    def _inside_m2(self, dwelling: DwellingLoad) -> float:
        inside = dwelling.inside_area_m2
        return dwelling.floor_area_m2 if inside is None else inside

    def _basic(self, dwelling: DwellingLoad) -> Line:
        rule, basement = self.basic.value, dwelling.basement_area_m2 * self.basement_ratio.value
        area_m2 = self._inside_m2(dwelling) + basement
        steps = max(0, ceil((area_m2 - rule.first_m2) / rule.step_m2))
        va = rule.first_va + steps * rule.step_va
        why = f"{area_m2:.1f} m²: {rule.first_va:.0f} VA + {steps} × {rule.step_va:.0f} VA"
        return Line("basic load", va, va, why, self.basic.source)

    def _climate(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        heat_va = dwelling.heating_va + dwelling.heat_pump_va
        bands = self.heating_bands
        plate = Line("electric heating", heat_va, heat_va, "nameplate", bands.source)
        heating = by_bands("heating", (plate,), bands.value, bands.source)
        ratio = self.cooling_ratio
        cool_va = dwelling.cooling_va
        cooling = Line(
            "cooling", cool_va, cool_va * ratio.value, f"× {ratio.value:g}", ratio.source
        )
        both = tuple(line for line in (heating, cooling) if line.connected_va)
        if dwelling.is_interlocked and both:
            return (max(both, key=lambda line: line.counted_va),)
        return both

    def _range(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        rated = dwelling.range_va
        if not rated:
            return ()
        above = max(0.0, rated - self.range_upto_va)
        counted = self.range_va.value + above * self.range_rise_ratio
        why = f"{self.range_va.value:.0f} VA + {above:.0f} VA × {self.range_rise_ratio:g}"
        return (Line("range", rated, counted, why, self.range_va.source),)

    def _heated_water(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        va, ratio = dwelling.heated_water_va, self.heated_water_ratio
        if not va:
            return ()
        name = "tankless, pool or spa heaters"
        return (Line(name, va, va * ratio.value, f"× {ratio.value:g}", ratio.source),)

    def _other(self, dwelling: DwellingLoad) -> tuple[Line, ...]:
        plates = (*dwelling.nameplates_va, ("dryer", dwelling.dryer_va))
        ratio, above = self.other_ratio, self.other_above_va
        parts = tuple(
            Line(name, va, va, f"above {above.value:.0f} VA", above.source)
            for name, va in plates
            if va > above.value
        )
        if not parts:
            return ()
        full_va = 0.0 if dwelling.range_va else self.other_full_va.value
        bands = ((full_va, 1.0), (float("inf"), ratio.value))
        return (by_bands("other equipment", parts, bands, ratio.source),)

    def _least(self, dwelling: DwellingLoad) -> Line:
        rule, area_m2 = self.least_va, self._inside_m2(dwelling)
        least = next(va for upto, va in rule.value if area_m2 < upto)
        why = f"floor area {area_m2:.1f} m² without basement"
        return Line("least load", least, least, why, rule.source)
