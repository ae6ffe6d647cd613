"""The charger, fixed or in the cord, and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.charger import (
    beside,
    cords,
    disconnect,
    fitting,
    function,
    pilot,
    plate,
    safety,
    signals,
    unit,
)

# What protects a hand comes first. Where the offered current was read it is the station's telling
# number, so it stands before the setting.
CHECKS: Final[tuple[Check, ...]] = (
    *safety.CHECKS,
    *signals.CHECKS,
    *pilot.CHECKS,
    *plate.CHECKS,
    *unit.CHECKS,
    *disconnect.CHECKS,
    *fitting.CHECKS,
    *cords.CHECKS,
    *function.CHECKS,
    *beside.CHECKS,
)
