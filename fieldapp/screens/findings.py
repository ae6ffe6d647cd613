"""The findings: worst first, then along the path."""

from functools import partial
from typing import Final

from checks.assess import Finding, each_set_aside, kept_off
from checks.path import Station, title
from checks.trends import PointTrend
from checks.verdict import Severity
from fieldapp.screens.guide import Guide
from fieldapp.screens.onward import to_work
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded
from fieldapp.screens.trade_phrases import row_key
from fieldapp.walk.visit import Walk
from fieldapp.widgets import KeyButton, RowList, Words

_TREND, _CAUSES, _ASIDE = "trend", "causes", "aside"
FEW: Final = 60  # more are made as they are scrolled to
_WORST_FIRST: Final = [str(s) for s in Severity]


class FindingsScreen(Screen):
    """Every outside or borderline judgement of the visit."""

    def fill(self) -> None:
        """List them."""
        coming = [coming_row(each) for each in foreseen(self.guide)]
        count = found_count(self.walk, len(coming))
        self.title = "Findings"
        self.subtitle = f"{count} · {self.walk.visit.site.name}"
        if not count:
            self.scrolls = True
            text = (
                "No finding so far. What was not measured is no finding, and not shown to be good "
                "either."
            )
            self.put(body=(Words(text=text, role="lead"),))
            return
        found = [_row(self.walk, f) for f in self.walk.assessment.findings]
        listed = worst_first([*_kept_off(self.walk), *_set_aside(self.walk), *found, *coming])
        self.scrolls = self.is_flat and count <= FEW
        if self.scrolls:
            lead = guarded(partial(chosen, self.guide))
            rows = Rows([StandingRow(**row, chosen=lead) for row in listed])
            self.put(body=(rows,), actions=self._keys())
        else:
            long = RowList()
            long.show(listed, partial(chosen, self.guide))
            self.put(body=(long,), actions=self._keys())

    def _keys(self) -> tuple[KeyButton, ...]:
        return self.path_key(), to_work(self.guide)

    def room_changed(self) -> None:
        """List them side by side on a flat window."""
        self.fill()


def chosen(guide: Guide, key: str) -> None:
    """Go to what a row stands for."""
    check, _, point = key.partition("@")
    if check == _TREND:
        guide.go("trends", point)
    elif check == _CAUSES:
        guide.open_walk.go_to_point(point)
        guide.go("causes")
    elif check == _ASIDE:
        guide.go("facts")
    else:
        guide.go("result", key)


def found_count(walk: Walk, coming: int) -> int:
    """Count what the list of findings holds, with so many that are met before the next visit."""
    found = walk.assessment
    return len(found.findings) + coming + len(kept_off(found)) + len(found.set_aside)


def _set_aside(walk: Walk) -> list[dict[str, str]]:
    """Return what was found and set aside by a correction; it leads to what is installed."""
    found = walk.assessment
    said = each_set_aside(walk.visit, found)
    return [
        {
            "key": _ASIDE,
            "title": f"Set aside: {aside.finding.row.title}",
            "subtitle": sentence(words),
            "sign": str(aside.severity),
        }
        for aside, words in zip(found.set_aside, said, strict=True)
    ]


def _kept_off(walk: Walk) -> list[dict[str, str]]:
    """Return what keeps a circuit off on a service call: no finding, and as grave as one."""
    return [
        {
            "key": f"{_CAUSES}@{ranking.point}",
            "title": sentence(why),
            "subtitle": ranking.name,
            "sign": str(Severity.DANGER),
        }
        for ranking in walk.assessment.causes
        for why in ranking.barred
    ]


def worst_first(rows: list[dict[str, str]]) -> list[dict[str, str]]:
    """Return rows in the order of their severities; those of one severity as they stand."""
    return sorted(rows, key=lambda row: _WORST_FIRST.index(row["sign"]))


def foreseen(guide: Guide) -> list[PointTrend]:
    """Return what meets a limit before the next visit, if it goes on."""
    return [t for t in guide.desk.trends(guide.open_walk) if t.severity is not None]


def _row(walk: Walk, finding: Finding) -> dict[str, str]:
    row = finding.row
    said = row.judgement.explanation.partition(". ")[0]
    words = f"{finding.severity} · {row.judgement.verdict}"
    return {
        "key": row_key(row),
        "title": row.title,
        "subtitle": f"{words}\n{sentence(said)}\n{where(walk, row.station, row.subject)}",
        "sign": str(finding.severity),
    }


def coming_row(found: PointTrend) -> dict[str, str]:
    """Return the row of a limit that is met before the next visit, if it goes on."""
    words = (str(found.severity), f"{found.of}, if it goes on: {found.crossing[:7]}", found.name)
    return {
        "key": f"{_TREND}@{found.point}",
        "title": found.title,
        "subtitle": " · ".join(words),
        "sign": str(found.severity),
    }


def where(walk: Walk, station: Station, subject: str) -> str:
    """Say at which station of which panel or point."""
    names = {p.id: p.name for p in walk.visit.panels} | {p.id: p.name for p in walk.visit.points}
    point = next((p for p in walk.visit.points if p.id == subject), None)
    return " · ".join(x for x in (title(station, point), names.get(subject, "")) if x)
