"""What changed at one site from visit to visit, and what became of what was found."""

from checks.trends.identity import Called, Seen, SiteError, called, of_one_site, plain
from checks.trends.over_visits import INTERVAL, PointTrend, Reading, trends
from checks.trends.reinspected import (
    Reinspection,
    Standing,
    reinspections,
    standing_grave,
    stands_still,
)

__all__ = [
    "INTERVAL",
    "Called",
    "PointTrend",
    "Reading",
    "Reinspection",
    "Seen",
    "SiteError",
    "Standing",
    "called",
    "of_one_site",
    "plain",
    "reinspections",
    "standing_grave",
    "stands_still",
    "trends",
]
