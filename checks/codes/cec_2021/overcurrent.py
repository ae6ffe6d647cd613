"""CE Code 2021: 8-104, 14-104, tables 13 and 16."""

from collections.abc import Mapping
from typing import Final

from checks.codes.cec_2021.source import cec, recalled
from checks.codes.nec_2023.overcurrent import OVERCURRENT as NEC_OVERCURRENT
from checks.codes.profile import Band, OvercurrentTables, Rule
from checks.source import Basis

# Standard ratings up to 400 A. [A]
STANDARD_A: Final = (
    *(15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200),
    *(225, 250, 300, 350, 400),
)

# Highest device. [A]
SMALL_CONDUCTOR_A: Final[Mapping[str, Mapping[str, int]]] = {
    "copper": {"14 AWG": 15, "12 AWG": 20, "10 AWG": 30},
    "aluminum": {"12 AWG": 15, "10 AWG": 25},
}

# Upper end of the device's rating [A], bonding conductor.
BONDING: Final[Mapping[str, tuple[Band[str], ...]]] = {
    "copper": (
        Band(20, "14 AWG"),
        Band(30, "12 AWG"),
        Band(60, "10 AWG"),
        Band(100, "8 AWG"),
        Band(200, "6 AWG"),
        Band(300, "4 AWG"),
        Band(400, "3 AWG"),
    ),
    "aluminum": (
        Band(20, "12 AWG"),
        Band(30, "10 AWG"),
        Band(60, "8 AWG"),
        Band(100, "6 AWG"),
        Band(200, "4 AWG"),
        Band(300, "2 AWG"),
        Band(400, "1 AWG"),
    ),
}

# 80 % of device and of ampacity, which is 125 % of the load.
MARKED_80: Final = cec("8-104 5), 6)")

OVERCURRENT: Final = OvercurrentTables(
    continuous_ratio=Rule(1.25, MARKED_80),
    corrected_ratio=Rule(1.25, MARKED_80),
    fully_rated_ratio=Rule(1.0, MARKED_80),
    standard_a=Rule(STANDARD_A, recalled("table 13")),
    next_size_up_a=Rule(800.0, cec("14-104")),
    small_conductor_cap_a=Rule(SMALL_CONDUCTOR_A, cec("14-104")),
    grounding=Rule(BONDING, recalled("table 16")),
    # Appendix B was read: it grows with them, by their ampacity in the second column of table 16.
    # In proportion to the area, as here, is not the letter of it.
    is_grounding_enlarged=Rule(True, cec("10-616 3) b)", Basis.DOUBTFUL)),
    upsizing_tolerance_ratio=NEC_OVERCURRENT.upsizing_tolerance_ratio,
)
