"""The charger and what is checked there."""

from typing import Final

from checks.check import Check

CHECKS: Final[tuple[Check, ...]] = ()
