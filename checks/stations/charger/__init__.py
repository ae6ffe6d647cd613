"""The charger, fixed or in the cord, and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.charger import (
    beside,
    cords,
    fitting,
    function,
    pilot,
    plate,
    safety,
    signals,
    unit,
)

# The offered current comes first: where it was read it is the station's telling number.
CHECKS: Final[tuple[Check, ...]] = (
    *signals.CHECKS,
    *pilot.CHECKS,
    *safety.CHECKS,
    *plate.CHECKS,
    *unit.CHECKS,
    *fitting.CHECKS,
    *cords.CHECKS,
    *function.CHECKS,
    *beside.CHECKS,
)
