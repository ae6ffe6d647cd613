"""The findings: worst first, then along the path."""

from checks.assess import Finding
from checks.path import Station
from fieldapp.screens.phrases import row_key
from fieldapp.screens.screen import Screen
from fieldapp.walk.visit import Walk
from fieldapp.widgets import RowList, Words


class FindingsScreen(Screen):
    """Every outside or borderline judgement of the visit."""

    def fill(self) -> None:
        """List them."""
        findings = self.walk.assessment.findings
        self.title = "Findings"
        self.subtitle = f"{len(findings)} · {self.walk.visit.site.name}"
        self.scrolls = not findings
        if not findings:
            text = "No finding so far. What was not measured is no finding, and not good either."
            self.put(body=(Words(text=text, role="lead"),))
            return
        rows = RowList()
        rows.show([_row(self.walk, f) for f in findings], self._chosen)
        self.put(body=(rows,))

    def _chosen(self, key: str) -> None:
        self.guide.go("result", key)


def _row(walk: Walk, finding: Finding) -> dict[str, str]:
    row = finding.row
    judged = row.judgement
    words = [str(finding.severity), str(judged.verdict)]
    if judged.measured is not None:
        words.append(str(judged.measured))
    words.append(where(walk, row.station, row.subject))
    return {
        "key": row_key(row),
        "title": row.title,
        "subtitle": " · ".join(words),
        "sign": str(finding.severity),
    }


def where(walk: Walk, station: Station, subject: str) -> str:
    """Say at which station of which panel or point."""
    names = {p.id: p.name for p in walk.visit.panels} | {p.id: p.name for p in walk.visit.points}
    return " · ".join(x for x in (station.value.capitalize(), names.get(subject, "")) if x)
