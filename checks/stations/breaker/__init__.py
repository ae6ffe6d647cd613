"""The breaker and what is checked there."""

from typing import Final

from checks.check import Check
from checks.stations.breaker import dead, joints, rating, warmth
from checks.stations.torque import AT_BREAKER, torque_check

CHECKS: Final[tuple[Check, ...]] = (
    *rating.CHECKS,
    *dead.CHECKS,
    *joints.CHECKS,
    torque_check(AT_BREAKER, "breaker", in_panel=True),
    *warmth.CHECKS,
)
