"""A mark on a photo: touch the evidence, draw outward to make the mark larger."""

from functools import partial
from typing import Final

from kivy.uix.widget import Widget

from checks.record import Mark, MarkShape
from checks.stations.all import BY_ID
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.on_disk import WalkError
from fieldapp.widgets import KeyButton, Words, theme
from fieldapp.widgets.photos import PhotoView

_HOW: Final = (
    "Touch the evidence. Draw outward from it to make the mark larger. The picture itself stays "
    "untouched."
)


class MarkScreen(Screen):
    """``of`` is whose photos, a stroke, and the photo's name."""

    is_at_station = True

    @property
    def _key(self) -> str:
        return self.of.rsplit("/", 1)[0]

    @property
    def _name(self) -> str:
        return self.of.rsplit("/", 1)[1]

    def up(self) -> None:
        """Go back to the photos."""
        self.guide.go("photos", self.of)

    def fill(self) -> None:
        """Show the photo under the finger."""
        photo = next((p for p in self.walk.photos(self._key) if p.name == self._name), None)
        if photo is None:
            raise WalkError("it was deleted", where="photo", remedy="Choose one that is there")
        self.title = "Mark what matters"
        self.subtitle = BY_ID[self.walk.entry_of(self._key).check].title
        path = self.guide.ledger.store.photos.path(photo.name)
        shape = photo.mark.shape if photo.mark else MarkShape.CIRCLE
        self._view = PhotoView(source=str(path), mark=photo.mark, shape=shape, is_markable=True)
        self._view.bind(on_marked=lambda _, mark: self._keep(mark))
        self._shapes = {s: key(str(s).capitalize(), partial(self._take, s)) for s in MarkShape}
        self._shapes_chosen(shape)
        self._away = key("Take the mark away", self._no_mark, disabled=photo.mark is None)
        body: list[Widget] = [Words(text=_HOW), self._away]
        actions: list[KeyButton] = list(self._shapes.values())
        if theme.text_scale >= LARGE_TEXT:
            body, actions = [*actions, *body], []
        self.put(body=body, dock=(self._view,), actions=[*actions, main_key("Done", self.up)])

    def _shapes_chosen(self, shape: MarkShape) -> None:
        for each, made in self._shapes.items():
            made.icon = "chosen" if each is shape else "empty"
            made.rest = "accent_tint" if each is shape else "key"

    def _take(self, shape: MarkShape) -> None:
        """Draw in another shape from now on; a mark that is there changes to it, else one comes."""
        self._shapes_chosen(shape)
        self._view.reshape(shape)

    @guarded
    def _keep(self, mark: Mark) -> None:
        self.walk.mark_photo(self._name, mark, self._key)
        self._away.disabled = False

    def _no_mark(self) -> None:
        self.walk.mark_photo(self._name, None, self._key)
        self._view.mark = None
        self._away.disabled = True
