"""What counts for the load on a service or panel."""

from dataclasses import dataclass

from checks.codes.dwelling import DwellingMethod
from checks.codes.rule import Rule


@dataclass(frozen=True)
class LoadRules:
    """Load on a service or panel.

    Parameters
    ----------
    measured_ratio, calculated_ratio : Rule
        What a measured, and what a calculated existing demand counts. [-]
    new_load_ratios, new_load_on_calculated_ratios : Rule
        What the new continuous load may count beside either, one factor a reading, the lenient
        one first. [-]
    charger_least_va : Rule, optional
        The least that a charger counts beside a calculated demand; None where there is none. [VA]
    record_days : Rule
        Length of record that a measured demand rests on. [d]
    short_record_days : Rule, optional
        Length that may do where nothing on site generates; None where there is no such way. [d]
    managed_ratio : Rule
        What the setpoint of load management counts. [-]
    methods : tuple of DwellingMethod
        Every way to calculate a dwelling that the code offers; the user may choose.
    """

    measured_ratio: Rule[float]
    calculated_ratio: Rule[float]
    new_load_ratios: Rule[tuple[float, ...]]
    new_load_on_calculated_ratios: Rule[tuple[float, ...]]
    charger_least_va: Rule[float] | None
    record_days: Rule[int]
    short_record_days: Rule[int] | None
    managed_ratio: Rule[float]
    methods: tuple[DwellingMethod, ...]
