"""CE Code 2021: tables 2, 4, 5A, 5C and 19; rules 4-004, 4-006.

The committees of both codes brought the ampacity tables together: the numbers of 14 AWG to 4/0 AWG
are those of NEC table 310.16. Only the copper rows 14 to 6 AWG were read in this edition.
"""

from collections.abc import Mapping
from math import inf
from typing import Final

from checks.codes.cec_2021.source import cec, recalled
from checks.codes.nec_2023 import conductors as nec_conductors
from checks.codes.profile import Band, ConductorTables, Rule
from checks.source import Basis, Source

# 30 °C ambient, not more than three current-carrying conductors; columns 60 / 75 / 90 °C. [A]
COPPER_A: Final[Mapping[str, tuple[int, ...]]] = {
    "14 AWG": (15, 20, 25),
    "12 AWG": (20, 25, 30),
    "10 AWG": (30, 35, 40),
    "8 AWG": (40, 50, 55),
    "6 AWG": (55, 65, 75),
    "4 AWG": (70, 85, 95),
    "3 AWG": (85, 100, 115),
    "2 AWG": (95, 115, 130),
    "1 AWG": (110, 130, 145),
    "1/0 AWG": (125, 150, 170),
    "2/0 AWG": (145, 175, 195),
    "3/0 AWG": (165, 200, 225),
    "4/0 AWG": (195, 230, 260),
}
ALUMINUM_A: Final[Mapping[str, tuple[int, ...]]] = {
    "12 AWG": (15, 20, 25),
    "10 AWG": (25, 30, 35),
    "8 AWG": (35, 40, 45),
    "6 AWG": (40, 50, 55),
    "4 AWG": (55, 65, 75),
    "3 AWG": (65, 75, 85),
    "2 AWG": (75, 90, 100),
    "1 AWG": (85, 100, 115),
    "1/0 AWG": (100, 120, 135),
    "2/0 AWG": (115, 135, 150),
    "3/0 AWG": (130, 155, 175),
    "4/0 AWG": (150, 180, 205),
}
READ: Final = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG")
CELL_SOURCE: Final[Mapping[tuple[str, str], Source]] = {
    ("copper", size): cec("table 2") for size in READ
}

# Only ambients above 30 °C are corrected; between two rows the next higher one holds.
AMBIENT: Final[Mapping[int, tuple[Band[float], ...]]] = {
    60: (
        Band(30, 1.00),
        Band(35, 0.91),
        Band(40, 0.82),
        Band(45, 0.71),
        Band(50, 0.58),
        Band(55, 0.41),
    ),
    75: (
        Band(30, 1.00),
        Band(35, 0.94),
        Band(40, 0.88),
        Band(45, 0.82),
        Band(50, 0.75),
        Band(55, 0.67),
        Band(60, 0.58),
        Band(65, 0.47),
        Band(70, 0.33),
    ),
    90: (
        Band(30, 1.00),
        Band(35, 0.96),
        Band(40, 0.91),
        Band(45, 0.87),
        Band(50, 0.82),
        Band(55, 0.76),
        Band(60, 0.71),
        Band(65, 0.65),
        Band(70, 0.58),
        Band(75, 0.50),
        Band(80, 0.41),
        Band(85, 0.29),
    ),
}

# Upper end of the count of current-carrying conductors; factor.
BUNDLING: Final = (
    Band(3, 1.00),
    Band(6, 0.80),
    Band(24, 0.70),
    Band(42, 0.60),
    Band(inf, 0.50),
)

# Designation; rating where dry or damp, where wet. [°C]
TABLE_19: Final = recalled("table 19")
INSULATION: Final[Mapping[str, Rule[tuple[int | None, int | None]]]] = {
    "RW90": Rule((90, 90), TABLE_19),
    "R90": Rule((90, None), TABLE_19),
    "T90 Nylon": Rule((90, None), TABLE_19),
    "TWN75": Rule((75, 75), TABLE_19),
    "TW75": Rule((75, 75), TABLE_19),
    "TW": Rule((60, 60), TABLE_19),
    "NMD90": Rule((90, None), TABLE_19),
    "NMWU": Rule((60, 60), TABLE_19),
    "AC90": Rule((90, None), TABLE_19),
    "ACWU90": Rule((90, 90), TABLE_19),
    "TECK90": Rule((90, 90), TABLE_19),
}
# Conductors often carry the letters of both codes; those of this one decide.
OTHER_LETTERS: Final = Source(
    document="NEC (NFPA 70)",
    edition="2023",
    clause="table 310.4(1), letters that are not those of CE Code table 19",
    basis=Basis.DOUBTFUL,
)
FOREIGN: Final[Mapping[str, Rule[tuple[int | None, int | None]]]] = {
    letters: Rule(rule.value, OTHER_LETTERS)
    for letters, rule in nec_conductors.INSULATION.items()
    if letters not in INSULATION
}

# Unmarked terminals: upper end of the circuit's rating [A], column. [°C]
TERMINATION: Final = (
    Band(100, Rule(60, recalled("4-006"))),
    Band(inf, Rule(75, recalled("4-006"))),
)

CONDUCTORS: Final = ConductorTables(
    columns_c=(60, 75, 90),
    ampacity_a=Rule({"copper": COPPER_A, "aluminum": ALUMINUM_A}, recalled("tables 2 and 4")),
    ambient_ratio=Rule(AMBIENT, recalled("table 5A")),
    bundling_ratio=Rule(BUNDLING, recalled("table 5C")),
    insulation_c={**FOREIGN, **INSULATION},
    cable_cap_c={},  # a cable's own insulation and the terminals decide
    termination_c=TERMINATION,
    # metal is the same on both sides of a border
    area_cmil=Rule(nec_conductors.AREA_CMIL, nec_conductors.TABLE_8),
    resistance_ohm_per_kft=Rule(nec_conductors.RESISTANCE, nec_conductors.TABLE_8),
    cell_source=CELL_SOURCE,
)
