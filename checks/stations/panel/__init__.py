"""The panel and what is checked there."""

from typing import Final

from checks.check import Check
from checks.record import VisitKind
from checks.stations import group, management
from checks.stations.panel import bond, building, dead, looking, rating
from checks.stations.torque import AT_PANEL, torque_check

CHECKS: Final[tuple[Check, ...]] = (
    *rating.CHECKS,
    *management.checks_of(group.PANEL),
    *dead.CHECKS,
    *looking.CHECKS,
    *bond.CHECKS,
    torque_check(
        AT_PANEL,
        "panel",
        "Panel dead, locked and proved: with a torque tool bring what was remade at bar or lugs to "
        "the value on its label, and enter both. Turn no screw to see: enter whether a conductor "
        "is loose.",
        in_panel=True,
        kinds=(VisitKind.SERVICE_CALL,),
    ),
    *building.CHECKS,
)
