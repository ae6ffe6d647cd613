"""The way to a check's photos, and a row of them in small, for any screen."""

from collections.abc import Callable, Sequence

from checks.errors import ChecksError
from checks.record import Photo
from fieldapp.screens.guide import Guide
from fieldapp.screens.screen import guarded, key
from fieldapp.widgets import Flanked, KeyButton
from fieldapp.widgets.photos import PhotoKey, PhotoTile, TileRow


def with_photos(
    beside: KeyButton, guide: Guide, of: str, count: int, *, is_after: bool = False
) -> Flanked:
    """Put the key to the photos beside a key: before a main one, after any other."""
    small = PhotoKey(count=count)
    small.bind(on_release=lambda *_: guarded(lambda: guide.go("photos", of))())
    return Flanked(small, beside, is_after=is_after)


def to_photos(guide: Guide, of: str, count: int) -> KeyButton:
    """Return a key of its own to the photos."""
    text = f"Photos ({count})" if count else "Photos"
    return key(text, lambda: guide.go("photos", of), icon="camera")


def tiles(
    guide: Guide, photos: Sequence[Photo], choose: Callable[[str], None], chosen: str = ""
) -> TileRow:
    """Return the photos in small; ``choose`` gets the name of the one that is touched."""
    row = TileRow()
    for number, photo in enumerate(photos, 1):
        tile = PhotoTile(
            text=f"Photo {number}",
            source=_small(guide, photo.name),
            marks=photo.marks,
            is_chosen=photo.name == chosen,
        )
        tile.bind(on_release=lambda _, name=photo.name: guarded(lambda: choose(name))())
        row.add_widget(tile)
    return row


def _small(guide: Guide, name: str) -> str:
    """Return the file of a small copy; empty where there is none, and the large view says why."""
    try:
        return str(guide.ledger.store.photos.thumbnail(name))
    except ChecksError:
        return ""
