"""The outlet, by receptacle or hard-wired, and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.outlet import condition, cover, ground_fault, ground_fault_trip, receptacle

CHECKS: Final[tuple[Check, ...]] = (
    *receptacle.CHECKS,
    *condition.CHECKS,
    *cover.CHECKS,
    *ground_fault.CHECKS,
    *ground_fault_trip.CHECKS,
)
