"""What is left to be done, in the order of the work: from the breaker off to the last test."""

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import groupby

from kivy.uix.widget import Widget

from checks.assess import Part, Task, work
from checks.trends import PointTrend
from checks.verdict import Verdict
from fieldapp.screens.findings import FEW, chosen, coming_row, foreseen, where, worst_first
from fieldapp.screens.guide import Guide
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.standing import standing
from fieldapp.screens.trade_phrases import row_key
from fieldapp.widgets import KeyButton, Words


class WorkScreen(Screen):
    """Each row leads to its check. Of a long list one part is open at a time."""

    def __init__(self, guide: Guide) -> None:
        super().__init__(guide)
        self._open = Part.MEND

    def fill(self) -> None:
        """List the work, part by part; what is foreseen comes with what was found."""
        walk = self.walk
        tasks = work(walk.assessment)
        parts = {part: [self._row(t) for t in those] for part, those in groupby(tasks, _part)}
        coming = [_foreseen_row(each) for each in foreseen(self.guide)]
        if coming:
            parts = {Part.MEND: worst_first([*parts.pop(Part.MEND, []), *coming])} | parts
        shown = self._open if self._open in parts else next(iter(parts), None)
        is_long = sum(map(len, parts.values())) > FEW
        self.title, self.subtitle = "Work to do", walk.visit.site.name
        body = standing(self.guide)
        for number, (part, rows) in enumerate(parts.items(), 1):
            title = f"{number}. {part}"
            if is_long and part is not shown:
                body.append(key(f"{title}: {len(rows)}", partial(self._unfold, part)))
            else:
                body += [Words(text=title, role="lead", strong=True), *self._part(part, rows)]
        if not parts:
            text = "No finding asks for work, and no check was left out with a reason."
            body.append(Words(text=text, role="lead"))
        unbegun = sum(row.entry is None for row in walk.assessment.unfinished)
        if unbegun:
            body.append(Words(text=f"Checks on the path that nobody began: {unbegun}."))
        self.put(body=body, actions=self._keys(tasks[0] if tasks else None))

    def _keys(self, first: Task | None) -> list[KeyButton]:
        """Return the ways on: the strongest begins the work."""
        if first is None:
            return [self.path_key(), main_key("Findings", lambda: self.guide.go("findings"))]
        begin = partial(chosen, self.guide, row_key(first.row))
        # what is mended is named by its remedy above, the reading that showed it is not what to do
        words = "See the first to mend" if first.part is Part.MEND else f"First: {first.row.title}"
        return [self.path_key(), main_key(words, begin)]

    def _part(self, part: Part, rows: Sequence[dict[str, str]]) -> Iterator[Widget]:
        rule = part.rule(self.walk.assessment)
        if rule:
            yield Words(text=rule, strong=True)
        lead = guarded(partial(chosen, self.guide))
        yield Rows([StandingRow(**row, chosen=lead) for row in rows])

    def _unfold(self, part: Part) -> None:
        self._open = part
        self.enter(self.of)

    def up(self) -> None:
        """Go back to the findings."""
        self.guide.go("findings")

    def _row(self, task: Task) -> dict[str, str]:
        row = task.row
        is_made = row.judgement.verdict is not Verdict.NOT_MEASURED
        return {
            "key": row_key(row),
            "title": row.title,
            "subtitle": f"{sentence(task.told)}\n{where(self.walk, row.station, row.subject)}",
            "sign": str(row.judgement.severity or "") if is_made else str(Verdict.NOT_MEASURED),
        }


def _part(task: Task) -> Part:
    return task.part


def _foreseen_row(found: PointTrend) -> dict[str, str]:
    row = coming_row(found)
    return {**row, "subtitle": f"{sentence(found.remedy)}\n{row['subtitle']}"}
