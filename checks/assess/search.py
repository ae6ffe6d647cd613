"""What the causes may read of one charging point, from rows and gates already made."""

from collections.abc import Sequence

from checks.assess.model import PointSummary, Row
from checks.causes import Ranking, View, rank
from checks.check import Situation


def view(situation: Situation, rows: Sequence[Row]) -> View:
    """Return what the causes may read.

    Parameters
    ----------
    situation : Situation
        The charging point.
    rows : sequence of Row
        The rows of its path, judged.
    """
    return View(situation, {r.check: r.judgement for r in rows})


def search(found: View, now: View, summary: PointSummary) -> Ranking:
    """Rank the causes of one charging point's fault.

    Parameters
    ----------
    found : View
        The point as it was found, before anything was mended.
    now : View
        The point as it is.
    summary : PointSummary
        Its gates, as they are.
    """
    return rank(found, {g.state: (*g.waiting, *g.first) for g in summary.gates}, now)
