"""What is left to be done, in the order of the work: from the breaker off to the last test."""

from functools import partial
from itertools import groupby

from kivy.uix.widget import Widget

from checks.assess import MENDING, Part, Task, work
from checks.verdict import Verdict
from fieldapp.screens.findings import chosen, to_come, where
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.standing import standing
from fieldapp.screens.trade_phrases import row_key
from fieldapp.widgets import Words


class WorkScreen(Screen):
    """Each row leads to its check."""

    def fill(self) -> None:
        """List the work, part by part; what is foreseen comes with what was found."""
        walk = self.walk
        tasks = work(walk.assessment)
        parts = {part: [self._row(t) for t in those] for part, those in groupby(tasks, _part)}
        lead = guarded(partial(chosen, self.guide))
        foreseen = [StandingRow(**row, chosen=lead) for row in to_come(self.guide)]
        if foreseen:
            parts = {Part.MEND: parts.pop(Part.MEND, []) + foreseen} | parts
        self.title, self.subtitle = "Work in order", walk.visit.site.name
        body: list[Widget] = standing(walk)
        for number, (part, rows) in enumerate(parts.items(), 1):
            body.append(Words(text=f"{number}. {part}", role="lead", strong=True))
            if part is Part.MEND:
                body.append(Words(text=MENDING))
            body.append(Rows(rows))
        if not parts:
            text = "No finding asks for work, and no check was left out with a reason."
            body.append(Words(text=text, role="lead"))
        findings = key("Findings", lambda: self.guide.go("findings"))
        to_path = main_key("Path", lambda: self.guide.go("path"))
        self.put(body=body, actions=(findings, to_path))

    def up(self) -> None:
        """Go back to the findings."""
        self.guide.go("findings")

    def _row(self, task: Task) -> StandingRow:
        row = task.row
        is_made = row.judgement.verdict is not Verdict.NOT_MEASURED
        return StandingRow(
            title=row.title,
            subtitle=f"{sentence(task.told)}\n{where(self.walk, row.station, row.subject)}",
            sign=str(row.judgement.severity or "") if is_made else str(Verdict.NOT_MEASURED),
            key=row_key(row),
            chosen=guarded(partial(self.guide.go, "result")),
        )


def _part(task: Task) -> Part:
    return task.part
