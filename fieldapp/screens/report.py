"""The signed report: open it, share it, keep a copy, go back."""

from datetime import datetime
from pathlib import Path

from fieldapp.screens.leave import leave_key
from fieldapp.screens.result import BigVerdict
from fieldapp.screens.screen import Screen, key, main_key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.screens.standing import standing, told_aside
from fieldapp.walk import forms
from fieldapp.widgets import Card, Words


class ReportScreen(Screen):
    """The report of the visit that is open and signed."""

    def fill(self) -> None:
        """Say what was signed."""
        walk = self.walk
        if walk.seal is None:
            self.guide.go("path")
            return
        self.title, self.subtitle, self.progress = "Signed report", walk.visit.site.name, 1.0
        card = Card()
        card.add_widget(BigVerdict(walk.assessment.verdict))
        signed = walk.visit.signoff
        if signed is not None:
            card.add_widget(Words(text=f"Decision: {signed.decision}", role="lead", strong=True))
            if signed.witness is not None:
                card.add_widget(Words(text=f"Witness: {signed.witness}"))
            card.add_widget(
                Words(text=f"Signed {datetime.fromisoformat(signed.at):%Y-%m-%d, %H:%M}")
            )
        self.put(
            body=(
                *standing(self.guide),
                *told_aside(walk),
                card,
                Words(
                    text="The record is closed. To correct it, amend it: a new visit names "
                    "this one.",
                ),
                key("Open the report", lambda: self.guide.device.open_file(self._path)),
                key("Keep a copy", self._keep),
                leave_key(self),
                key("Amend this visit", self._amend),
                key("All visits", lambda: self.guide.go("visits")),
            ),
            actions=(
                self.path_key(),
                main_key("Share", lambda: self.guide.device.share(self._path)),
            ),
        )

    def _amend(self) -> None:
        self.guide.desk.clear_form(forms.AMEND)
        self.guide.go("form", forms.AMEND.id)

    def _keep(self) -> None:
        where = self.guide.device.keep(self._path)
        Sheet("A copy is kept", words=(where,), accept=("Close", nothing)).open()

    @property
    def _path(self) -> Path:
        return self.guide.ledger.store.report_path(self.walk.visit.id)
