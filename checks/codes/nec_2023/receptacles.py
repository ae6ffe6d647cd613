"""NEC 2023: receptacle configurations, 210.21(B), 406.9, 625.44."""

from collections.abc import Mapping
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Configuration, Permission, ReceptacleTables, Rule
from checks.source import Basis, Source

WD_6: Final = Source(document="NEMA WD 6", clause="configuration chart", basis=Basis.LOOKED_UP)

# Name, rated volts, rated amps, grounding contact, neutral contact, locking.
CONFIGURATIONS: Final[Mapping[str, Configuration]] = {
    each.name: each
    for each in (
        Configuration("5-15", (125,), 15, True, True),
        Configuration("5-20", (125,), 20, True, True),
        Configuration("6-15", (250,), 15, True, False),
        Configuration("6-20", (250,), 20, True, False),
        Configuration("6-30", (250,), 30, True, False),
        Configuration("6-50", (250,), 50, True, False),
        Configuration("10-30", (125, 250), 30, False, True),
        Configuration("10-50", (125, 250), 50, False, True),
        Configuration("14-30", (125, 250), 30, True, True),
        Configuration("14-50", (125, 250), 50, True, True),
        Configuration("14-60", (125, 250), 60, True, True),
        Configuration("TT-30", (125,), 30, True, True),
        Configuration("L6-30", (250,), 30, True, False, is_locking=True),
        Configuration("L14-30", (125, 250), 30, True, True, is_locking=True),
    )
}

PORTABLE: Final = nec("625.44(A)")
FASTENED: Final = nec("625.44(B)")
LISTED: Final = ("5-15", "5-20", "6-15", "6-20", "6-30", "6-50", "14-30", "14-50")


def _permitted(name: str, clause: Source, kind: str) -> Rule[Permission]:
    return Rule(Permission(True, f"{name} is among the receptacles for {kind} equipment"), clause)


# 60 A is new in this edition and was read in a code that adopts it, not in the edition itself.
PORTABLE_PERMITTED: Final[Mapping[str, Rule[Permission]]] = {
    **{name: _permitted(name, PORTABLE, "portable") for name in LISTED},
    "14-60": _permitted("14-60", nec("625.44(A)", Basis.DOUBTFUL), "portable"),
}
FASTENED_PERMITTED: Final[Mapping[str, Rule[Permission]]] = {
    **{name: _permitted(name, FASTENED, "fastened") for name in LISTED},
    "14-60": _permitted("14-60", nec("625.44(B)", Basis.DOUBTFUL), "fastened"),
    "TT-30": Rule(
        Permission(
            False,
            "the letter of the clause admits 125 V receptacles up to 50 A, which TT-30 is; "
            "its use for charging is unusual",
        ),
        nec("625.44(B)", Basis.DOUBTFUL),
    ),
}

# Circuit rating, receptacle ratings allowed where there are two or more. [A]
SHARED_A: Final[Mapping[float, tuple[int, ...]]] = {
    15: (15,),
    20: (15, 20),
    30: (30,),
    40: (40, 50),
    50: (50,),
}
COVER: Final[Mapping[str, Rule[str]]] = {
    "dry": Rule("", nec("406.9")),
    "damp": Rule("a cover that is weatherproof when closed", nec("406.9(A)")),
    "wet": Rule(
        "an enclosure that is weatherproof with the plug in or out, an outlet-box hood of the "
        "extra-duty type",
        nec("406.9(B)"),
    ),
}

RECEPTACLES: Final = ReceptacleTables(
    configurations=Rule(CONFIGURATIONS, WD_6),
    portable=PORTABLE_PERMITTED,
    fastened=FASTENED_PERMITTED,
    is_single_below_allowed=Rule(False, nec("210.21(B)(1)")),
    shared_a=Rule(SHARED_A, nec("table 210.21(B)(3)")),
    # for two or more table 210.21(B)(2) prints the products, 12, 16 and 24 A; a single one is rated
    # no less than its circuit, and the circuit 125 % of the load
    continuous_ratio=Rule(0.8, nec("210.20(A), 210.21(B)")),
    cover=COVER,
    weather_resistant_upto_a=Rule(20.0, nec("406.9(A), (B)(1)")),
)
