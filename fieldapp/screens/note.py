"""A note in the technician's own words, kept with the open check."""

from typing import Any

from fieldapp.screens.asking import Keeper
from fieldapp.screens.screen import Screen, main_key
from fieldapp.widgets import TextEntry


class NoteScreen(Screen):
    """``of`` is the check that is open."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(lambda text: self.walk.note(text))

    def fill(self) -> None:
        """Show the note so far."""
        walk = self.walk
        if walk.questions is None or walk.questions.check.id != self.of:
            walk.begin(self.of)
        assert walk.questions is not None
        self.title, self.subtitle = "Note", walk.check.title
        entry = TextEntry(text=walk.questions.entry.note, multiline=True, hint="Your own words")
        entry.bind(text=lambda _, text: self._keeper.typed(text))
        self.put(body=(entry,), actions=(main_key("Keep the note", self.up),))

    def leave(self) -> None:
        """Keep what was written."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the check."""
        self.guide.go("about", self.of)
