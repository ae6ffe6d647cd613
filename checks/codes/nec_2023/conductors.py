"""NEC 2023: tables 310.16, 310.15(B)(1)(1), 310.15(C)(1), 310.4(1), chapter 9 table 8."""

from collections.abc import Mapping
from math import inf
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Band, ConductorTables, Rule
from checks.source import Basis

TABLE_310_16: Final = nec("table 310.16")
TABLE_310_15_B: Final = nec("table 310.15(B)(1)(1)")
TABLE_310_15_C: Final = nec("table 310.15(C)(1)")
TABLE_310_4: Final = nec("table 310.4(1)")
TABLE_310_4_RECALLED: Final = nec("table 310.4(1)", Basis.FROM_MEMORY)
TABLE_8: Final = nec("chapter 9 table 8")

# Not more than three current-carrying conductors in raceway, cable or earth, 30 °C ambient;
# columns 60 / 75 / 90 °C. [A]
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

# Upper end of the ambient band [°C], factor; by the temperature of the conductor's column.
AMBIENT: Final[Mapping[int, tuple[Band[float], ...]]] = {
    60: (
        Band(10, 1.29),
        Band(15, 1.22),
        Band(20, 1.15),
        Band(25, 1.08),
        Band(30, 1.00),
        Band(35, 0.91),
        Band(40, 0.82),
        Band(45, 0.71),
        Band(50, 0.58),
        Band(55, 0.41),
    ),
    75: (
        Band(10, 1.20),
        Band(15, 1.15),
        Band(20, 1.11),
        Band(25, 1.05),
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
        Band(10, 1.15),
        Band(15, 1.12),
        Band(20, 1.08),
        Band(25, 1.04),
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

# Upper end of the count of current-carrying conductors, spares included; factor.
BUNDLING: Final = (
    Band(3, 1.00),
    Band(6, 0.80),
    Band(9, 0.70),
    Band(20, 0.50),
    Band(30, 0.45),
    Band(40, 0.40),
    Band(inf, 0.35),
)

# Insulation letters; rating where dry or damp, where wet. [°C]
INSULATION: Final[Mapping[str, Rule[tuple[int | None, int | None]]]] = {
    "THHN": Rule((90, None), TABLE_310_4),
    "THWN": Rule((75, 75), TABLE_310_4),
    "THWN-2": Rule((90, 90), TABLE_310_4),
    "THHW": Rule((90, 75), TABLE_310_4),
    "XHHW": Rule((90, 75), TABLE_310_4),
    "XHHW-2": Rule((90, 90), TABLE_310_4),
    "NM": Rule((90, None), nec("334.80, 334.112")),
    "TW": Rule((60, 60), TABLE_310_4_RECALLED),
    "THW": Rule((75, 75), TABLE_310_4_RECALLED),
    "RHW": Rule((75, 75), TABLE_310_4_RECALLED),
    "RHH": Rule((90, None), TABLE_310_4_RECALLED),
    "RHW-2": Rule((90, 90), TABLE_310_4_RECALLED),
    "USE-2": Rule((90, 90), TABLE_310_4_RECALLED),
    "UF": Rule((60, 60), TABLE_310_4_RECALLED),
}

# The column that the final ampacity of a cable may not exceed. [°C]
CABLE_CAP: Final[Mapping[str, Rule[int]]] = {
    "NM": Rule(60, nec("334.80")),
    "UF": Rule(60, nec("340.80", Basis.FROM_MEMORY)),
}

# The same where any part lies in thermal insulation, size by size; earlier editions capped other
# sizes of SE, and some none. [°C]
INSULATED_CAP: Final[Mapping[str, Rule[Mapping[str, int]]]] = {
    "SE": Rule({size: 60 for size in ("14 AWG", "12 AWG", "10 AWG")}, nec("338.10(B)(4)(a)(3)")),
    "AC": Rule({size: 60 for size in COPPER_A}, nec("320.80(A)")),
}
INSULATED_RATING: Final[Mapping[str, Rule[int]]] = {"AC": Rule(90, nec("320.80(A)"))}

# Upper end of the circuit's rating [A], column of terminals that are not marked otherwise [°C].
TERMINATION: Final = (
    Band(100, Rule(60, nec("110.14(C)(1)(a)"))),
    Band(inf, Rule(75, nec("110.14(C)(1)(b)"))),
)

# Printed areas, rounded by the table itself. [circular mil]
AREA_CMIL: Final[Mapping[str, int]] = {
    "14 AWG": 4_110,
    "12 AWG": 6_530,
    "10 AWG": 10_380,
    "8 AWG": 16_510,
    "6 AWG": 26_240,
    "4 AWG": 41_740,
    "3 AWG": 52_620,
    "2 AWG": 66_360,
    "1 AWG": 83_690,
    "1/0 AWG": 105_600,
    "2/0 AWG": 133_100,
    "3/0 AWG": 167_800,
    "4/0 AWG": 211_600,
}

# Direct current, 75 °C, stranded, copper uncoated. [Ω/1000 ft]
RESISTANCE: Final[Mapping[str, Mapping[str, float]]] = {
    "copper": {
        "14 AWG": 3.14,
        "12 AWG": 1.98,
        "10 AWG": 1.24,
        "8 AWG": 0.778,
        "6 AWG": 0.491,
        "4 AWG": 0.308,
        "3 AWG": 0.245,
        "2 AWG": 0.194,
        "1 AWG": 0.154,
        "1/0 AWG": 0.122,
        "2/0 AWG": 0.0967,
        "3/0 AWG": 0.0766,
        "4/0 AWG": 0.0608,
    },
    "aluminum": {
        "14 AWG": 5.17,
        "12 AWG": 3.25,
        "10 AWG": 2.04,
        "8 AWG": 1.28,
        "6 AWG": 0.808,
        "4 AWG": 0.508,
        "3 AWG": 0.403,
        "2 AWG": 0.319,
        "1 AWG": 0.253,
        "1/0 AWG": 0.201,
        "2/0 AWG": 0.159,
        "3/0 AWG": 0.126,
        "4/0 AWG": 0.100,
    },
}

# Service or main feeder of a dwelling: upper end of its rating [A], least size; only where no
# correction applies and the conductors carry the whole load of the dwelling.
DWELLING_SERVICE: Final[Mapping[str, tuple[Band[str], ...]]] = {
    "copper": (
        Band(100, "4 AWG"),
        Band(110, "3 AWG"),
        Band(125, "2 AWG"),
        Band(150, "1 AWG"),
        Band(175, "1/0 AWG"),
        Band(200, "2/0 AWG"),
        Band(225, "3/0 AWG"),
        Band(400, "400 kcmil"),
    ),
    "aluminum": (
        Band(100, "2 AWG"),
        Band(110, "1 AWG"),
        Band(125, "1/0 AWG"),
        Band(150, "2/0 AWG"),
        Band(175, "3/0 AWG"),
        Band(200, "4/0 AWG"),
        Band(225, "250 kcmil"),
        Band(400, "600 kcmil"),
    ),
}

CONDUCTORS: Final = ConductorTables(
    columns_c=(60, 75, 90),
    ampacity_a=Rule({"copper": COPPER_A, "aluminum": ALUMINUM_A}, TABLE_310_16),
    ambient_ratio=Rule(AMBIENT, TABLE_310_15_B),
    bundling_ratio=Rule(BUNDLING, TABLE_310_15_C),
    insulation_c=INSULATION,
    cable_cap_c=CABLE_CAP,
    termination_c=TERMINATION,
    area_cmil=Rule(AREA_CMIL, TABLE_8),
    resistance_ohm_per_kft=Rule(RESISTANCE, TABLE_8),
    dwelling_service=Rule(DWELLING_SERVICE, nec("table 310.12(A)")),
    insulated_cap_c=INSULATED_CAP,
    insulated_rating_c=INSULATED_RATING,
)
