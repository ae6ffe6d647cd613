"""CE Code 2021: the cables of table 19 and the raceways of section 12.

Table 19 was not read in this edition. What makers print on their cables agrees with what is
recalled of it here: NMD90 is for dry places and, concealed, for damp ones, NMWU for wet ones and
the ground at 60 °C, AC90 not for wet ones, ACWU90 and TECK90 for wet ones and the ground at 90 °C.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from checks.codes.cec_2021.conductors import TABLE_19
from checks.codes.cec_2021.source import borrowed, good_practice
from checks.codes.nec_2023 import wiring as nec_wiring
from checks.codes.profile import Metal, Rule, WiringMethod

NO_METAL: Final = good_practice(nec_wiring.NO_METAL)
# These cables hold a bonding conductor, a wire with the circuit; their armor alone is no sound one.
ARMOR: Final = good_practice(nec_wiring.CABLES["MC"].metal)


def _cable(
    name: str, words: str, metal: Rule[Metal], *, is_dry: bool = False, cover: str = ""
) -> WiringMethod:
    """Return a cable of table 19, whose name is what that table rates."""
    return WiringMethod(
        words,
        metal,
        letters=Rule((name,), TABLE_19),
        dry=TABLE_19 if is_dry else None,
        cover=cover,
    )


CABLES: Final[Mapping[str, WiringMethod]] = {
    "NMD90": _cable("NMD90", "NMD90 cable", NO_METAL, is_dry=True),
    "NMWU": _cable("NMWU", "NMWU cable", NO_METAL, cover="cable"),
    "AC90": _cable("AC90", "AC90 armored cable", ARMOR, is_dry=True),
    "ACWU90": _cable("ACWU90", "ACWU90 armored cable", ARMOR, cover="armored cable"),
    "TECK90": _cable("TECK90", "TECK90 armored cable", ARMOR, cover="armored cable"),
}

METHODS: Final[Mapping[str, WiringMethod]] = {
    **CABLES,
    **{
        name: replace(
            raceway,
            metal=good_practice(raceway.metal),
            bounds=None if raceway.bounds is None else borrowed(raceway.bounds),
        )
        for name, raceway in nec_wiring.RACEWAYS.items()
    },
}
