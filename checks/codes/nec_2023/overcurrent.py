"""NEC 2023: 210.19, 210.20, 240.4, 240.6(A), 250.122."""

from collections.abc import Mapping
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Band, OvercurrentTables, Rule
from checks.source import judgement

# Standard ratings up to 400 A; larger devices are beyond what is checked here. [A]
STANDARD_A: Final = (
    *(10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200),
    *(225, 250, 300, 350, 400),
)

# Highest device after all correction. [A]
SMALL_CONDUCTOR_A: Final[Mapping[str, Mapping[str, int]]] = {
    "copper": {"14 AWG": 15, "12 AWG": 20, "10 AWG": 30},
    "aluminum": {"12 AWG": 15, "10 AWG": 25},
}

# Upper end of the device's rating [A], grounding conductor.
GROUNDING: Final[Mapping[str, tuple[Band[str], ...]]] = {
    "copper": (
        Band(15, "14 AWG"),
        Band(20, "12 AWG"),
        Band(60, "10 AWG"),
        Band(100, "8 AWG"),
        Band(200, "6 AWG"),
        Band(300, "4 AWG"),
        Band(400, "3 AWG"),
    ),
    "aluminum": (
        Band(15, "12 AWG"),
        Band(20, "10 AWG"),
        Band(60, "8 AWG"),
        Band(100, "6 AWG"),
        Band(200, "4 AWG"),
        Band(300, "2 AWG"),
        Band(400, "1 AWG"),
    ),
}

OVERCURRENT: Final = OvercurrentTables(
    continuous_ratio=Rule(1.25, nec("210.20(A), 625.41")),
    corrected_ratio=Rule(1.0, nec("210.19(A)")),
    fully_rated_ratio=Rule(1.0, nec("210.20(A) exception")),
    standard_a=Rule(STANDARD_A, nec("table 240.6(A)")),
    next_size_up_a=Rule(800.0, nec("240.4(B)")),
    small_conductor_cap_a=Rule(SMALL_CONDUCTOR_A, nec("240.4(D)")),
    grounding=Rule(GROUNDING, nec("table 250.122")),
    is_grounding_enlarged=Rule(True, nec("250.122(B)")),
    upsizing_tolerance_ratio=Rule(
        0.001, judgement("0.1 % for the rounding of the printed areas in chapter 9 table 8")
    ),
)
