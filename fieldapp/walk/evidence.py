"""Photos and notes as evidence: of the open check, or of one that was made, until the sign-off.

Whose they are is said by a key: ``check@subject`` for the open check, and
``check@subject@number`` for the entry with that number.
"""

from pathlib import Path

from checks.record import PHOTOS_MOST, Entry, Mark, Photo, Place
from fieldapp.store.photos import read_picture
from fieldapp.walk.drafts import key_of
from fieldapp.walk.open_check import OpenCheck
from fieldapp.walk.refused import WalkError
from fieldapp.walk.words import worded


def photos_key(entry: Entry, *, is_made: bool) -> str:
    """Name whose photos are meant: those of an entry, or of the check that is open."""
    key = f"{entry.check}@{entry.subject}"
    return f"{key}@{entry.number}" if is_made else key


class Evidence(OpenCheck):
    """Photos with their marks; a picture is never changed, and what is said about it is data."""

    def entry_of(self, key: str) -> Entry:
        """Return the entry that holds the photos; the open check's is still being made.

        Raises
        ------
        WalkError
            That check is open no more, or its entry was taken back.
        """
        check, subject, *number = key.split("@")
        if not number and self.questions is not None and key_of(self.questions) == key:
            return self.questions.entry
        found = (e for e in self.visit.entries if [str(e.number)] == number)
        entry = next((e for e in found if (e.check, e.subject) == (check, subject)), None)
        if entry is None:
            raise WalkError(
                "the check that it belongs to is not open",
                where="photo",
                remedy="Open that check and take the photo again",
            )
        return entry

    def photos(self, key: str) -> tuple[Photo, ...]:
        """Return the photos in their order."""
        return self.entry_of(key).photos

    # -- a new one -------------------------------------------------------------------------------
    def expect_photo(self, key: str) -> None:
        """Remember on disk what a photo is for, before the camera comes to the front."""
        self.entry_of(key)
        self.awaits_photo = key
        self._save_draft()

    def expect_none(self) -> None:
        """Forget it: the person turned back, or the picture was refused."""
        if self.awaits_photo:
            self.awaits_photo = ""
            self._save_draft()

    def store_photo(self, taken: Path) -> str:
        """Make a picture small and keep it with its original; any thread may do this.

        Raises
        ------
        checks.errors.ChecksError
            It is no whole picture of a decent size, or the disk refused.
        """
        return self._store.add_photo(self.visit.id, read_picture(taken))

    def attach_photo(self, name: str, key: str) -> None:
        """Put a stored photo last.

        Raises
        ------
        WalkError
            It is there already, there are too many, or its check is open no more.
        """
        photos = self.photos(key)
        if name in [p.name for p in photos] or len(photos) >= PHOTOS_MOST:
            is_twice = len(photos) < PHOTOS_MOST
            raise WalkError(
                "this picture is here already" if is_twice else f"{PHOTOS_MOST} are the most",
                where="photo",
                remedy="Take another one" if is_twice else "Delete one that shows less",
            )
        self.awaits_photo = ""
        self._keep_photos(key, (*photos, Photo(name=name, at=self._stamp())))

    # -- those that are there --------------------------------------------------------------------
    def move_photo(self, name: str, by: int, key: str) -> None:
        """Move a photo by so many places; past an end it stays at that end."""
        photos = list(self.photos(key))
        here = self._index(name, key)
        photos.insert(min(len(photos) - 1, max(0, here + by)), photos.pop(here))
        self._keep_photos(key, tuple(photos))

    def mark_photo(self, name: str, marks: tuple[Mark, ...], key: str) -> None:
        """Point at the evidence on a photo, or at nothing."""
        self._change_photo(name, key, marks=marks)

    def delete_photo(self, name: str, key: str) -> tuple[Photo, int]:
        """Take a photo out; return it and its place, for `put_back_photo`."""
        photos, here = self.photos(key), self._index(name, key)
        self._keep_photos(key, photos[:here] + photos[here + 1 :])
        return photos[here], here

    def put_back_photo(self, photo: Photo, place: int, key: str) -> None:
        """Undo a deletion."""
        photos = self.photos(key)
        self._keep_photos(key, (*photos[:place], photo, *photos[place:]))

    # -- where it was taken ----------------------------------------------------------------------
    def place_offered(self, name: str) -> Place | None:
        """Return where the camera says that a photo was taken; None where it did not say."""
        told = self._store.originals.place(self.visit.id, name)
        return Place(latitude_deg=told[0], longitude_deg=told[1]) if told is not None else None

    def keep_place(self, name: str, place: Place | None, key: str) -> None:
        """Record where a photo was taken, for it was asked for; None forgets it again."""
        self._change_photo(name, key, place=place)

    # -- the note ----------------------------------------------------------------------------------
    def note_anew(self, text: str, key: str, *, begun: Entry) -> None:
        """Write the note of a made entry anew; what it said before stays in the record.

        Parameters
        ----------
        text : str
            The note.
        key : str
            Which entry, as `photos_key` names it.
        begun : Entry
            The entry as it was when the writing began.

        Raises
        ------
        WalkError
            It is too long.
        """
        said, kept = worded(text, "Note"), begun.notes_before
        if begun.note and said != begun.note:
            kept = (*kept, begun.note)
        self._change_entry(self.entry_of(key), note=said, notes_before=kept)

    # -- changes ---------------------------------------------------------------------------------
    def _index(self, name: str, key: str) -> int:
        names = [p.name for p in self.photos(key)]
        if name not in names:
            raise WalkError("it was deleted", where="photo", remedy="Choose one that is there")
        return names.index(name)

    def _change_photo(self, name: str, key: str, **changed: object) -> None:
        photos = list(self.photos(key))
        here = self._index(name, key)
        photos[here] = photos[here].model_copy(update=changed)
        self._keep_photos(key, tuple(photos))

    def _keep_photos(self, key: str, photos: tuple[Photo, ...]) -> None:
        entry = self.entry_of(key)
        if self.questions is not None and entry is self.questions.entry:
            self._keep_entry(photos=photos)
            return
        self._change_entry(entry, photos=photos)

    def _change_entry(self, entry: Entry, **changed: object) -> None:
        made = entry.model_copy(update=changed)
        self._change(entries=tuple(made if e is entry else e for e in self.visit.entries))
