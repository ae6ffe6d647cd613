"""The record as it was found, before anything was mended on site."""

from collections.abc import Sequence

from checks.record import Chosen, Entry, Visit
from checks.stations.repair import CHECK, MENDED


def as_found(visit: Visit) -> Visit:
    """Return the record without what was made after mending.

    Of each check at each subject everything falls away from its first entry after mending on, so
    that the entry before it counts; and all of a charging point from its repair on, for it no
    longer shows the fault. Numbers of entries, not clocks, say what came first.

    Parameters
    ----------
    visit : Visit
        The record.

    Returns
    -------
    Visit
        The same object where nothing falls away.
    """
    mended: dict[tuple[str, str], int] = {}
    for entry in visit.entries:
        if entry.after_mending:
            key = entry.check, entry.subject
            mended[key] = min(entry.number, mended.get(key, entry.number))
    repaired = _repaired(visit.entries)
    kept = tuple(
        e
        for e in visit.entries
        if e.number < mended.get((e.check, e.subject), e.number + 1)
        and e.number < repaired.get(e.subject, e.number + 1)
        and not (e.check == CHECK and e.subject in repaired)
    )
    return visit if len(kept) == len(visit.entries) else visit.model_copy(update={"entries": kept})


def _repaired(entries: Sequence[Entry]) -> dict[str, int]:
    """Return the number of the repair of each charging point that is said to be mended."""
    made = sorted((e for e in entries if e.check == CHECK), key=lambda e: e.number)
    last = {e.subject: e for e in made}
    return {at: e.number for at, e in last.items() if _is_mended(e)}


def _is_mended(repair: Entry) -> bool:
    outcome = repair.answer("outcome")
    return isinstance(outcome, Chosen) and outcome.option in MENDED
