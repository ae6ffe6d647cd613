"""NEC 2023: article 220, 625.41, 625.42, 750.30."""

from math import inf
from typing import Final

from checks.codes.dwelling import ChargerCount
from checks.codes.load_methods.optional import ExistingMethod, GeneralLoad, OptionalMethod
from checks.codes.load_methods.standard import RangeDemand, StandardMethod
from checks.codes.nec_2023.source import nec
from checks.codes.profile import LoadRules, Rule
from checks.source import Basis

M2_PER_FT2: Final = 0.3048**2
GENERAL_VA_PER_M2: Final = 3 / M2_PER_FT2  # 3 VA/ft²
CIRCUIT_VA: Final = 1500.0
CHARGER_LEAST_VA: Final = 7200.0

MANAGED: Final = nec("625.42(A), 220.70, 750.30")

STANDARD: Final = StandardMethod(
    title="standard calculation",
    general_va_per_m2=Rule(GENERAL_VA_PER_M2, nec("220 part III, general lighting")),
    circuit_va=Rule(CIRCUIT_VA, nec("220.52")),
    general_bands=Rule(((3_000.0, 1.0), (inf, 0.35)), nec("220 part III, lighting demand")),
    range_demand=Rule(RangeDemand(12_000.0, 8_000.0, 0.05), nec("table 220.55")),
    dryer_least_va=Rule(5_000.0, nec("220.54")),
    fastened_ratio=Rule(0.75, nec("220.53")),
    fastened_least=4,
    climate=Rule(1.0, nec("220.51, 220.60")),
    charger=ChargerCount(
        source=nec("220.57"), managed=MANAGED, least_va=CHARGER_LEAST_VA, least=nec("220.57")
    ),
)

# Whether the least load of 220.57 reaches into part IV is read two ways.
PART_IV_CHARGER: Final = ChargerCount(
    source=nec("220.82(B)(3), 220.83"),
    managed=MANAGED,
    least_va=CHARGER_LEAST_VA,
    least=nec("220.57", Basis.DOUBTFUL),
)

OPTIONAL: Final = OptionalMethod(
    title="optional calculation",
    general=GeneralLoad(
        per_m2_va=Rule(GENERAL_VA_PER_M2, nec("220.82(B)(1)")),
        circuit_va=Rule(CIRCUIT_VA, nec("220.82(B)(2)")),
        nameplates=nec("220.82(B)(3)"),
        charger=PART_IV_CHARGER,
    ),
    bands=Rule(((10_000.0, 1.0), (inf, 0.4)), nec("220.82(B)")),
    cooling_ratio=Rule(1.0, nec("220.82(C)(1)")),
    heat_pump_ratio=Rule(1.0, nec("220.82(C)(2), (C)(3)")),
    supplementary_ratio=Rule(0.65, nec("220.82(C)(3)")),
    heating_few_ratio=Rule(0.65, nec("220.82(C)(4)")),
    heating_many_ratio=Rule(0.4, nec("220.82(C)(5)")),
    many_units=4,
    least_service_a=Rule(100.0, nec("220.82(A)")),
)

# The list of 220.83(A) names no heating or cooling that exists.
EXISTING: Final = ExistingMethod(
    title="calculation for an existing dwelling",
    general=GeneralLoad(
        per_m2_va=Rule(GENERAL_VA_PER_M2, nec("220.83")),
        circuit_va=Rule(CIRCUIT_VA, nec("220.83")),
        nameplates=nec("220.83"),
        charger=PART_IV_CHARGER,
    ),
    bands=Rule(((8_000.0, 1.0), (inf, 0.4)), nec("220.83")),
    beside=Rule(1.0, nec("220.83(B)")),
    inside=nec("220.83(A)", Basis.DOUBTFUL),
)

LOAD: Final = LoadRules(
    measured_ratio=Rule(1.25, nec("220.87")),
    calculated_ratio=Rule(1.0, nec("220 parts III and IV")),
    # the clause puts 125 % on the demand only; the rules for continuous load suggest it for the
    # charger as well
    new_load_ratios=Rule((1.0, 1.25), nec("220.87 with 210.20(A)", Basis.DOUBTFUL)),
    new_load_on_calculated_ratios=Rule((1.0, 1.25), nec("220.57 with 210.20(A)", Basis.DOUBTFUL)),
    charger_least_va=Rule(CHARGER_LEAST_VA, nec("220.57")),
    record_days=Rule(365, nec("220.87")),
    short_record_days=Rule(30, nec("220.87 exception")),
    managed_ratio=Rule(1.25, nec("220.70, 750.30")),
    methods=(STANDARD, OPTIONAL, EXISTING),
)
