"""What is kept on the device: visits, photos, reports, drafts and settings, in plain files.

Belongs here: everything that reads or writes a file that must not be lost, and every door for
files from outside. Does not belong here: what a record means. Only this package knows TinyDB.
"""

from fieldapp.store.bundle import Bundle, BundledVisit, read_bundle, write_bundle
from fieldapp.store.canonical import canonical
from fieldapp.store.listing import Listing, MadeBy
from fieldapp.store.photos import read_picture
from fieldapp.store.reading import read_json_file
from fieldapp.store.sealing import Seal, record_sha256
from fieldapp.store.storage import atomic_write
from fieldapp.store.transfer import TakenIn, gather, take_in
from fieldapp.store.visits import Store, Stored

__all__ = [
    "Bundle",
    "BundledVisit",
    "Listing",
    "MadeBy",
    "Seal",
    "Store",
    "Stored",
    "TakenIn",
    "atomic_write",
    "canonical",
    "gather",
    "read_bundle",
    "read_json_file",
    "read_picture",
    "record_sha256",
    "take_in",
    "write_bundle",
]
