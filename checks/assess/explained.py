"""Symptoms that a proven cause explains, once it is mended and what showed it stands again."""

from collections.abc import Mapping, Sequence
from typing import Final

from checks.assess.model import Row
from checks.causes import RankedCause, Ranking, Standing, View
from checks.causes.explaining import explained as explained_by
from checks.path import subject
from checks.record import Chosen, Visit
from checks.stations import repair
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Severity, Verdict

Key = tuple[str, str]

USE: Final = "Whether it stays away, only use will show"


def explained(
    visit: Visit, rows: Sequence[Row], causes: Sequence[Ranking], found: Mapping[str, View]
) -> dict[Key, Row]:
    """Return the symptoms that no longer stand, judged anew; every other one stays as it is.

    A symptom is told, not measured, so nothing can be measured again of it. It no longer stands
    where every sign of it is made by a cause that is proven, the repair says that it is mended, and
    all that shows it mended was made again and stands. What it was as found is said with it.

    Parameters
    ----------
    visit : Visit
        The record.
    rows : sequence of Row
        Every check as it is.
    causes : sequence of Ranking
        What the fault of each charging point was, as it was found.
    found : Mapping
        By charging point, what was found.
    """
    by_key = {(r.check, r.subject): r for r in rows}
    again = {e.number for e in visit.entries if e.after_mending}
    settled: dict[Key, Row] = {}
    for ranking in causes:
        point = visit.point(ranking.point)
        done = by_key[repair.CHECK, point.id]
        if done.judgement.verdict is not Verdict.WITHIN:
            continue
        mended = [c for c in ranking.causes if _is_mended(c, by_key, ranking.point, visit)]
        for check in explained_by(found[point.id], {c.cause for c in mended}):
            key = check, subject(BY_ID[check].station, point)
            row = by_key.get(key)
            if row is not None and row.entry not in again:
                settled |= _settled(key, row, mended, _words(visit, done))
    return settled


def _is_mended(cause: RankedCause, rows: Mapping[Key, Row], point_id: str, visit: Visit) -> bool:
    """Return whether a cause is proven, and all that shows it mended was repeated and stands."""
    point = visit.point(point_id)
    keys = [(v.check, subject(BY_ID[v.check].station, point)) for v in cause.verify]
    is_repeated = all(v.is_repeated for v in cause.verify)
    stands = is_repeated and all(_stands(rows[key].judgement) for key in keys)
    return cause.standing is Standing.PROVEN and bool(keys) and stands


def _stands(judged: Judgement) -> bool:
    """Return whether a repeat is within, or what it leaves open is no more than a notice."""
    is_open = judged.verdict is Verdict.BORDERLINE and judged.severity is Severity.NOTICE
    return is_open or judged.verdict is Verdict.WITHIN


def _words(visit: Visit, done: Row) -> str:
    """Say what became of the fault, by the repair."""
    entry = next(e for e in visit.entries if e.number == done.entry)
    outcome = entry.answer("outcome")
    is_mended = isinstance(outcome, Chosen) and outcome.option == "mended"
    return "Explained and mended" if is_mended else "Explained, nothing to mend"


def _settled(key: Key, row: Row, mended: Sequence[RankedCause], said: str) -> dict[Key, Row]:
    judged = row.judgement
    if judged.verdict is not Verdict.OUTSIDE:
        return {}
    names = " and ".join(c.title[0].lower() + c.title[1:] for c in mended)
    as_found = judged.explanation[0].lower() + judged.explanation[1:]
    now = Judgement(
        verdict=Verdict.WITHIN,
        explanation=f"{said}: {names}. As found, {as_found}. {USE}",
        sources=judged.sources,
    )
    return {key: row.model_copy(update={"judgement": now})}
