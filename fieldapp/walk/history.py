"""Earlier signed visits to the site of a visit that is open."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from checks import codes
from checks.assess import Assessment, assess
from checks.errors import NotAssessedError
from checks.intake import read_visit
from checks.record import Visit
from checks.trends import Called, Seen, called, of_one_site
from fieldapp.store.listing import Listing
from fieldapp.store.sealing import Seal
from fieldapp.store.visits import Store
from fieldapp.walk.summaries import as_signed


def earlier_visits(store: Store, listing: Listing, visit: Visit) -> tuple[Seen, ...]:
    """Return the signed visits made before one to the same site, assessed as they stand.

    One that this software fails to judge counts as it was signed.

    Parameters
    ----------
    store, listing : Store, Listing
        Where the visits are kept, and what is there.
    visit : Visit
        The visit that is open.

    Raises
    ------
    checks.errors.ChecksError
        An earlier visit can no longer be read, or judged.
    """
    before, own = datetime.fromisoformat(visit.started), called(visit)
    listed = {
        visit_id: _called(words)
        for visit_id, words in listing.summaries.items()
        if words["is_signed"] and datetime.fromisoformat(words["started"]) < before
    }
    stored = {each: store.load(each) for each in sorted(of_one_site(own, listed))}
    found = [(read_visit(each.visit), each.seal) for each in stored.values()]
    here = of_one_site(own, {visit.id: called(visit) for visit, _ in found})
    return tuple(Seen(visit, _assessed(visit, seal)) for visit, seal in found if visit.id in here)


def _assessed(visit: Visit, seal: Seal | None) -> Assessment:
    try:
        return assess(visit, codes.profile(visit.code))
    except NotAssessedError:
        signed = as_signed(seal)
        if signed is None:
            raise
        return signed


def _called(words: Mapping[str, Any]) -> Called:
    """Return what a site is and was called, as the list of visits has it."""
    return frozenset((words["is_invented"], name, address) for name, address in words["called"])
