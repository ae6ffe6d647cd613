"""From a record to an assessment: pure, deterministic, total."""

from checks.assess.assessor import Assessor, assess, trial
from checks.assess.lockout import tag as lockout_tag
from checks.assess.mending import as_found
from checks.assess.model import (
    SOFTWARE,
    Assessment,
    Finding,
    Gate,
    PointSummary,
    Repeat,
    Row,
    StationSummary,
)

__all__ = [
    "SOFTWARE",
    "Assessment",
    "Assessor",
    "Finding",
    "Gate",
    "PointSummary",
    "Repeat",
    "Row",
    "StationSummary",
    "as_found",
    "assess",
    "lockout_tag",
    "trial",
]
