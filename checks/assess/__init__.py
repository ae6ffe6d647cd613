"""From a record to an assessment: pure, deterministic, total."""

from checks.assess.aside import is_judged_anew, lost
from checks.assess.assessor import Assessor, assess, trial
from checks.assess.card import Card, Kind, Lacking, LeaveBehinds
from checks.assess.energy import Expected, Refused, expected
from checks.assess.leave_behinds import leave_behinds
from checks.assess.mending import as_found
from checks.assess.model import (
    Assessment,
    Finding,
    Gate,
    PointSummary,
    Repeat,
    Row,
    SetAside,
    StationSummary,
)
from checks.assess.night import NightPlan, nights, notes
from checks.assess.use import (
    NotProved,
    each_set_aside,
    kept_off,
    meaning,
    not_proved,
    set_aside,
    told_aside,
    use,
)
from checks.assess.work import CLEARED, MENDING, Part, Task, work

__all__ = [
    "CLEARED",
    "MENDING",
    "Assessment",
    "Assessor",
    "Card",
    "Expected",
    "Finding",
    "Gate",
    "Kind",
    "Lacking",
    "LeaveBehinds",
    "NightPlan",
    "NotProved",
    "Part",
    "PointSummary",
    "Refused",
    "Repeat",
    "Row",
    "SetAside",
    "StationSummary",
    "Task",
    "as_found",
    "assess",
    "each_set_aside",
    "expected",
    "is_judged_anew",
    "kept_off",
    "leave_behinds",
    "lost",
    "meaning",
    "nights",
    "not_proved",
    "notes",
    "set_aside",
    "told_aside",
    "trial",
    "use",
    "work",
]
