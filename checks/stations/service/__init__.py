"""The service and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.service import rating, voltage

CHECKS: Final[tuple[Check, ...]] = (*rating.CHECKS, *voltage.CHECKS)
