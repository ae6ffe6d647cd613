"""From a record to an assessment: pure, deterministic, total."""

from checks.assess.assessor import Assessor, assess, trial
from checks.assess.card import Card, Kind, Lacking, LeaveBehinds
from checks.assess.leave_behinds import leave_behinds
from checks.assess.mending import as_found
from checks.assess.model import (
    Assessment,
    Finding,
    Gate,
    PointSummary,
    Repeat,
    Row,
    StationSummary,
)
from checks.assess.use import meaning, use
from checks.assess.work import CLEARED, MENDING, Part, Task, work

__all__ = [
    "CLEARED",
    "MENDING",
    "Assessment",
    "Assessor",
    "Card",
    "Finding",
    "Gate",
    "Kind",
    "Lacking",
    "LeaveBehinds",
    "Part",
    "PointSummary",
    "Repeat",
    "Row",
    "StationSummary",
    "Task",
    "as_found",
    "assess",
    "leave_behinds",
    "meaning",
    "trial",
    "use",
    "work",
]
