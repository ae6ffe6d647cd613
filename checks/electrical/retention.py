"""How firmly the contacts of a receptacle should hold a blade."""

from typing import Final

from checks.source import Basis, Source

# 3 lbf on a gauge with line blades for one minute, slip up to 2 mm.
LINE_CONTACT_N: Final = 13.34
GAUGED_KINDS: Final = ("5-15", "5-20", "6-15", "6-20")
LINE_CONTACT: Final = Source(
    document="UL 498", clause="sections 116 to 119, retention of blades", basis=Basis.LOOKED_UP
)

# 4 oz on a ground pin; a rule for health care, a fair sign of a worn contact anywhere.
GROUND_CONTACT_N: Final = 1.112
GROUND_CONTACT: Final = Source(
    document="NFPA 99", edition="2018", clause="6.3.3.2", basis=Basis.LOOKED_UP
)
