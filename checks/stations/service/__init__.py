"""The service and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations import group, management
from checks.stations.service import papers, rating, shared, voltage

CHECKS: Final[tuple[Check, ...]] = (
    *papers.CHECKS,
    *rating.CHECKS,
    *management.checks_of(group.SERVICE),
    *shared.CHECKS,
    *voltage.CHECKS,
)
