"""Every check, along the path."""

from collections.abc import Mapping
from typing import Final

from checks.check import Check
from checks.stations import (
    adapter,
    breaker,
    charger,
    connector,
    handover,
    outlet,
    panel,
    run,
    service,
    surroundings,
    vehicle,
)

CHECKS: Final[tuple[Check, ...]] = (
    *service.CHECKS,
    *panel.CHECKS,
    *breaker.CHECKS,
    *run.CHECKS,
    *outlet.CHECKS,
    *charger.CHECKS,
    *connector.CHECKS,
    *adapter.CHECKS,
    *vehicle.CHECKS,
    *surroundings.CHECKS,
    *handover.CHECKS,
)

BY_ID: Final[Mapping[str, Check]] = {check.id: check for check in CHECKS}
