"""NEC 2023: 220.82, 220.57, 220.87."""

from math import inf
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Band, LoadRules, Rule
from checks.source import Basis

M2_PER_FT2: Final = 0.3048**2

LOAD: Final = LoadRules(
    measured_ratio=Rule(1.25, nec("220.87")),
    # the clause puts 125 % on the demand only; the rules for continuous load suggest it for the
    # charger as well
    new_load_ratios=Rule((1.0, 1.25), nec("220.87 with 210.20(A)", Basis.DOUBTFUL)),
    dwelling_va_per_m2=Rule(3 / M2_PER_FT2, nec("220.82(B)(1)")),  # 3 VA/ft²
    dwelling_circuit_va=Rule(1500.0, nec("220.82(B)(2)")),
    general_bands=Rule((Band(10_000.0, 1.0), Band(inf, 0.4)), nec("220.82(B)")),
    heating_few_ratio=Rule(0.65, nec("220.82(C)(4)")),
    heating_many_ratio=Rule(0.4, nec("220.82(C)(5)")),
    many_units=4,
    # whether this floor of another part reaches into 220.82 is read two ways
    charger_least_va=Rule(7200.0, nec("220.57", Basis.DOUBTFUL)),
)
