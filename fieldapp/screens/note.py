"""A note in the technician's own words, kept with the open check or with an entry."""

from typing import Any

from kivy.uix.widget import Widget

from checks.check import Check
from checks.intake import BY_ID
from checks.record import Entry
from checks.verdict import Judgement
from fieldapp.screens.asking import Keeper
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.walk.observed import composed, proposed_note
from fieldapp.widgets import TextEntry, Words


class NoteScreen(Screen):
    """``of`` is the check that is open, or an entry as ``check@subject@number``."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(self._keep)

    @property
    def _is_made(self) -> bool:
        return "@" in self.of

    def fill(self) -> None:
        """Show the note so far; one can be composed from what the check saw, to be edited."""
        check, entry, judged = self._noted()
        self._begun = entry
        self.title, self.subtitle = "Note", check.title
        note = entry.note if self._is_made else self.walk.note_typed
        self._entry = TextEntry(text=note, multiline=True, hint="Your own words")
        self._entry.bind(text=lambda _, text: self._keeper.typed(text))
        proposal = proposed_note(check, entry, judged)
        body: list[Widget] = [self._entry]
        if proposal:
            body.append(key("Add what was seen", lambda: self._compose(proposal)))
        else:
            text = "Once something is answered, a note can be composed from it."
            body.append(Words(text=text, tone="ink_soft"))
        if self._is_made and entry.note:
            text = "Changed, the note stays in the record as it stands now."
            body.append(Words(text=text, tone="ink_soft"))
        body += [Words(text=f"Before: {said}", tone="ink_soft") for said in entry.notes_before]
        self.put(body=body, actions=(main_key("Keep the note", self.up),))

    def _noted(self) -> tuple[Check, Entry, Judgement]:
        walk = self.walk
        if self._is_made:
            check, subject, _ = self.of.split("@")
            row = walk.assessment.row(check, subject)
            return BY_ID[check], walk.entry_of(self.of), row.judgement
        if not walk.is_open(self.of):
            walk.begin(self.of)
        return walk.check, walk.open_questions.entry, walk.preview()

    def _keep(self, text: str) -> None:
        if self._is_made:
            self.walk.note_anew(text, self.of, begun=self._begun)
        else:
            self.walk.note(text)

    def _compose(self, proposal: str) -> None:
        """Put the proposal behind what stands there, as far as there is room for it."""
        self._entry.text = composed(str(self._entry.text), proposal)

    def leave(self) -> None:
        """Keep what was written."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the check."""
        if self._is_made:
            self.guide.go("result", self.of.rpartition("@")[0])
        else:
            self.guide.go("about", self.of)
