"""What the causes may read of one charging point, from rows and gates already made."""

from collections.abc import Sequence

from checks.assess.model import PointSummary, Row
from checks.causes import Ranking, View, rank
from checks.check import Situation


def search(situation: Situation, rows: Sequence[Row], summary: PointSummary) -> Ranking:
    """Rank the causes of one charging point's fault.

    Parameters
    ----------
    situation : Situation
        The charging point.
    rows : sequence of Row
        The rows of its path, judged.
    summary : PointSummary
        Its gates.
    """
    view = View(situation, {r.check: r.judgement for r in rows})
    return rank(view, {g.state: (*g.waiting, *g.first) for g in summary.gates})
