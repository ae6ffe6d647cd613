"""Earlier signed visits to the site of a visit that is open."""

from datetime import datetime

from checks import codes
from checks.assess import Assessment, assess
from checks.errors import NotAssessedError
from checks.intake import read_visit
from checks.record import Visit
from checks.trends import Seen, is_same_site, plain
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
    before = datetime.fromisoformat(visit.started)
    ids = [
        visit_id
        for visit_id, words in listing.summaries.items()
        if words["is_signed"]
        and plain(words["site"]) == plain(visit.site.name)
        and datetime.fromisoformat(words["started"]) < before
    ]
    stored = [store.load(visit_id) for visit_id in ids]
    found = [(read_visit(each.visit), each.seal) for each in stored]
    return tuple(
        Seen(each, _assessed(each, seal)) for each, seal in found if is_same_site(each, visit)
    )


def _assessed(visit: Visit, seal: Seal | None) -> Assessment:
    try:
        return assess(visit, codes.profile(visit.code))
    except NotAssessedError:
        signed = as_signed(seal)
        if signed is None:
            raise
        return signed
