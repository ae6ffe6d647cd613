"""The record as it was found, before anything was mended on site."""

from checks.record import Visit


def as_found(visit: Visit) -> Visit:
    """Return the record without what was made again after mending.

    Of each check at each subject everything falls away from its first entry after mending on, so
    that the entry before it counts: numbers of entries, not clocks, say what came first.

    Parameters
    ----------
    visit : Visit
        The record.

    Returns
    -------
    Visit
        The same object where nothing was made again.
    """
    mended: dict[tuple[str, str], int] = {}
    for entry in visit.entries:
        if entry.after_mending:
            key = entry.check, entry.subject
            mended[key] = min(entry.number, mended.get(key, entry.number))
    if not mended:
        return visit
    kept = tuple(
        e for e in visit.entries if e.number < mended.get((e.check, e.subject), e.number + 1)
    )
    return visit.model_copy(update={"entries": kept})
