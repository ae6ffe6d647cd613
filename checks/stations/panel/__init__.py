"""The panel and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations import group, management
from checks.stations.panel import bond, building, dead, looking, rating

CHECKS: Final[tuple[Check, ...]] = (
    *rating.CHECKS,
    *management.checks_of(group.PANEL),
    *dead.CHECKS,
    *looking.CHECKS,
    *bond.CHECKS,
    *building.CHECKS,
)
