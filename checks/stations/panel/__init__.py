"""The panel and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.panel import bond, dead, looking, rating

CHECKS: Final[tuple[Check, ...]] = (
    *rating.CHECKS,
    *dead.CHECKS,
    *looking.CHECKS,
    *bond.CHECKS,
)
