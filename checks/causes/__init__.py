"""Service calls: causes, their evidence, how likely each is, and the next best test.

What belongs here: what a reading says about a cause. What does not: how a reading is judged, which
is the stations' work, and where the reading comes from.
"""

from checks.causes.clue import View
from checks.causes.model import (
    Ground,
    NextTest,
    Prospect,
    RankedCause,
    Ranking,
    Standing,
    Status,
    Verification,
    Weight,
)
from checks.causes.ranking import rank
from checks.causes.safety import bars
from checks.causes.words import lines

__all__ = [
    "Ground",
    "NextTest",
    "Prospect",
    "RankedCause",
    "Ranking",
    "Standing",
    "Status",
    "Verification",
    "View",
    "Weight",
    "bars",
    "lines",
    "rank",
]
