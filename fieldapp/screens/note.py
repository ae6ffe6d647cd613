"""A note in the technician's own words, kept with the open check."""

from typing import Any

from kivy.uix.widget import Widget

from fieldapp.screens.asking import Keeper
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.walk.observed import proposed_note
from fieldapp.widgets import TextEntry, Words


class NoteScreen(Screen):
    """``of`` is the check that is open."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(lambda text: self.walk.note(text))

    def fill(self) -> None:
        """Show the note so far; one can be composed from what the check saw, to be edited."""
        walk = self.walk
        if not walk.is_open(self.of):
            walk.begin(self.of)
        entry = walk.open_questions.entry
        self.title, self.subtitle = "Note", walk.check.title
        self._entry = TextEntry(text=entry.note, multiline=True, hint="Your own words")
        self._entry.bind(text=lambda _, text: self._keeper.typed(text))
        proposal = proposed_note(walk.check, entry, walk.preview())
        body: list[Widget] = [self._entry]
        if proposal:
            body.append(key("Add what was seen", lambda: self._compose(proposal)))
        else:
            text = "Once something is answered, a note can be composed from it."
            body.append(Words(text=text, tone="ink_soft"))
        self.put(body=body, actions=(main_key("Keep the note", self.up),))

    def _compose(self, proposal: str) -> None:
        """Put the proposal behind what stands there; what is there once is not put twice."""
        written = str(self._entry.text).strip()
        if proposal not in written:
            self._entry.text = f"{written}\n{proposal}".strip()

    def leave(self) -> None:
        """Keep what was written."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the check."""
        self.guide.go("about", self.of)
