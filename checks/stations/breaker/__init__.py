"""The breaker and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.breaker import dead, rating, warmth
from checks.stations.torque import torque_check

CHECKS: Final[tuple[Check, ...]] = (
    *rating.CHECKS,
    *dead.CHECKS,
    torque_check("breaker.terminal_torque", "breaker"),
    *warmth.CHECKS,
)
