"""Earlier signed visits to the site of a visit that is open."""

from datetime import datetime

from checks import codes
from checks.assess import assess
from checks.intake import read_visit
from checks.record import Visit
from checks.trends import Seen, is_same_site, plain
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
    before = datetime.fromisoformat(visit.started)
    ids = [
        visit_id
        for visit_id, words in listing.summaries.items()
        if words["is_signed"]
        and plain(words["site"]) == plain(visit.site.name)
        and datetime.fromisoformat(words["started"]) < before
    ]
    found = [read_visit(store.load(visit_id).visit) for visit_id in ids]
    return tuple(
        Seen(each, assess(each, codes.profile(each.code)))
        for each in found
        if is_same_site(each, visit)
    )
