"""Every check, along the path."""

from collections.abc import Mapping
from typing import Final

from checks.check import Check
from checks.path import Station
from checks.stations import (
    adapter,
    breaker,
    charger,
    connector,
    handover,
    outlet,
    panel,
    repair,
    run,
    service,
    shared_site,
    surroundings,
    symptoms,
    upkeep,
    vehicle,
)

CHECKS: Final[tuple[Check, ...]] = (
    *service.CHECKS,
    *panel.CHECKS,
    *breaker.CHECKS,
    *symptoms.at(Station.BREAKER),
    *run.CHECKS,
    *outlet.CHECKS,
    *symptoms.at(Station.OUTLET),
    *charger.CHECKS,
    *symptoms.at(Station.CHARGER),
    *connector.CHECKS,
    *symptoms.at(Station.CONNECTOR),
    *adapter.CHECKS,
    *vehicle.CHECKS,
    *symptoms.at(Station.VEHICLE),
    *surroundings.CHECKS,
    *shared_site.CHECKS,
    *symptoms.at(Station.SURROUNDINGS),
    *repair.CHECKS,
    *handover.CHECKS,
    *upkeep.CHECKS,
)

BY_ID: Final[Mapping[str, Check]] = {check.id: check for check in CHECKS}
