"""The photos of one check: what to take, those that are there, and what is said about each."""

from datetime import datetime

from kivy.uix.widget import Widget

from checks.check import Check
from checks.errors import ChecksError
from checks.record import Entry, Photo
from fieldapp.screens.evidence import tiles
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.store.errors import MissingError
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.observed import STAY_BACK, is_near_live_parts, to_photograph
from fieldapp.widgets import Card, KeyButton, KeyRow, Message, SeverityBanner, Words, theme
from fieldapp.widgets.photos import PhotoView


class PhotosScreen(Screen):
    """``of`` says whose: ``check@subject`` of the open check, with ``@number`` of an entry.

    After a stroke it may name one of them.
    """

    is_at_station = True

    _chosen = ""

    @property
    def _key(self) -> str:
        return self.of.split("/", 1)[0]

    def enter(self, of: str) -> None:
        """Come up with the photo that is named, or with the first."""
        self._chosen = of.partition("/")[2]
        super().enter(of)

    def up(self) -> None:
        """Go back to the question, or to the result."""
        check, subject, *number = self._key.split("@")
        if number:
            self.guide.go("result", f"{check}@{subject}")
        else:
            self.guide.go("check", check)

    def photos_changed(self, newest: str = "") -> None:
        """Show what came in."""
        if newest:
            self._chosen = newest
        self.fill()

    def fill(self) -> None:
        """Show the photos, or what to take."""
        entry = self.walk.entry_of(self._key)
        check = self.walk.declared(entry)
        self.title, self.subtitle = "Photos", check.title
        if not entry.photos:
            self.put(body=self._to_take(check, entry), actions=self._keys())
            return
        at = next((i for i, p in enumerate(entry.photos) if p.name == self._chosen), 0)
        photo = entry.photos[at]
        self.subtitle = f"{check.title} · {at + 1} of {len(entry.photos)}"
        strip, about = self._strip(entry, photo), self._about(photo, at, len(entry.photos))
        large = self._large(photo)
        if theme.text_scale >= LARGE_TEXT:
            self.put(body=[*strip, *large, *about], actions=self._keys())
        else:
            self.put(body=[*strip, *about], dock=large, actions=self._keys())

    def _to_take(self, check: Check, entry: Entry) -> list[Widget]:
        card = Card()
        card.add_widget(Words(text="No photo yet. What to show", strong=True))
        for line in to_photograph(check, entry):
            card.add_widget(Words(text=line))
        if self.guide.camera.is_busy:
            card.add_widget(Words(text="A photo is being kept.", tone="ink_soft"))
        near = is_near_live_parts(check) and not self.walk.is_signed
        return [*([SeverityBanner(severity="warning", text=STAY_BACK)] if near else []), card]

    def _strip(self, entry: Entry, photo: Photo) -> list[Widget]:
        row = tiles(self.guide, entry.photos, self._choose, photo.name)
        busy = self.guide.camera.is_busy
        return [row, *([Words(text="A photo is being kept.", tone="ink_soft")] if busy else [])]

    def _large(self, photo: Photo) -> list[Widget]:
        photos = self.guide.ledger.store.photos
        try:
            photos.load(photo.name)
        except ChecksError as error:
            return [Message(text=f"This photo {error.problem}.")]
        return [PhotoView(source=str(photos.path(photo.name)), marks=photo.marks)]

    def _about(self, photo: Photo, at: int, count: int) -> list[Widget]:
        taken = Words(text=f"Added {datetime.fromisoformat(photo.at):%H:%M}", tone="ink_soft")
        if self.walk.is_signed:
            return [taken]
        name, row, more = photo.name, KeyRow(), KeyRow()
        row.add_widget(key("Mark", lambda: self.guide.go("mark", f"{self._key}/{name}")))
        row.add_widget(key("Move left", lambda: self._move(name, -1), disabled=at == 0))
        row.add_widget(key("Move right", lambda: self._move(name, 1), disabled=at == count - 1))
        more.add_widget(key("Delete", lambda: self._delete(name)))
        offered = self._original(photo)
        for made in offered[:1]:
            more.add_widget(made)
        if offered:
            text = (
                f"{taken.text}. The original also holds what the camera wrote, such as its place."
            )
            taken.text = text
        return [row, more, *offered[1:], taken]

    # -- what is done with one -------------------------------------------------------------------
    def _choose(self, name: str) -> None:
        self._chosen = name
        self.fill()

    def _move(self, name: str, by: int) -> None:
        self._chosen = name
        self.walk.move_photo(name, by, self._key)
        self.fill()

    def _delete(self, name: str) -> None:
        photo, place = self.walk.delete_photo(name, self._key)
        left = self.walk.photos(self._key)
        self._chosen = left[min(place, len(left) - 1)].name if left else ""
        self.fill()
        of = self._key

        @guarded
        def put_back() -> None:
            self.walk.put_back_photo(photo, place, of)
            self._chosen = photo.name
            self.fill()

        self.offer_undo("Photo deleted", put_back)

    def _original(self, photo: Photo) -> list[KeyButton]:
        """Return what can be done while the original is there: share it, keep its place."""
        store, visit = self.guide.ledger.store, self.walk.visit.id
        try:
            original = store.originals.path(visit, photo.name)
        except MissingError:
            return []
        keys = [key("Share the original", lambda: self.guide.device.share(original))]
        if photo.place is not None:
            keys.append(key("Forget where it was taken", lambda: self._keep_place(photo)))
        elif self.walk.place_offered(photo.name) is not None:
            keys.append(key("Record where it was taken", lambda: self._keep_place(photo)))
        return keys

    def _keep_place(self, photo: Photo) -> None:
        place = None if photo.place else self.walk.place_offered(photo.name)
        self.walk.keep_place(photo.name, place, self._key)
        self.fill()

    # -- more of them ----------------------------------------------------------------------------
    def _keys(self) -> list[KeyButton]:
        if self.walk.is_signed:
            return [main_key("Back to the result", self.up)]
        camera, busy = self.guide.camera, self.guide.camera.is_busy
        return [
            key("Choose a file", lambda: camera.take(self._key, from_file=True), disabled=busy),
            main_key("Take a photo", lambda: camera.take(self._key), disabled=busy),
        ]
