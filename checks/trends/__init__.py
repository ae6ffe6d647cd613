"""What changed at the charging points of one site from visit to visit."""

from checks.trends.identity import is_same_site, plain
from checks.trends.over_visits import INTERVAL, PointTrend, Reading, Seen, SiteError, trends

__all__ = [
    "INTERVAL",
    "PointTrend",
    "Reading",
    "Seen",
    "SiteError",
    "is_same_site",
    "plain",
    "trends",
]
