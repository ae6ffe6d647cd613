"""Leaving a check out: with its reason, and never as good."""

from typing import Final

from checks.path import subjects_at
from checks.record import NotDoneReason
from checks.stations.all import BY_ID
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.screens.trade_phrases import row_key
from fieldapp.widgets import ChoiceList, TextEntry, Words

NOT_MEASURED: Final = "It will stand as not measured, with this reason."
DANGER_STANDS: Final = "The danger that was found stands. The rest is left out, with this reason."
DANGER_NOTED: Final = (
    "What told of the danger is not there any more. That it was found goes into the note, and the "
    "check stands as not measured, with this reason."
)


class LeaveOutScreen(Screen):
    """``of`` is the check, open or not."""

    is_at_station = True

    @property
    def _is_open(self) -> bool:
        return self.walk.is_open(self.of)

    @property
    def _what_stands(self) -> str:
        """Say what becomes of it: where a danger was answered it is entered with what was found."""
        here = subjects_at(self.walk.point).values()
        each = (q for q in self.walk.half_made if q.entry.danger is not None)
        begun = next((q for q in each if q.check.id == self.of and q.entry.subject in here), None)
        if begun is None:
            return NOT_MEASURED
        return DANGER_NOTED if begun.is_danger_alone else DANGER_STANDS

    def up(self) -> None:
        """Go back to the question, or to the station where the check may not be made now."""
        if self._is_open:
            self.guide.go("check", self.of)
        else:
            self.guide.go("station", self.station or "")

    def fill(self) -> None:
        """Ask the reason; nothing is chosen beforehand."""
        self.title, self.subtitle = "Leave it out", BY_ID[self.of].title
        self._own_words = TextEntry(label="In your own words, if you like")
        self._reasons = ChoiceList(options=[(r.value, r.value.capitalize()) for r in NotDoneReason])
        done = main_key("Leave it out", self._leave_out, disabled=True)
        self._reasons.bind(selected=lambda *_: setattr(done, "disabled", False))
        self.put(
            body=(
                Words(text=self._what_stands),
                self._own_words,
                self._reasons,
            ),
            actions=(key("Go back", self.up), done),
        )

    def _leave_out(self) -> None:
        reason = NotDoneReason(self._reasons.selected)
        check = "" if self._is_open else self.of
        row = self.walk.leave_out(reason, self._own_words.text, check_id=check)
        self.guide.go("result", row_key(row))
