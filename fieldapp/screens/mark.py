"""Marks on a photo: touch the evidence, draw outward to make a mark larger."""

from functools import partial
from typing import Final

from kivy.uix.widget import Widget

from checks.record import MARKS_MOST, Mark, MarkShape
from checks.stations.all import BY_ID
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.refused import WalkError
from fieldapp.widgets import KeyButton, KeyRow, Words, theme
from fieldapp.widgets.photos import PhotoView

_HOW: Final = (
    "Touch the evidence. Draw outward from it to make the mark larger. Touch a mark to draw it "
    "anew. The picture itself stays untouched."
)
_FULL: Final = f"A photo holds {MARKS_MOST} marks. Touch one to draw it anew, or take one away."


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
        shape = photo.marks[-1].shape if photo.marks else MarkShape.CIRCLE
        self._view = PhotoView(source=str(path), marks=photo.marks, shape=shape, is_markable=True)
        self._view.bind(on_marked=lambda _, marks: self._keep(marks))
        self._shapes = {s: key(str(s).capitalize(), partial(self._take, s)) for s in MarkShape}
        self._shapes_chosen(shape)
        self._how, keys = Words(), KeyRow()
        self._add = key("Add a mark", self._view.add)
        self._away = key("Take the last away", self._view.take_away)
        keys.add_widget(self._add)
        keys.add_widget(self._away)
        self._offer(photo.marks)
        body: list[Widget] = [self._how, keys]
        actions: list[KeyButton] = list(self._shapes.values())
        if theme.text_scale >= LARGE_TEXT:
            body, actions = [*actions, *body], []
        self.put(body=body, dock=(self._view,), actions=[*actions, main_key("Done", self.up)])

    def _shapes_chosen(self, shape: MarkShape) -> None:
        for each, made in self._shapes.items():
            made.icon = "chosen" if each is shape else "empty"
            made.rest = "accent_tint" if each is shape else "key"

    def _take(self, shape: MarkShape) -> None:
        """Draw in another shape from now on; a mark that is there keeps its own."""
        self._shapes_chosen(shape)
        self._view.shape = shape

    @guarded
    def _keep(self, marks: tuple[Mark, ...]) -> None:
        self.walk.mark_photo(self._name, marks, self._key)
        self._offer(marks)

    def _offer(self, marks: tuple[Mark, ...]) -> None:
        is_full = len(marks) == MARKS_MOST
        self._how.text = _FULL if is_full else _HOW
        self._add.disabled, self._away.disabled = is_full, not marks
