"""Earlier signed visits to the site of a visit that is open."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from checks import codes
from checks.assess import assess
from checks.intake import read_visit
from checks.record import Visit
from checks.trends import Called, Seen, called, of_one_site
from fieldapp.store.listing import Listing
from fieldapp.store.visits import Store


def earlier_visits(store: Store, listing: Listing, visit: Visit) -> tuple[Seen, ...]:
    """Return the signed visits made before one to the same site, assessed as they stand.

    Parameters
    ----------
    store, listing : Store, Listing
        Where the visits are kept, and what is there.
    visit : Visit
        The visit that is open.

    Raises
    ------
    checks.errors.ChecksError
        An earlier visit can no longer be read.
    """
    before, own = datetime.fromisoformat(visit.started), called(visit)
    listed = {
        visit_id: _called(words)
        for visit_id, words in listing.summaries.items()
        if words["is_signed"] and datetime.fromisoformat(words["started"]) < before
    }
    found = [read_visit(store.load(each).visit) for each in sorted(of_one_site(own, listed))]
    here = of_one_site(own, {each.id: called(each) for each in found})
    return tuple(_seen(each) for each in found if each.id in here)


def _seen(visit: Visit) -> Seen:
    return Seen(visit, assess(visit, codes.profile(visit.code), with_set_aside=False))


def _called(words: Mapping[str, Any]) -> Called:
    """Return what a site is and was called, as the list of visits has it."""
    return frozenset((words["is_invented"], name, address) for name, address in words["called"])
