"""Leaving a check out: with its reason, and never as good."""

from checks.record import NotDoneReason
from fieldapp.screens.phrases import row_key
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.widgets import ChoiceList, TextEntry, Words


class LeaveOutScreen(Screen):
    """``of`` is the check that is open."""

    def up(self) -> None:
        """Go back to the question."""
        self.guide.go("check", self.of)

    def fill(self) -> None:
        """Ask the reason; nothing is chosen beforehand."""
        walk = self.walk
        if walk.questions is None or walk.questions.check.id != self.of:
            walk.begin(self.of)
        self.title, self.subtitle = "Leave it out", walk.check.title
        self._words = TextEntry(hint="In your own words, if you like")
        self._reasons = ChoiceList(options=[(r.value, r.value.capitalize()) for r in NotDoneReason])
        done = main_key("Leave it out", self._leave_out, disabled=True)
        self._reasons.bind(selected=lambda *_: setattr(done, "disabled", False))
        self.put(
            body=(
                Words(text="It will stand as not measured, with this reason."),
                self._words,
                self._reasons,
            ),
            actions=(key("Go back", self.up), done),
        )

    def _leave_out(self) -> None:
        reason = NotDoneReason(self._reasons.selected)
        row = self.walk.leave_out(reason, self._words.text)
        self.guide.go("result", row_key(row))
