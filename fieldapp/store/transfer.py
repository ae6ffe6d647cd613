"""Visits from the store into a bundle, and from a bundle into the store."""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.store.bundle import Bundle, BundledVisit
from fieldapp.store.canonical import canonical
from fieldapp.store.errors import MissingError, StoreError
from fieldapp.store.photos import names_in
from fieldapp.store.visits import Store


@dataclass(frozen=True)
class TakenIn:
    """What became of the visits of a bundle, by visit id.

    Parameters
    ----------
    stored : tuple of str
        New here, or newer than what was here.
    same : tuple of str
        Here already.
    refused : dict
        What is here is newer, signed, different or damaged; it stays.
    """

    stored: tuple[str, ...]
    same: tuple[str, ...]
    refused: dict[str, StoreError]


def gather(store: Store, visit_ids: Iterable[str]) -> Bundle:
    """Return stored visits with their photos and signed reports; drafts stay at home.

    Raises
    ------
    MissingError, DamagedError
        A visit, a photo or a report is not there or not whole.
    """
    visits, photos = [], {}
    for visit_id in visit_ids:
        stored = store.load(visit_id)
        has_report = stored.seal is not None and stored.seal.report_sha256 is not None
        report = store.report_path(visit_id).read_bytes() if has_report else None
        visits.append(BundledVisit(stored.visit, stored.seal, report))
        for name in names_in(canonical(stored.visit)):
            photos[name] = store.photos.load(name)
    return Bundle(tuple(visits), photos)


def take_in(store: Store, bundle: Bundle) -> TakenIn:
    """Store the visits of a bundle; nothing that is signed, newer or different is replaced.

    Raises
    ------
    WriteFailedError
        The disk refused a photo; a refused visit is in the result instead.
    """
    for name, data in bundle.photos.items():
        store.photos.keep(name, data)
    stored: list[str] = []
    same: list[str] = []
    refused: dict[str, StoreError] = {}
    for bundled in bundle.visits:
        try:
            (stored if _is_stored_anew(store, bundled) else same).append(bundled.id)
        except StoreError as error:
            refused[bundled.id] = error
    return TakenIn(tuple(stored), tuple(same), refused)


def _is_stored_anew(store: Store, bundled: BundledVisit) -> bool:
    try:
        here = store.load(bundled.id)
    except MissingError:
        here = None
    if here and here.visit == bundled.visit and bundled.seal in (None, here.seal):
        return False
    if not here or here.visit != bundled.visit:
        store.save(bundled.visit)
    if bundled.seal:
        store.seal(bundled.id, bundled.seal.content, report=bundled.report)
    return True
