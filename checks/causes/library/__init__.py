"""The causes of a service call, by what they make."""

from typing import Final

from checks.causes.cause import Cause
from checks.causes.library import charging, ground_fault, heat, overcurrent, panel

CAUSES: Final[tuple[Cause, ...]] = (
    *overcurrent.CAUSES,
    *ground_fault.CAUSES,
    *heat.CAUSES,
    *panel.CAUSES,
    *charging.CAUSES,
)
