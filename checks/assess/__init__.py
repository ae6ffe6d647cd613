"""From a record to an assessment: pure, deterministic, total."""

from checks.assess.assessor import Assessor, assess, trial
from checks.assess.model import (
    SOFTWARE,
    Assessment,
    Finding,
    Gate,
    PointSummary,
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
    "Row",
    "StationSummary",
    "assess",
    "trial",
]
