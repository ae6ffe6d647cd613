"""NEC 2023: articles 320 to 362, the cables and raceways of a branch circuit; 250.118."""

from collections.abc import Mapping
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import GroundBounds, Metal, Rule, WiringMethod
from checks.source import Basis, Source

SIX_FEET_M: Final = 1.8
NO_METAL: Final = Rule(Metal.NONE, nec("250.118(A)"))
# The guide of the listing: conductors of SE; both they and the jacket bear the sun.
SE_GUIDE: Final = Source(
    document="UL guide information TYLZ, service-entrance cable",
    edition="2007",
    clause="as quoted by an inspector",
    basis=Basis.LOOKED_UP,
)
SE_LETTERS: Final = ("RHW", "RHW-2", "XHHW", "XHHW-2", "THWN", "THWN-2")

CABLES: Final[Mapping[str, WiringMethod]] = {
    "NM": WiringMethod("NM cable", NO_METAL, dry=nec("334.12(B)(4)")),
    "UF": WiringMethod("UF cable", NO_METAL, cover="cable"),
    "MC": WiringMethod("Metal-clad cable", Rule(Metal.LIMITED, nec("250.118(A)(10)"))),
    # its bare conductor is a wire with the circuit: 338.10(B)(2)
    "SE": WiringMethod(
        "SE cable (SER, SEU)",
        NO_METAL,
        letters=Rule(SE_LETTERS, SE_GUIDE),
        above_ground=nec("338.12(A)(2)"),
        is_sunproof=True,
    ),
    "AC": WiringMethod(
        "Armored cable (AC)",
        Rule(Metal.ARMOR, nec("250.118(A)(8), 320.100, 320.108")),
        dry=nec("320.12(2)"),
    ),
}
RACEWAYS: Final[Mapping[str, WiringMethod]] = {
    "RMC": WiringMethod(
        "Rigid or intermediate metal",
        Rule(Metal.RACEWAY, nec("250.118(A)(2), (3)")),
        cover="metal conduit",
        is_sunproof=True,
    ),
    "EMT": WiringMethod(
        "Metallic tubing (EMT)",
        Rule(Metal.RACEWAY, nec("250.118(A)(4)")),
        cover="tubing",
        is_sunproof=True,
    ),
    "PVC": WiringMethod("PVC conduit", NO_METAL, cover="tubing"),
    "FMC": WiringMethod(
        "Flexible metal conduit",
        Rule(Metal.LIMITED, nec("250.118(A)(5)")),
        dry=Source(  # an earlier edition was read
            document="NEC (NFPA 70)", edition="2011", clause="348.12(1)", basis=Basis.LOOKED_UP
        ),
        bears_damp=True,
        bounds=Rule(GroundBounds(20.0, SIX_FEET_M), nec("250.118(A)(5)")),
    ),
    # 20 A in trade sizes 3/8 and 1/2, 60 A in 3/4 to 1 1/4
    "LFMC": WiringMethod(
        "Liquidtight flexible metal",
        Rule(Metal.LIMITED, nec("250.118(A)(6)")),
        bounds=Rule(GroundBounds(60.0, SIX_FEET_M), nec("250.118(A)(6)")),
    ),
    "LFNC": WiringMethod("Liquidtight flexible plastic", NO_METAL),
    "ENT": WiringMethod("Nonmetallic tubing", NO_METAL),
}

METHODS: Final[Mapping[str, WiringMethod]] = {**CABLES, **RACEWAYS}
