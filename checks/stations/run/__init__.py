"""The run from breaker to outlet and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.run import (
    alone,
    conductor,
    dead_tests,
    ground_ohms,
    grounding,
    length,
    passage,
    polarity,
    protection,
    sharing,
)

CHECKS: Final[tuple[Check, ...]] = (
    *conductor.CHECKS,
    *length.CHECKS,
    *grounding.CHECKS,
    *ground_ohms.CHECKS,
    *sharing.CHECKS,
    *dead_tests.CHECKS,
    *alone.CHECKS,
    *polarity.CHECKS,
    *protection.CHECKS,
    *passage.CHECKS,
)
