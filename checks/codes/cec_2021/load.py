"""CE Code 2021: 8-106, 8-110, 8-200, 8-500, 62-118."""

from math import inf
from typing import Final

from checks.codes.cec_2021.source import cec, recalled
from checks.codes.dwelling import ChargerCount
from checks.codes.load_methods.by_area import BasicLoad, ByAreaMethod
from checks.codes.profile import LoadRules, Rule
from checks.source import Basis

A: Final = cec("8-200 1) a)")

SINGLE_DWELLING: Final = ByAreaMethod(
    title="calculation for a single dwelling",
    basic=Rule(BasicLoad(5_000.0, 90.0, 1_000.0, 90.0), A),
    basement_ratio=Rule(0.75, cec("8-110")),
    # read in a study page of a later edition
    heating_bands=Rule(((10_000.0, 1.0), (inf, 0.75)), cec("62-118", Basis.DOUBTFUL)),
    cooling_ratio=Rule(1.0, A),
    range_va=Rule(6_000.0, A),
    range_upto_va=12_000.0,
    range_rise_ratio=0.4,
    heated_water_ratio=Rule(1.0, A),
    other_above_va=Rule(1_500.0, A),
    other_ratio=Rule(0.25, A),
    other_full_va=Rule(6_000.0, A),
    least_va=Rule(((80.0, 14_400.0), (inf, 24_000.0)), cec("8-200 1) b)")),
    charger=ChargerCount(source=A, managed=cec("8-106 10), 11)"), is_left_out_when_watched=True),
)

LOAD: Final = LoadRules(
    # existing demand and charger together up to 80 % of the rating, which is 125 % of both
    measured_ratio=Rule(1.25, cec("8-106 8), 8-104 5), 6)")),
    calculated_ratio=Rule(1.0, cec("8-200 3)")),
    new_load_ratios=Rule((1.25,), cec("8-106 8), 8-104 5), 6)")),
    new_load_on_calculated_ratios=Rule((1.0,), cec("8-200 3)")),
    charger_least_va=None,
    record_days=Rule(365, cec("8-106 8)")),
    short_record_days=None,
    managed_ratio=Rule(1.25, recalled("8-500")),
    methods=(SINGLE_DWELLING,),
)
