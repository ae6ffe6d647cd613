"""Action levels of a temperature that was measured under load, as the trade's tables print them."""

from typing import Final

from checks.source import Basis, Source

# Printed in steps of one degree: "1 to 10", "11 to 20", "21 to 40", "more than 40". [K]
AMBIENT_PROBABLE_K: Final = 20.0
AMBIENT_MAJOR_K: Final = 40.0
# Between like parts under the same load: "1 to 3", "4 to 15", "more than 15". [K]
LIKE_POSSIBLE_K: Final = 3.0
LIKE_MAJOR_K: Final = 15.0
LEVELS: Final = Source(
    document="NETA ATS", edition="2003", clause="table 100.18", basis=Basis.LOOKED_UP
)

LEAST_LOAD_RATIO: Final = 0.4  # of the circuit's normal current
LEAST_LOAD: Final = Source(
    document="NFPA 70B", edition="2023", clause="7.4.5", basis=Basis.LOOKED_UP
)
