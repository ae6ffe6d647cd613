"""The service and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.service import papers, rating, shared, voltage

CHECKS: Final[tuple[Check, ...]] = (
    *papers.CHECKS,
    *rating.CHECKS,
    *shared.CHECKS,
    *voltage.CHECKS,
)
