"""The outlet, by receptacle or hard-wired, and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.outlet import (
    condition,
    cover,
    ground_fault,
    ground_fault_trip,
    loaded,
    loops,
    no_load,
    receptacle,
    temperature,
    termination,
)

# The voltages come first: of what has been measured they are the station's telling number.
CHECKS: Final[tuple[Check, ...]] = (
    *loaded.CHECKS,
    *no_load.CHECKS,
    *loops.CHECKS,
    *receptacle.CHECKS,
    *condition.CHECKS,
    *cover.CHECKS,
    *termination.CHECKS,
    *ground_fault.CHECKS,
    *ground_fault_trip.CHECKS,
    *temperature.CHECKS,
)
