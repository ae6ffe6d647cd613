"""What in a record is a person's own words."""

from collections.abc import Iterator

from checks.record.entry import Entry, Worded
from checks.record.visit import Visit


def own_words(visit: Visit) -> frozenset[str]:
    """Return the names, addresses, notes and answers that people gave in words of their own.

    Whoever shows a record in another language leaves these as they were written.
    """
    found = {*_of_people(visit), *(words for e in visit.entries for words in _of_entry(e))}
    return frozenset(filter(None, map(str.strip, found)))


def _of_people(visit: Visit) -> Iterator[str]:
    who, where = visit.technician, visit.site
    yield from (who.name, who.license_number, who.company)
    for site in (where, *(c.site for c in visit.corrections if c.site is not None)):
        yield from (site.name, site.address, site.owner, site.authority, site.permit_number)
    panels = (*visit.panels, *(p for c in visit.corrections for p in c.panels))
    points = (*visit.points, *(p for c in visit.corrections for p in c.points))
    yield from (p.name for p in panels)
    yield from (p.name for p in points)
    yield from (s.brought_by for s in visit.states)
    if visit.amends is not None:
        yield visit.amends.what
    if visit.signoff is not None and visit.signoff.witness is not None:
        yield from (visit.signoff.witness.name, visit.signoff.witness.why)


def _of_entry(entry: Entry) -> Iterator[str]:
    yield entry.note
    yield from entry.notes_before
    yield from (a.text for a in entry.answers if isinstance(a, Worded))
    if entry.not_done is not None:
        yield entry.not_done.text
